import { formatNumber } from '../../measure/index.js';
import type { Tolerance } from './sensor.js';

/** NTC have no classes of tolerance: each sheet gives its own, and without one there is none to assume. */
export function ntcTolerance(stated_K: number | undefined): Tolerance | null {
  if (stated_K === undefined) return null;
  return {
    words: `its sheet’s ± ${formatNumber(stated_K, stated_K < 1 ? 2 : 1)} K`,
    isAssumed: false,
    halfWidth_K: () => stated_K,
  };
}
