import { makeNoise, type Noise } from '../../numerics/index.js';
import { restingStates } from '../../records/index.js';
import type { FamilyMember } from '../models/model-family.js';
import { ageAtRise, foldSurface } from './ageing.kernel.js';
import { type Draw, drawDeviate, redraw, typicalDraw } from './draw-pack.js';
import { type ModelSpread, modelSpread, mostDeviate, usualDoubt } from './draw-spread.js';
import { fadeFactors } from './fade-factors.js';
import { FadingCell } from './fading-cell.kernel.js';
import type { PreparedLife } from './forecast-input.js';
import { endLoss, longestLife_years } from './life-end.js';
import { type RateTable, type TableBox, tabulateRates } from './rate-table.js';

/** Times per year at which a course is noted. */
const steps_per_year = 2;

/** Per model the age that each of its mechanisms gains in a first year of the first set-up: about it a draw bends the course of a loss. */
export type FirstYears = readonly Float64Array[];

export interface SimulateOptions {
  /** Place of the one set-up to follow; all without it. It must have no gap that closes. */
  readonly only?: number;
  /** Of the use that the packs are drawn in, where this is another: the same pack then obeys the same law. */
  readonly firstYears?: FirstYears | undefined;
}

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
  readonly firstYears: FirstYears;
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
 * Every set-up meets the same packs and uses, so that what they differ by is not drowned in what they share, and the doubts of its own rises
 * hang on nothing that stands beside it. Models take turns, each as
 * often as the others. A year's ages are spread evenly within it: exact at whole years. They grow as a cell fades, because the same use then
 * takes it deeper; each cell's own, since one charge goes through all in series. More hours of use mean more of the same cycles, not
 * deeper ones.
 */
export function simulateLife(
  prepared: PreparedLife,
  family: readonly FamilyMember[],
  options: SimulateOptions = {},
): SimulatedLife {
  return new Simulation(prepared, family, options).run();
}

/** The laws of a model's losses in one draw. */
interface Law {
  readonly factors: Float64Array;
  readonly exponents: Float64Array;
  readonly other: (mechanism: number, age: number) => number;
}

class Simulation {
  private readonly prepared: PreparedLife;
  private readonly family: readonly FamilyMember[];
  private readonly noise: Noise;
  private readonly ownNoise: readonly Noise[];
  private readonly followed: readonly number[];
  private readonly draws: number;
  private readonly cells: number;
  private readonly states: number;
  private readonly spread: ModelSpread;
  private readonly box: TableBox;
  private readonly tables: readonly RateTable[];
  private readonly times: readonly number[];
  private readonly firstYears: FirstYears;
  private readonly isRest: readonly boolean[];
  private readonly used_h: number;
  /** Surfaces of the model at hand at the energy at hand. */
  private readonly folded: Float64Array;
  private readonly draw: Draw;
  /** Per model, mechanism and state: how its ages grow as a cell fades. */
  private readonly fades: readonly (readonly ReturnType<typeof fadeFactors>[])[];
  private readonly cell: FadingCell;
  /** Of each cell at each time, in the set-up and draw at hand. */
  private readonly losses: Float64Array;

  constructor(
    prepared: PreparedLife,
    family: readonly FamilyMember[],
    { only, firstYears }: SimulateOptions,
  ) {
    const { input, condensed } = prepared;
    this.prepared = prepared;
    this.family = family;
    const seed = input.seed ?? 20_260;
    this.noise = makeNoise(seed);
    this.ownNoise = input.setups.map(({ setup }) => makeNoise(seedFor(setup, seed)));
    this.followed = only === undefined ? [...input.setups.keys()] : [only];
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
    const meanRises_K = condensed.states.map((_, state) => meanRiseIn(prepared, state));
    this.fades = family.map(({ capacity }) =>
      capacity.map((mechanism) => fadeFactors(mechanism, prepared, meanRises_K)),
    );
    this.cell = new FadingCell(most);
    this.losses = new Float64Array(this.cells * this.times.length);
    this.draw = typicalDraw(this.cells);
    this.firstYears = firstYears ?? family.map((member, index) => this.ageFirstYear(member, index));
  }

