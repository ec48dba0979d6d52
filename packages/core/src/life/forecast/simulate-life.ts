import { makeNoise, type Noise } from '../../numerics/index.js';
import { restingStates } from '../../records/index.js';
import type { FamilyMember } from '../models/model-family.js';
import { ageAtRise, foldSurface, lossAt, timeOfLoss, timeOfPowers } from './ageing.kernel.js';
import { type Draw, drawDeviate, redraw, typicalDraw } from './draw-pack.js';
import { type ModelSpread, modelSpread, mostDeviate, usualDoubt } from './draw-spread.js';
import type { PreparedLife } from './forecast-input.js';
import { type RateTable, type TableBox, tabulateRates } from './rate-table.js';

/** Loss at which a pack counts as worn out. @source common practice, no source: 80 % of the initial capacity, as vehicle tests have it */
export const endLoss = 0.2;
/** Longest life that is told apart; beyond it an answer is "more than". */
export const longestLife_years = 100;
const shortestLife_years = 1 / 365;
/** Times per year at which a course is noted. */
const steps_per_year = 2;

/** What the draws gave, one column for each draw, for one set-up. */
export interface SetupDraws {
  /** Until the weakest cell has lost a fifth. */
  readonly years: Float64Array;
  readonly cellYears: readonly Float64Array[];
  /** Capacity of the pack, that of its weakest cell, at each time; and by how much its best cell is ahead. */
  readonly capacity: readonly Float64Array[];
  readonly ahead: readonly Float64Array[];
  /** When swelling has used the gap up, where there is one. */
  readonly closes: Float64Array | null;
}

export interface SimulatedLife {
  readonly family: readonly FamilyMember[];
  /** Years at which the courses are noted. */
  readonly times: readonly number[];
  /** Model of each draw, and how much more or less it was used than the duty says. */
  readonly modelOf: Uint8Array;
  readonly hours: Float64Array;
  readonly setups: readonly SetupDraws[];
}

/**
 * Draws packs, uses and temperatures at random and ages each set-up in all of them.
 *
 * Every set-up meets the same packs and uses, so that what they differ by is not drowned in what they share. Models take turns, each as
 * often as the others. A year's ages repeat from year to year and are spread evenly within it: exact at whole years. More hours of use mean
 * more of the same cycles, not deeper ones.
 */
export function simulateLife(prepared: PreparedLife, family: readonly FamilyMember[]): SimulatedLife {
  return new Simulation(prepared, family).run();
}

/** The laws of a model's losses in one draw. */
interface Law {
  readonly factors: Float64Array;
  readonly exponents: Float64Array;
  readonly other: (mechanism: number, age: number) => number;
  /** True where each is a power of the age, so that its parts need not be worked out again at every time. */
  readonly isPower: boolean;
}

class Simulation {
  private readonly prepared: PreparedLife;
  private readonly family: readonly FamilyMember[];
  private readonly noise: Noise;
  private readonly draws: number;
  private readonly cells: number;
  private readonly states: number;
  private readonly spread: ModelSpread;
  private readonly box: TableBox;
  private readonly tables: readonly RateTable[];
  private readonly times: readonly number[];
  /** Ages of a first year in the first set-up, per model and mechanism: where a bend turns. */
  private readonly firstYears: readonly Float64Array[];
  private readonly isRest: readonly boolean[];
  private readonly used_h: number;
  /** Surfaces of the model at hand at the energy at hand. */
  private readonly folded: Float64Array;
  private readonly draw: Draw;
  /** Of power laws: what each loses of each cell in a year, and the times to its exponent. */
  private readonly yearly: Float64Array;
  private readonly powers: Float64Array;

  constructor(prepared: PreparedLife, family: readonly FamilyMember[]) {
    const { input, condensed } = prepared;
    this.prepared = prepared;
    this.family = family;
    this.noise = makeNoise(input.seed ?? 20_260);
    this.draws = input.draws ?? 10_000;
    this.cells = input.pack.series;
    this.states = condensed.states.length;
    this.spread = input.spread ?? modelSpread;
    this.box = boxOf(prepared, this.spread);
    this.tables = family.map((member) => tabulateRates(member, condensed, this.box));
    this.times = Array.from(
      { length: steps_per_year * (input.horizon_years ?? 5) + 1 },
      (_, i) => i / steps_per_year,
    );
    this.isRest = condensed.states.map((state) => (restingStates as readonly string[]).includes(state));
    this.used_h = condensed.hours.reduce((sum, h, i) => sum + (this.isRest[i] ? 0 : h), 0);
    const most = Math.max(...family.map((each) => each.capacity.length));
    this.folded = new Float64Array(16 * this.states * most);
    this.yearly = new Float64Array(most * this.cells);
    this.powers = new Float64Array(most * this.times.length);
    this.draw = typicalDraw(this.cells);
    this.firstYears = family.map((member, index) => {
      this.draw.member = index;
      this.fold();
      const ages = new Float64Array(member.capacity.length * this.cells);
      this.ageSetup(0, 0, ages);
      return ages.subarray(0, member.capacity.length);
    });
  }

