import { correctionU_K, correctReading_C } from './apply-correction.js';
import type { Correction } from './correction.js';

/** What one check says of a probe, with the day it was made. */
export interface DatedCorrection {
  readonly at: string | undefined;
  readonly correction: Correction;
}

/** How one probe moved between two of its checks. */
export interface Drift {
  readonly probe: string;
  readonly from: { readonly check: string; readonly at: string | undefined };
  readonly to: { readonly check: string; readonly at: string | undefined };
  readonly at_C: number;
  /** Later correction minus earlier one, K: positive where the probe has come to read lower. */
  readonly change_K: number;
  /** Standard uncertainty of that change: both checks, each with its baths. */
  readonly change_u_K: number;
  /** True where the change is more than twice its uncertainty: the probe has moved, not only the checks. */
  readonly isShown: boolean;
  /** What the change puts on a reading taken since: anywhere up to the change either way. */
  readonly u_K: number;
}

/**
 * Drift of a probe from its correction in two checks.
 *
 * A reading since the earlier check may carry any part of what the later one found, and may since have moved as far again:
 * a rectangular distribution of the change either way. Two checks that agree to within their doubt still leave that change
 * as the best that is known.
 *
 * @param at_C where to take the difference, °C
 * @source [JCGM-100] F.2.3.3 for the rectangular distribution; its width is common practice, no source
 */
export function driftBetween(earlier: DatedCorrection, later: DatedCorrection, at_C: number): Drift {
  const added = ({ correction }: DatedCorrection) => correctReading_C(correction, at_C) - at_C;
  const change_K = added(later) - added(earlier);
  const change_u_K = Math.hypot(
    correctionU_K(earlier.correction, at_C),
    correctionU_K(later.correction, at_C),
  );
  return {
    probe: later.correction.probe,
    from: { check: earlier.correction.check ?? '', at: earlier.at },
    to: { check: later.correction.check ?? '', at: later.at },
    at_C,
    change_K,
    change_u_K,
    isShown: Math.abs(change_K) > 2 * change_u_K,
    u_K: Math.abs(change_K) / Math.sqrt(3),
  };
}