  private ageFirstYear({ capacity }: FamilyMember, member: number): Float64Array {
    this.draw.member = member;
    this.fold();
    const rates = new Float64Array(3 * capacity.length * this.cells);
    this.ageSetup(0, 0, rates);
    return Float64Array.from(capacity, (_, m) => rates[3 * m] as number);
  }

  run(): SimulatedLife {
    const { family, firstYears, followed, times } = this;
    const { setups } = this.prepared.input;
    const column = () => new Float64Array(this.draws);
    const results = followed.map((s) => ({
      years: column(),
      cellYears: Array.from({ length: this.cells }, column),
      capacity: this.times.map(column),
      ahead: this.times.map(column),
      closes: setups[s]?.spacer && this.prepared.input.pack.thickness_mm ? column() : null,
    }));
    const { doubt } = this.prepared.input.duty;
    const { shift_J_per_mol } = this.box;
    const mostHours = this.used_h > 0 ? 24 / this.used_h : 1;
    const modelOf = new Uint8Array(this.draws);
    const hours = column();
    const most = Math.max(...this.family.map((member) => member.capacity.length));
    const rates = setups.map(() => new Float64Array(3 * most * this.cells));
    for (let i = 0; i < this.draws; i++) {
      this.draw.member = i % this.family.length;
      const isLent = this.family[this.draw.member]?.lentFrom !== null;
      redraw(this.draw, this.noise, { spread: this.spread, isLent, doubt, mostHours, shift_J_per_mol });
      modelOf[i] = this.draw.member;
      hours[i] = this.draw.hours;
      this.fold();
      for (const s of followed) this.ageSetup(s, this.deviateOf(s), rates[s] as Float64Array);
      const law = this.lawOf(family[this.draw.member] as FamilyMember);
      for (const [at, result] of results.entries())
        this.follow(followed[at] as number, i, rates, law, result);
    }
    return { family, firstYears, times, modelOf, hours, setups: results };
  }

  /** How far a set-up's rises are off in this draw, in their own standard uncertainties: by one for all its cells and states. */
  private deviateOf(setup: number): number {
    let fewest: number | null = null;
    for (const cells of this.prepared.rises[setup] ?? [])
      for (const { u, dof } of cells)
        if (u > 0 && dof !== null && (fewest === null || dof < fewest)) fewest = dof;
    return drawDeviate(this.ownNoise[setup] as Noise, fewest);
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

  /** Ages per year of each cell by each mechanism in one set-up, as parabolas of how far it has faded: cells, then mechanisms, then powers. */
  private ageSetup(setup: number, deviate: number, into: Float64Array): void {
    const { draw, prepared } = this;
    const surfaces = this.tables[draw.member]?.surfaces ?? [];
    const fades = this.fades[draw.member] ?? [];
    const shared_u = prepared.input.sharedRise_u_K ?? 0;
    const [low, high] = this.box.rise_K;
    const rest_h = 24 - this.used_h;
    const restScale = rest_h > 0 ? (24 - draw.hours * this.used_h) / rest_h : 1;
    for (let c = 0; c < this.cells; c++) {
      for (const [m, ofStates] of surfaces.entries()) {
        let [age, linear, square] = [0, 0, 0];
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
          const ofState = scale * ageAtRise(this.folded, 16 * (m * this.states + s), surface.nu, u);
          const fade = fades[m]?.[s];
          age += ofState;
          if (!fade) continue;
          linear += ofState * fade[0];
          square += ofState * fade[1];
        }
        const at = 3 * (c * surfaces.length + m);
        into[at] = age;
        into[at + 1] = linear;
        into[at + 2] = square;
      }
    }
  }

