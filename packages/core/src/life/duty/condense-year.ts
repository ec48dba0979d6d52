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

/** Weighted means of what falls under one key. */
class Bins<Fields extends string> {
  private readonly bins = new Map<string, { weight: number; sums: Record<Fields, number> }>();

  private readonly fields: readonly Fields[];

  constructor(fields: readonly Fields[]) {
    this.fields = fields;
  }

  add(key: string, weight: number, values: Readonly<Record<Fields, number>>): void {
    let bin = this.bins.get(key);
    if (!bin) {
      bin = {
        weight: 0,
        sums: Object.fromEntries(this.fields.map((field) => [field, 0])) as Record<Fields, number>,
      };
      this.bins.set(key, bin);
    }
    bin.weight += weight;
    for (const field of this.fields) bin.sums[field] += weight * values[field];
  }

  list(): { weight: number; means: Record<Fields, number> }[] {
    return [...this.bins.values()].map(({ weight, sums }) => ({
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
  const rests = new Bins(['state', 'room_C', 'charge'] as const);
  const draws = new Bins(['state', 'room_C', 'rate'] as const);
  const hours = year.states.map(() => 0);
  let drawn = 0;
  for (const { state, hours: span, room_C, charge, rate } of year.stretches) {
    const room = Math.round(room_C / roomBin_K);
    rests.add(`${state} ${room} ${Math.round(charge / chargeBin)}`, span / 24, { state, room_C, charge });
    hours[state] = (hours[state] ?? 0) + span / 365;
    if (rate <= 0) continue;
    drawn += span * rate;
    draws.add(`${state} ${room}`, span * rate, { state, room_C, rate });
  }
  const cycles = new Bins(['depth', 'charge'] as const);
  const courses = [year.startCharge, ...year.stretches.map(({ endCharge }) => endCharge)];
  for (const { range, mean, count } of countCycles(courses)) {
    if (range < 1e-6) continue;
    cycles.add(`${Math.round(range / chargeBin)} ${Math.round(mean / chargeBin)}`, count, {
      depth: range,
      charge: mean,
    });
  }
  return {
    states: year.states,
    rests: rests.list().map(({ weight, means }) => ({
      ...means,
      days: weight,
      cell_V: curve.voltageAt(means.charge),
    })),
    cycles: cycles.list().map(({ weight, means }) => ({
      ...means,
      count: weight,
      cell_V: curve.voltageAt(means.charge),
    })),
    draws: draws.list().map(({ weight, means }) => ({ ...means, share: weight / drawn })),
    hours,
    fullCycles: drawn,
    drawn_Wh: year.drawn_Wh,
  };
}
