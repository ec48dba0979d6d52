import type { Estimate } from '../measure/index.js';

/** What is compared: one probe's rise in one phase, charging or not. */
export interface Quantity {
  readonly probe: string;
  readonly phase: 'idle' | 'load';
  readonly charging: boolean;
}

export interface SetupRise {
  readonly setup: string;
  /** Mean rise; its uncertainty comes from the spread between runs, never from the number of samples. */
  readonly rise_K: Estimate;
  readonly interval95_K: readonly [number, number];
  readonly runs: readonly {
    readonly run: string;
    readonly session: string;
    readonly rise_K: number;
    readonly u_K: number;
  }[];
}

export interface Difference {
  readonly setup: string;
  readonly other: string;
  /** How much cooler `setup` is than `other`; negative if warmer. */
  readonly cooler_K: Estimate;
  /** Holds for the whole family at once (against the baseline, or all pairs). */
  readonly simultaneous95_K: readonly [number, number];
  readonly p: number;
  readonly finding: 'shown' | 'not-shown' | 'no-verdict';
}

/** The comparison of all set-ups in one quantity. */
export interface Contest {
  readonly quantity: Quantity;
  readonly baseline: string;
  readonly setups: readonly SetupRise[];
  /** Each set-up against the baseline, Dunnett-type. */
  readonly toBaseline: readonly Difference[];
  /** All pairs, Tukey-Kramer type; each pair once, the cooler one as `setup`. */
  readonly pairs: readonly Difference[];
  /** Standard deviation from run to run, K; assumed where there are no repeats. */
  readonly runToRun: { readonly sd_K: number; readonly dof: number | null; readonly assumed: boolean };
  readonly blocks: 'session' | 'none';
  /** The difference that these runs could just tell apart, for the typical pair, K; null with one set-up. */
  readonly canShow_K: number | null;
  /** What a reader must know: blocks dropped, unblocked set-ups, runs left out. */
  readonly notes: readonly string[];
}
