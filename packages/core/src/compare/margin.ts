import type { Estimate } from '../measure/index.js';
import type { Limit } from '../records/index.js';

/** One limit in one use of the device with one set-up, at the design ambient. */
export interface Margin {
  readonly setup: string;
  readonly limit: Limit;
  /** What the device does: the phase and whether it charges. `stored` is at rest, at the design ambient. */
  readonly use: 'discharging-idle' | 'discharging-load' | 'charging-idle' | 'charging-load' | 'stored';
  readonly title: string;
  /** The probe that decides, the warmest one the limit speaks of; null where none was measured. */
  readonly probe: string | null;
  readonly expected_C: Estimate | null;
  /** Limit minus expected, K. */
  readonly margin_K: number | null;
  /** What the margin is at least, with 95 % one-sided coverage, K. */
  readonly atLeast_K: number | null;
  /** Highest ambient at which the limit holds with the same coverage, °C. */
  readonly highestAmbient_C: number | null;
  /** `holds`, `look` (less than 2 K left), `stop` (passed), `unknown` (not measured). */
  readonly level: 'holds' | 'look' | 'stop' | 'unknown';
  /** True where the expected temperature is only a lower bound: the charge's own heat was not measured. */
  readonly lowerBound: boolean;
  readonly missing: string | null;
  /** Runs the figure rests on. */
  readonly evidence: readonly string[];
  /** True where the rise comes from the heat model and no run of this set-up was made. */
  readonly predicted?: boolean;
}
