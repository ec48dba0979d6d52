import { tQuantile } from '../numerics/index.js';
import type { Contest, Difference } from './contest.js';

/** How many further runs would tell two set-ups apart, if their difference is what it looks like. */
export interface RepeatPlan {
  /** Runs to add per set-up, by id. */
  readonly add: Readonly<Record<string, number>>;
  readonly total: number;
  /** What this pair could be told apart by now and then, as one planned comparison, K. */
  readonly now_K: number;
  readonly then_K: number;
}

/** More runs than this are not an evening's work, and the difference is better called too small to matter. */
const most = 8;

/**
 * Adds runs one at a time to whichever of the two has fewer, until the 95 % interval of this one comparison, at the spread
 * found so far, is narrower than the difference seen.
 *
 * @returns null where eight more runs would not do
 * @source derived: half-width t(0.975; ν) s √(1/n₁ + 1/n₂), ν growing by one per run
 */
export function planRepeats(contest: Contest, pair: Difference): RepeatPlan | null {
  const runsOf = (setup: string) =>
    contest.setups.find((candidate) => candidate.setup === setup)?.runs.length ?? 0;
  const sd_K = contest.runToRun.sd_K;
  let [first, second] = [runsOf(pair.setup), runsOf(pair.other)];
  let dof = contest.runToRun.assumed ? 0 : (contest.runToRun.dof ?? 0);
  const width = () =>
    dof < 1 ? Number.POSITIVE_INFINITY : tQuantile(0.975, dof) * sd_K * Math.sqrt(1 / first + 1 / second);
  const now_K = width();
  for (let total = 1; total <= most; total++) {
    if (first <= second) first += 1;
    else second += 1;
    dof = contest.runToRun.assumed ? Math.max(0, total - 1) : dof + 1;
    if (width() < Math.abs(pair.cooler_K.value)) {
      const add: Record<string, number> = {};
      if (first > runsOf(pair.setup)) add[pair.setup] = first - runsOf(pair.setup);
      if (second > runsOf(pair.other)) add[pair.other] = second - runsOf(pair.other);
      return { add, total, now_K, then_K: width() };
    }
  }
  return null;
}
