import { median } from '../numerics/index.js';
import type { RunResult } from '../runs/index.js';

/** Length of a first run, before any was made. @assumed one hour idle, two hours load; common practice, no source */
const firstRun_s = 10_800;

/** How long a run takes on this bench, s: the median of those that counted. */
export function usualRun_s(runs: readonly Pick<RunResult, 'counted' | 'span_s'>[]): number {
  const counted = runs.filter((run) => run.counted);
  return counted.length > 0 ? median(counted.map((run) => run.span_s)) : firstRun_s;
}