  /** Follows one set-up through one draw and notes how it went. */
  private follow(
    setup: number,
    index: number,
    rates: readonly Float64Array[],
    law: Law,
    result: SetupDraws,
  ): void {
    const { draw, cell, times, losses } = this;
    const n = law.factors.length;
    const own = rates[setup] as Float64Array;
    const { spacer } = this.prepared.input.setups[setup] ?? {};
    const thickness_mm = this.prepared.input.pack.thickness_mm ?? 0;
    let closes = Number.POSITIVE_INFINITY;
    let later = own;
    const take = (c: number) => cell.obey(n, law.factors, law.exponents, draw.cells[c] as number, law.other);
    if (spacer && result.closes) {
      const swollen = (closingSwelling_mm(spacer) / thickness_mm - draw.breath) / draw.swelling;
      let when = swollen > 0 ? longestLife_years : 0;
      for (let c = 0; c < this.cells && when > 0; c++) {
        take(c);
        const years = cell.follow(own, own, 3 * n * c, closes, endLoss * swollen, [], losses, 0);
        when = Math.min(when, years);
      }
      result.closes[index] = when;
      const becomes = this.prepared.input.setups.findIndex((each) => each.setup === spacer.becomes);
      if (becomes >= 0) {
        later = rates[becomes] as Float64Array;
        closes = when;
      }
    }
    let years = longestLife_years;
    for (let c = 0; c < this.cells; c++) {
      take(c);
      const into = c * times.length;
      const ofCell = cell.follow(own, later, 3 * n * c, closes, endLoss, times, losses, into);
      (result.cellYears[c] as Float64Array)[index] = ofCell;
      if (ofCell < years) years = ofCell;
    }
    result.years[index] = years;
    for (let k = 0; k < times.length; k++) {
      let most = 0;
      let least = 1;
      for (let c = 0; c < this.cells; c++) {
        const loss = Math.min(1, losses[c * times.length + k] as number);
        if (loss > most) most = loss;
        if (loss < least) least = loss;
      }
      (result.capacity[k] as Float64Array)[index] = 1 - most;
      (result.ahead[k] as Float64Array)[index] = most - least;
    }
  }

  /** The laws of a model's losses with this draw's levels, bent about the age of a first year. */
  private lawOf(member: FamilyMember): Law {
    const { draw } = this;
    const firsts = this.firstYears[draw.member] as Float64Array;
    const n = member.capacity.length;
    const factors = new Float64Array(n);
    const exponents = new Float64Array(n);
    for (let m = 0; m < n; m++) {
      const mechanism = member.capacity[m] as FamilyMember['capacity'][number];
      const level = mechanism.agePerDay ? draw.calendarLevel : draw.cycleLevel;
      const first = firsts[m] as number;
      const z = mechanism.exponent;
      factors[m] = level * (z === null || first === 0 ? 1 : first ** (z * (1 - draw.bend)));
      exponents[m] = z === null ? Number.NaN : z * draw.bend;
    }
    const other = (m: number, age: number) => {
      const first = firsts[m] as number;
      return age > 0 && first > 0 ? (member.capacity[m]?.lossAt(first * (age / first) ** draw.bend) ?? 0) : 0;
    };
    return { factors, exponents, other };
  }
}

/** A seed that hangs on the name. @source [FNV] FNV-1a in 32 bits, begun at the seed of the forecast */
function seedFor(name: string, seed: number): number {
  let hash = 2_166_136_261 ^ seed;
  for (let at = 0; at < name.length; at++) hash = Math.imul(hash ^ name.charCodeAt(at), 16_777_619);
  return 1 + ((hash >>> 0) % 2_147_483_645);
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

/** Rise in one state, over all set-ups and cells. */
function meanRiseIn({ rises }: PreparedLife, state: number): number {
  const all = rises.flatMap((ofSetup) => (ofSetup[state] ?? []).map(({ value }) => value));
  return all.reduce((sum, value) => sum + value, 0) / Math.max(1, all.length);
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
