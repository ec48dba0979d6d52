import { countCycles } from '../../numerics/index.js';
import type { OpenCircuit } from '../open-circuit/open-circuit.js';
import type { YearOfUse } from './lay-out-year.js';

/** A year with hours and cycles that are alike put together: ageing is a sum, so their order does not matter. */
export interface CondensedYear {
  readonly states: readonly string[];
  readonly rests: readonly {
    readonly state: number;
    readonly days: number;
    readonly room_C: number;
    readonly charge: number;
    readonly cell_V: number;
  }[];
  /** Charge and discharge cycles of the year by rainflow counting. */
  readonly cycles: readonly {
    readonly depth: number;
    readonly charge: number;
    readonly cell_V: number;
    readonly count: number;
  }[];
  /** Where the pack is discharged: which share of the charge, in which state and room, at which rate. */
  readonly draws: readonly {
    readonly state: number;
    readonly share: number;
    readonly room_C: number;
    readonly rate: number;
  }[];
  /** Hours a day in each state. */
  readonly hours: readonly number[];
  readonly fullCycles: number;
  readonly drawn_Wh: number;
}

/** Bins of room and charge. Each stands at the mean of what fell into it, so the error is of second order: below 1e-4 of an age. */
const roomBin_K = 0.5;
const chargeBin = 0.02;
/** Of the rate, 1/h; an activity has one. */
const rateBin = 0.01;
/** A swing of charge below this is rounding, not a cycle. */
const leastDepth = 1e-6;

/** Weighted means of what falls under one key: a state of the device and whole numbers of bins. */
class Bins<Fields extends string> {
  private readonly bins = new Map<string, { state: number; weight: number; sums: Record<Fields, number> }>();

  private readonly fields: readonly Fields[];

  constructor(fields: readonly Fields[]) {
    this.fields = fields;
  }

  add(
    state: number,
    places: readonly number[],
    weight: number,
    values: Readonly<Record<Fields, number>>,
  ): void {
    const key = `${state} ${places.map(Math.round).join(' ')}`;
    let bin = this.bins.get(key);
    if (!bin) {
      bin = {
        state,
        weight: 0,
        sums: Object.fromEntries(this.fields.map((field) => [field, 0])) as Record<Fields, number>,
      };
      this.bins.set(key, bin);
    }
    bin.weight += weight;
    for (const field of this.fields) bin.sums[field] += weight * values[field];
  }

  list(): { state: number; weight: number; means: Record<Fields, number> }[] {
    return [...this.bins.values()].map(({ state, weight, sums }) => ({
      state,
      weight,
      means: Object.fromEntries(this.fields.map((field) => [field, sums[field] / weight])) as Record<
        Fields,
        number
      >,
    }));
  }
}

/** Puts together what is alike in a year. @param curve turns charge into a resting voltage */
export function condenseYear(year: YearOfUse, curve: Pick<OpenCircuit, 'voltageAt'>): CondensedYear {
  const rests = new Bins(['room_C', 'charge'] as const);
  const draws = new Bins(['room_C', 'rate'] as const);
  const hours = year.states.map(() => 0);
  let drawn = 0;
  for (const { state, hours: span, room_C, charge, rate } of year.stretches) {
    const room = room_C / roomBin_K;
    rests.add(state, [room, charge / chargeBin], span / 24, { room_C, charge });
    hours[state] = (hours[state] ?? 0) + span / 365;
    if (rate <= 0) continue;
    drawn += span * rate;
    draws.add(state, [room, rate / rateBin], span * rate, { room_C, rate });
  }
  const cycles = new Bins(['depth', 'charge'] as const);
  const courses = [year.startCharge, ...year.stretches.map(({ endCharge }) => endCharge)];
  for (const { range, mean, count } of countCycles(courses)) {
    if (range < leastDepth) continue;
    cycles.add(0, [range / chargeBin, mean / chargeBin], count, { depth: range, charge: mean });
  }
  return {
    states: year.states,
    rests: rests.list().map(({ state, weight, means }) => ({
      ...means,
      state,
      days: weight,
      cell_V: curve.voltageAt(means.charge),
    })),
    cycles: cycles.list().map(({ weight, means }) => ({
      ...means,
      count: weight,
      cell_V: curve.voltageAt(means.charge),
    })),
    draws: draws.list().map(({ state, weight, means }) => ({ ...means, state, share: weight / drawn })),
    hours,
    fullCycles: drawn,
    drawn_Wh: year.drawn_Wh,
  };
}
