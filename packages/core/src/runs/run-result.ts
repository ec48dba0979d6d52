import type { Estimate, Result } from '../measure/index.js';
import type { PhaseKind, Recipe } from '../records/index.js';

/** One log on one time axis, its readings as logged and as corrected. */
export interface RunSeries {
  /** Seconds since the first row; strictly rising. */
  readonly after_s: Float64Array;
  /** Wall clock of the first row, ISO 8601 in UTC, where the log has one. */
  readonly startedAt: string | null;
  readonly channels: readonly SeriesChannel[];
}

export interface SeriesChannel {
  readonly probe: string;
  /** As logged, converted to °C; NaN where there was no reading. */
  readonly reading_C: Float64Array;
  /** Corrected by the probe check; the same array where there was none. */
  readonly level_C: Float64Array;
}

/** What importing a log came to: nothing is dropped without being counted here. */
export interface ImportReport {
  readonly rows: number;
  /** Data rows in which at least one used channel had no reading, by reason. */
  readonly unread: readonly {
    readonly reason: string;
    readonly count: number;
    readonly firstLine: number;
    /** The first lines concerned, at most twenty. */
    readonly lines: readonly number[];
  }[];
  /** Every line of the file is in one of these. */
  readonly lines: {
    readonly header: number;
    readonly blank: number;
    /** Lines whose rows are on the time axis. */
    readonly read: number;
    readonly leftOut: number;
  };
  /** Readings that are none, told by their neighbours. */
  readonly doubts: readonly ReadingDoubt[];
  /** Lines of rows that stood later in the file than their time says, and were sorted in. */
  readonly late: readonly number[];
  /** Lines in which an elapsed time began again and was joined. */
  readonly restarts: readonly number[];
  readonly recipe: Recipe;
  /** What was concluded and why, in the order a person would check it. */
  readonly conclusions: readonly string[];
  /** Usual spacing of the rows, s. */
  readonly interval_s: number;
}

/** Readings of one column that are a wake-up value, a fault code or a number without its decimal point. */
export interface ReadingDoubt {
  readonly kind: 'power-on' | 'fault-code' | 'lost-decimal';
  readonly column: number;
  readonly probe: string | null;
  readonly count: number;
  /** The first lines concerned, at most twenty. */
  readonly lines: readonly number[];
  /** The first of them as read, °C. */
  readonly example_C: number;
  /** Left out, as the recipe says, or kept. */
  readonly leftOut: boolean;
}

export interface Phase {
  readonly kind: PhaseKind;
  readonly from_s: number;
  readonly to_s: number;
  readonly by: 'data' | 'person';
}

/** The settled rise of one probe above the room in one phase. */
export interface Plateau {
  readonly probe: string;
  readonly phase: 'idle' | 'load';
  /** Above the room's temperature. Within-run doubt only: fit, model, ambient; not calibration, not re-mounting. */
  readonly rise_K: Estimate;
  /** Rise plus the room's mean temperature over the settled window, °C. */
  readonly level_C: number;
  readonly ambient_C: number;
  readonly reached: boolean;
  /** What the fitted curve still had to go at the end of the phase, K. */
  readonly remaining_K: number;
  readonly drift_K_per_h: number;
  /** One or two time constants, s, with their standard uncertainties, slowest last. */
  readonly timeConstants: readonly { readonly tau_s: number; readonly u_s: number }[];
  /** Amplitudes belonging to `timeConstants`, K: the curve is `rise - sum(amplitude exp(-t/tau))`, t from `from_s`. */
  readonly amplitudes_K: readonly number[];
  readonly from_s: number;
  readonly to_s: number;
  /** Where the fitted curve is within the larger of 0.2 K and 2 % of the step of its plateau; null if it never is. */
  readonly settledFrom_s: number | null;
  /** The contributions to `rise_K.u`, K. */
  readonly parts: readonly { readonly name: string; readonly u_K: number; readonly why: string }[];
  /** Standard deviation of the residuals, K, and how many times their correlation widens a mean's variance. */
  readonly residual_K: number;
  readonly inflation: number;
}

export type NoPlateau =
  | { readonly kind: 'too-short'; readonly have_s: number; readonly need_s: number }
  | { readonly kind: 'too-few'; readonly have: number; readonly need: number }
  | { readonly kind: 'still-rising'; readonly slope_K_per_h: number; readonly have_s: number }
  | { readonly kind: 'no-ambient' }
  | { readonly kind: 'no-curve' }
  | { readonly kind: 'too-uncertain'; readonly u_K: number; readonly step_K: number };

export interface RunFlag {
  readonly kind:
    | 'idle-not-settled'
    | 'too-short'
    | 'throttled'
    | 'dropout'
    | 'ambient-drift'
    | 'looped-load'
    | 'no-ambient'
    | 'unread-rows'
    | 'power-on'
    | 'fault-code'
    | 'lost-decimal'
    | 'restart'
    | 'out-of-order'
    | 'coarse-steps'
    | 'frozen'
    | 'no-load-phase'
    | 'probe-swap'
    | 'unequal-load';
  readonly level: 'holds' | 'look' | 'stop';
  readonly title: string;
  readonly detail: string;
  /** What it does to the result: "u +0.12 K", "no effect", "set this run aside". */
  readonly effect: string;
  readonly at_s?: number;
}

/** Flags in the order they are read: gravest first. */
export function sortFlags(flags: readonly RunFlag[]): RunFlag[] {
  const rank = { stop: 0, look: 1, holds: 2 };
  return flags.toSorted((a, b) => rank[a.level] - rank[b.level]);
}

export interface RunResult {
  readonly run: string;
  readonly setup: string;
  readonly session: string;
  readonly mounting: string;
  readonly charging: boolean;
  readonly report: ImportReport;
  readonly startedAt: string | null;
  readonly span_s: number;
  readonly phases: readonly Phase[];
  readonly loop_s: number | null;
  readonly plateaus: readonly {
    readonly probe: string;
    readonly phase: 'idle' | 'load';
    readonly result: Result<Plateau, NoPlateau>;
  }[];
  readonly flags: readonly RunFlag[];
  /** Whether the run enters the comparison, and if not, why. */
  readonly counted: boolean;
  readonly whyNot: string | null;
}
