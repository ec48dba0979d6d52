import type { Estimate } from '../measure/index.js';

/** What is compared: one probe's rise in one phase, charging or not. */
export interface Quantity {
  readonly probe: string;
  readonly phase: 'idle' | 'load';
  readonly charging: boolean;
}

/**
 * What is done about sessions, runs of one day in one room:
 * `random` - a component of the spread; `shifts` - one shift each, taken out; `left-in` - cannot be separated from the
 * set-ups; `single` - there is only one.
 */
export type SessionPart = 'random' | 'shifts' | 'left-in' | 'single';

/** Standard deviations of what makes runs of one set-up differ, K; null where the model has no such component. */
export interface Spread {
  readonly session_K: number | null;
  readonly mounting_K: number;
  /** Between runs of one mounting, beyond what each run knows of its own doubt. */
  readonly repeat_K: number | null;
}

export interface SetupRise {
  readonly setup: string;
  /** Mean rise; its uncertainty comes from the spread between runs, never from the number of samples. */
  readonly rise_K: Estimate;
  readonly interval95_K: readonly [number, number];
  readonly runs: readonly {
    readonly run: string;
    readonly session: string;
    readonly mounting: string;
    readonly rise_K: number;
    readonly u_K: number;
    /** Room while it was settled. */
    readonly ambient_C?: number;
  }[];
}

export type Finding = 'shown' | 'not-shown' | 'no-verdict';

/** One set-up is no warmer than another by more than the stated difference. */
export interface NoWorse {
  /** One-sided, raised for the number of pairs in the family. */
  readonly p: number;
  readonly finding: Finding;
}

export interface Difference {
  readonly setup: string;
  readonly other: string;
  /** How much cooler `setup` is than `other`; negative if warmer. */
  readonly cooler_K: Estimate;
  /** Holds for the whole family at once (against the baseline, or all pairs). */
  readonly simultaneous95_K: readonly [number, number];
  readonly p: number;
  readonly finding: Finding;
  /** No worse than each other by more than the stated difference: `setup` than `other`, and `other` than `setup`. */
  readonly noWorse: { readonly setup: NoWorse; readonly other: NoWorse };
}

/** The comparison of all set-ups in one quantity. */
export interface Contest {
  readonly quantity: Quantity;
  readonly baseline: string;
  readonly setups: readonly SetupRise[];
  /** Of the mean rises, in the order of `setups`, K². */
  readonly covariance_K2: readonly (readonly number[])[];
  /** Each set-up against the baseline, Dunnett-type. */
  readonly toBaseline: readonly Difference[];
  /** All pairs, Tukey-Kramer type; each pair once, the cooler one as `setup`. */
  readonly pairs: readonly Difference[];
  /** Standard deviation from run to run, K; assumed where there are no repeats. */
  readonly runToRun: { readonly sd_K: number; readonly dof: number | null; readonly assumed: boolean };
  readonly blocks: 'session' | 'none';
  /** What the model does about sessions. */
  readonly sessions: SessionPart;
  /** What makes runs of one set-up differ, part by part, as standard deviations. */
  readonly spread: Spread;
  /**
   * Standard uncertainty of the probe's gain, 1/1. That share of each difference is part of its uncertainty; of a difference of
   * nought it is nothing, so it makes no difference seem shown or hides one.
   */
  readonly gain_u: number;
  /** The difference that does not matter, K: what "no worse" allows. */
  readonly noWorse_K: number;
  /** The difference that these runs could just tell apart, for the typical pair, K; null with one set-up. */
  readonly canShow_K: number | null;
  /** What a reader must know, in words: parts of the model that could not be estimated, set-ups that rest on one mounting. */
  readonly notes: readonly string[];
}
