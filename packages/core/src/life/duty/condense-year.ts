import { countCycles } from '../../numerics/index.js';
import type { OpenCircuit } from '../open-circuit/open-circuit.js';
import type { YearOfUse } from './lay-out-year.js';

/** A year with hours and cycles that are alike put together: ageing is a sum, so their order does not matter. */
export interface CondensedYear {
  readonly states: readonly string[];
  /** Capacity left in the pack it is a year of, as a share of the rated one. */
  readonly left: number;
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
  /** Where the pack is discharged: which share of the charge, in which state and room, at which rate over the rated capacity. */
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

interface Bin {
  readonly state: number;
  weight: number;
  one: number;
  other: number;
}

/** Bins reach this far either way of zero. */
const farthest = 1 << 15;

/** Weighted means of two quantities, of what falls into the same bin of both in the same state of the device. */
class Bins {
  private readonly bins = new Map<number, Bin>();
  private readonly width: readonly [number, number];

  constructor(width: readonly [number, number]) {
    this.width = width;
  }

  add(state: number, weight: number, one: number, other: number): void {
    const row = Math.round(one / this.width[0]) + farthest;
    const column = Math.round(other / this.width[1]) + farthest;
    const key = (state * 2 * farthest + row) * 2 * farthest + column;
    const bin = this.bins.get(key);
    if (!bin) {
      this.bins.set(key, { state, weight, one: weight * one, other: weight * other });
      return;
    }
    bin.weight += weight;
    bin.one += weight * one;
    bin.other += weight * other;
  }

  list(): Bin[] {
    return Array.from(this.bins.values(), ({ state, weight, one, other }) => ({
      state,
      weight,
      one: one / weight,
      other: other / weight,
    }));
  }
}

/**
 * Puts together what is alike in a year.
 *
 * @param curve turns charge into a resting voltage
 * @param left share of the rated capacity that the year was laid out for
 */
export function condenseYear(
  year: YearOfUse,
  curve: Pick<OpenCircuit, 'voltageAt'>,
  left = 1,
): CondensedYear {
  const rests = new Bins([roomBin_K, chargeBin]);
  const draws = new Bins([roomBin_K, rateBin]);
  const hours = year.states.map(() => 0);
  let drawn = 0;
  for (const { state, hours: span, room_C, charge, rate } of year.stretches) {
    rests.add(state, span / 24, room_C, charge);
    hours[state] = (hours[state] ?? 0) + span / 365;
    if (rate <= 0) continue;
    drawn += span * rate;
    draws.add(state, span * rate, room_C, rate * left);
  }
  const cycles = new Bins([chargeBin, chargeBin]);
  const courses = [year.startCharge, ...year.stretches.map(({ endCharge }) => endCharge)];
  for (const { range, mean, count } of countCycles(courses)) {
    if (range >= leastDepth) cycles.add(0, count, range, mean);
  }
  return {
    states: year.states,
    left,
    rests: rests.list().map(({ state, weight, one, other }) => ({
      state,
      days: weight,
      room_C: one,
      charge: other,
      cell_V: curve.voltageAt(other),
    })),
    cycles: cycles.list().map(({ weight, one, other }) => ({
      count: weight,
      depth: one,
      charge: other,
      cell_V: curve.voltageAt(other),
    })),
    draws: draws
      .list()
      .map(({ state, weight, one, other }) => ({ state, share: weight / drawn, room_C: one, rate: other })),
    hours,
    fullCycles: drawn,
    drawn_Wh: year.drawn_Wh,
  };
}