  run(): SimulatedLife {
    const { setups } = this.prepared.input;
    const column = () => new Float64Array(this.draws);
    const results = setups.map((setup) => ({
      years: column(),
      cellYears: Array.from({ length: this.cells }, column),
      capacity: this.times.map(column),
      ahead: this.times.map(column),
      closes: setup.spacer && this.prepared.input.pack.thickness_mm ? column() : null,
    }));
    const { doubt } = this.prepared.input.duty;
    const { shift_J_per_mol } = this.box;
    const mostHours = this.used_h > 0 ? 24 / this.used_h : 1;
    const modelOf = new Uint8Array(this.draws);
    const hours = column();
    const most = Math.max(...this.family.map((member) => member.capacity.length));
    const ages = setups.map(() => new Float64Array(most * this.cells));
    for (let i = 0; i < this.draws; i++) {
      this.draw.member = i % this.family.length;
      const isLent = this.family[this.draw.member]?.lentFrom !== null;
      redraw(this.draw, this.noise, { spread: this.spread, isLent, doubt, mostHours, shift_J_per_mol });
      modelOf[i] = this.draw.member;
      hours[i] = this.draw.hours;
      this.fold();
      for (const [s, into] of ages.entries()) this.ageSetup(s, this.deviateOf(s), into);
      const law = this.lawOf(this.family[this.draw.member] as FamilyMember);
      for (const [s, result] of results.entries()) this.follow(s, i, ages, law, result);
    }
    return { family: this.family, times: this.times, modelOf, hours, setups: results };
  }

  /** How far a set-up's rises are off in this draw, in their own standard uncertainties: by one for all its cells and states. */
  private deviateOf(setup: number): number {
    let fewest: number | null = null;
    for (const cells of this.prepared.rises[setup] ?? [])
      for (const { u, dof } of cells)
        if (u > 0 && dof !== null && (fewest === null || dof < fewest)) fewest = dof;
    return drawDeviate(this.noise, fewest);
  }

  /** Puts the draw's energy into the surfaces of its model. */
  private fold(): void {
    const table = this.tables[this.draw.member];
    for (const [m, ofStates] of table?.surfaces.entries() ?? []) {
      for (const [s, surface] of ofStates.entries()) {
        if (!surface) continue;
        const at = 16 * (m * this.states + s);
        foldSurface(surface.coefficients, surface.nu, surface.nv, this.draw.energy, this.folded, at);
      }
    }
  }

  /** Ages per year of each cell by each mechanism in one set-up; mechanisms run fastest. */
  private ageSetup(setup: number, deviate: number, into: Float64Array): void {
    const { draw, prepared } = this;
    const surfaces = this.tables[draw.member]?.surfaces ?? [];
    const shared_u = prepared.input.sharedRise_u_K ?? 0;
    const [low, high] = this.box.rise_K;
    const rest_h = 24 - this.used_h;
    const restScale = rest_h > 0 ? (24 - draw.hours * this.used_h) / rest_h : 1;
    for (let c = 0; c < this.cells; c++) {
      for (const [m, ofStates] of surfaces.entries()) {
        let age = 0;
        for (let s = 0; s < this.states; s++) {
          const surface = ofStates[s];
          if (!surface) continue;
          const rise = prepared.rises[setup]?.[s]?.[c];
          const own_u = Math.sqrt(Math.max(0, (rise?.u ?? 0) ** 2 - shared_u ** 2));
          const off =
            (rise?.u ?? 0) > 0 ? own_u * deviate + Math.min(rise?.u ?? 0, shared_u) * draw.shared : 0;
          const rise_K = (rise?.value ?? 0) + off + draw.room_K;
          const u = Math.max(-1, Math.min(1, (2 * rise_K - low - high) / (high - low)));
          const scale = this.isRest[s] ? restScale : draw.hours;
          age += scale * ageAtRise(this.folded, 16 * (m * this.states + s), surface.nu, u);
        }
        into[c * surfaces.length + m] = age;
      }
    }
  }

