/**
 * What an ageing model is. Every one of them gains an age that adds up over time, and loses capacity as a function of that age.
 *
 * That is the rate form with virtual age: a law q = k t^z under conditions that change is, at every moment, as far along its curve as
 * q says, and goes on from there with the k of the moment. With s = q^(1/z) this reads ds = k^(1/z) dt: a plain sum, whatever the
 * order, and splitting a step changes nothing. Adding up the losses of single stretches instead, or a mean temperature, is wrong.
 */
export const chemistries = ['LCO', 'LiHV', 'NMC', 'NMC+LMO', 'NCA', 'LMO', 'LFP'] as const;
export type Chemistry = (typeof chemistries)[number];

/** Where a cell is while time passes. */
export interface RestState {
  readonly temp_K: number;
  /** State of charge, 0 to 1 of a full charge. */
  readonly charge: number;
  /** Open-circuit voltage of one cell at that charge. */
  readonly cell_V: number;
}

/** One charge and discharge between two states of charge. */
export interface CycleState {
  readonly temp_K: number;
  /** Difference of the two states of charge, 0 to 1 of the full charge that the cell still holds. */
  readonly depth: number;
  /** Their mean. */
  readonly charge: number;
  /** Open-circuit voltage at that mean. */
  readonly cell_V: number;
  /** Discharge current over rated capacity, 1/h. */
  readonly rate: number;
  /** Capacity left, as a share of the rated one; 1 where it is not given. */
  readonly left?: number;
}

/** One mechanism: calendar, cycle, or both where a paper lets them share one age. */
export interface AgeingMechanism {
  /** Age gained in one day at rest; null where time alone does nothing. */
  readonly agePerDay: ((state: RestState) => number) | null;
  /** Age gained in one such cycle; null where cycles do nothing. */
  readonly agePerCycle: ((state: CycleState) => number) | null;
  /** Loss of capacity (or gain of resistance) as a fraction of the initial one. Rises from 0 at age 0. */
  lossAt(age: number): number;
  /** z where the loss is age^z, and null for any other law. */
  readonly exponent: number | null;
  /** Whether the paper let temperature act on this mechanism at all. */
  readonly knowsTemperature: boolean;
}

/** Where the figures of a model were seen: the work itself, copies that cite it, or memory. */
export type ReadingStatus = 'read' | 'second hand' | 'from memory';

/** Where the tests behind a model were made. Beyond it a model may be used, and is flagged. */
export interface ModelRange {
  readonly temperature_C: readonly [number, number];
  readonly charge: readonly [number, number];
  /** Discharge current over capacity; null where cycling was not tested. */
  readonly rate: readonly [number, number] | null;
  /** Longest test, days. */
  readonly most_d: number;
}

export interface AgeingModel {
  readonly id: string;
  readonly title: string;
  readonly chemistry: Chemistry;
  readonly cell: string;
  readonly capacity: readonly AgeingMechanism[];
  readonly resistance: readonly AgeingMechanism[];
  readonly range: ModelRange;
  /** Temperature at which doubt about the activation energy leaves the level alone: the middle of the tests, or where k is stated. */
  readonly pivot_C: number;
  readonly source: string;
  readonly status: ReadingStatus;
  /** What misleads in this model, in sentences for the screen. */
  readonly cautions: readonly string[];
  /** Its level is far from present-day cells: it says how ageing depends on temperature, and no years are counted with it. */
  readonly shapeOnly?: boolean;
  /** A fit to cycling that contains the time the cycling took; no calendar ageing may be added to it. */
  readonly containsTime?: boolean;
}

/** The mechanism of a law q = k t^z: calendar k per day^z, or cycle k per count^z, both as fractions. */
export function powerLaw(
  exponent: number,
  law: {
    readonly perDay?: (state: RestState) => number;
    /**
     * k for a full equivalent cycle, which is the rated capacity put through once: papers count ampere-hours, and those of a worn cell's
     * full charge are fewer. A cycle of depth d counts as d of what is left.
     */
    readonly perFullCycle?: (state: CycleState) => number;
    readonly knowsTemperature: boolean;
  },
): AgeingMechanism {
  const { perDay, perFullCycle } = law;
  const toAge = 1 / exponent;
  return {
    agePerDay: perDay ? (state) => Math.max(0, perDay(state)) ** toAge : null,
    agePerCycle: perFullCycle
      ? (state) => state.depth * (state.left ?? 1) * Math.max(0, perFullCycle(state)) ** toAge
      : null,
    lossAt: (age) => age ** exponent,
    exponent,
    knowsTemperature: law.knowsTemperature,
  };
}

/** Gas constant the papers fitted with, J/(mol K); a newer value under their coefficients would move their results. */
export const fittedGasConstant = 8.314;

/**
 * Arrhenius factor of an activation energy between a reference and a temperature.
 *
 * It acts on whatever constant the energy was published for. On k of q = k t^z it is a factor of LOSS at equal time; a factor of LIFE
 * is its 1/z-th power. The two must never be mixed.
 *
 * @param energy_J_per_mol of the constant, as published
 * @param reference_K infinite for a law written as exp(-E/RT)
 * @source [ARRHENIUS]
 */
export function arrhenius(
  energy_J_per_mol: number,
  temp_K: number,
  reference_K = Number.POSITIVE_INFINITY,
  gasConstant = fittedGasConstant,
): number {
  return Math.exp((-energy_J_per_mol / gasConstant) * (1 / temp_K - 1 / reference_K));
}

/** Loss after days at constant conditions: the closed form. */
export function lossAfter(state: AgeingMechanism, rest: RestState, days: number): number {
  return state.agePerDay ? state.lossAt(days * state.agePerDay(rest)) : 0;
}