  /** Follows one set-up through one draw and notes how it went. */
  private follow(
    setup: number,
    index: number,
    ages: readonly Float64Array[],
    law: Law,
    result: SetupDraws,
  ): void {
    const { draw, yearly, powers } = this;
    const n = law.factors.length;
    let own = ages[setup] as Float64Array;
    const { spacer } = this.prepared.input.setups[setup] ?? {};
    const thickness_mm = this.prepared.input.pack.thickness_mm ?? 0;
    let closes = Number.POSITIVE_INFINITY;
    let later = own;
    if (law.isPower) this.fillYearly(own, law);
    const lossOf = (cell: number, t: number) =>
      (draw.cells[cell] as number) *
      lossAt(t, own, later, cell * n, n, closes, law.factors, law.exponents, law.other);
    const yearsTo = (cell: number, loss: number) => {
      if (law.isPower) {
        const years = timeOfPowers(
          loss,
          shortestLife_years,
          longestLife_years,
          yearly,
          cell * n,
          n,
          law.exponents,
        );
        if (years <= closes) return years;
      }
      return timeOfLoss(loss, shortestLife_years, longestLife_years, (t) => lossOf(cell, t));
    };
    if (spacer && result.closes) {
      const swollen = (closingSwelling_mm(spacer) / thickness_mm - draw.breath) / draw.swelling;
      let when = swollen > 0 ? longestLife_years : 0;
      for (let c = 0; c < this.cells && when > 0; c++) when = Math.min(when, yearsTo(c, endLoss * swollen));
      result.closes[index] = when;
      const becomes = this.prepared.input.setups.findIndex((each) => each.setup === spacer.becomes);
      if (becomes >= 0) later = ages[becomes] as Float64Array;
      if (becomes >= 0 && when > 0) closes = when;
      else if (becomes >= 0) {
        own = later; // closed from the start
        if (law.isPower) this.fillYearly(own, law);
      }
    }
    let years = longestLife_years;
    for (let c = 0; c < this.cells; c++) {
      const cell = yearsTo(c, endLoss);
      (result.cellYears[c] as Float64Array)[index] = cell;
      if (cell < years) years = cell;
    }
    result.years[index] = years;
    for (let k = 0; k < this.times.length; k++) {
      const t = this.times[k] as number;
      const keeps = law.isPower && t <= closes;
      let most = 0;
      let least = 1;
      for (let c = 0; c < this.cells; c++) {
        let loss = 0;
        if (keeps)
          for (let m = 0; m < n; m++) loss += (yearly[c * n + m] as number) * (powers[k * n + m] as number);
        else loss = lossOf(c, t);
        if (loss > 1) loss = 1;
        if (loss > most) most = loss;
        if (loss < least) least = loss;
      }
      (result.capacity[k] as Float64Array)[index] = 1 - most;
      (result.ahead[k] as Float64Array)[index] = most - least;
    }
  }

  private fillYearly(own: Float64Array, { factors, exponents }: Law): void {
    const n = factors.length;
    for (let c = 0; c < this.cells; c++) {
      const level = this.draw.cells[c] as number;
      for (let m = 0; m < n; m++)
        this.yearly[c * n + m] =
          level * (factors[m] as number) * (own[c * n + m] as number) ** (exponents[m] as number);
    }
  }

  /** The laws of a model's losses with this draw's levels, bent about the age of a first year. */
  private lawOf(member: FamilyMember): Law {
    const { draw, times, powers } = this;
    const firsts = this.firstYears[draw.member] as Float64Array;
    const n = member.capacity.length;
    const factors = new Float64Array(n);
    const exponents = new Float64Array(n);
    let isPower = true;
    for (let m = 0; m < n; m++) {
      const mechanism = member.capacity[m] as FamilyMember['capacity'][number];
      const level = mechanism.agePerDay ? draw.calendarLevel : draw.cycleLevel;
      const first = firsts[m] as number;
      const z = mechanism.exponent;
      factors[m] = level * (z === null || first === 0 ? 1 : first ** (z * (1 - draw.bend)));
      exponents[m] = z === null ? Number.NaN : z * draw.bend;
      if (z === null) isPower = false;
      for (let k = 0; k < times.length; k++)
        powers[k * n + m] = (times[k] as number) ** (exponents[m] as number);
    }
    const other = (m: number, age: number) => {
      const first = firsts[m] as number;
      return age > 0 && first > 0 ? (member.capacity[m]?.lossAt(first * (age / first) ** draw.bend) ?? 0) : 0;
    };
    return { factors, exponents, other, isPower };
  }
}

/**
 * By how much a pack must grow to use up a gap before it. A pouch swells to both faces alike, so half of it goes into the free room behind;
 * once that is full, all of it goes into the gap. @assumed common practice, no source
 */
export function closingSwelling_mm({
  gap_mm,
  room_mm = 0,
}: {
  readonly gap_mm: number;
  readonly room_mm?: number;
}): number {
  return gap_mm + Math.min(gap_mm, Math.max(0, room_mm));
}

/** Room for every rise with its doubt, and for the room's. */
function boxOf({ input, rises }: PreparedLife, spread: ModelSpread): TableBox {
  const room_K = mostDeviate * (input.duty.doubt?.room_K ?? usualDoubt.room_K);
  let [low, high] = [0, 0];
  for (const ofSetup of rises) {
    for (const cells of ofSetup) {
      for (const { value, u } of cells) {
        const reach = 1.5 * mostDeviate * u;
        low = Math.min(low, value - reach);
        high = Math.max(high, value + reach);
      }
    }
  }
  return {
    rise_K: [low - room_K - 1, high + room_K + 1],
    shift_J_per_mol: mostDeviate * Math.max(1, spread.energy_J_per_mol),
  };
}
