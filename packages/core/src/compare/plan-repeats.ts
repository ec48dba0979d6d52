import { studentizedRangeQuantile, tTestPower } from '../numerics/index.js';
import type { Contest, Difference } from './contest.js';

/** Chance of showing a difference that is there, for which runs are planned. @assumed the customary 80 % */
export const planPower = 0.8;

/** How many further runs would tell two set-ups apart, if their difference is what it looks like. */
export interface RepeatPlan {
  /** Runs to add per set-up, by id. */
  readonly add: Readonly<Record<string, number>>;
  readonly total: number;
  /** The difference that this pair, as one planned comparison, would show with a chance of 80 %, now and then, K. */
  readonly now_K: number;
  readonly then_K: number;
}

/** More runs than this are not an evening's work, and the difference is better called too small to matter. */
const most = 8;

/**
 * Adds runs one at a time to whichever of the two has fewer, each with a mounting of its own, until one planned comparison at
 * the spread found so far shows the difference seen with a chance of 80 %.
 *
 * @returns null where eight more runs would not do
 * @source [JOHNSON-KOTZ-95] section 31: power by noncentral t, ν growing by one per run
 */
export function planRepeats(contest: Contest, pair: Difference): RepeatPlan | null {
  const runsOf = (setup: string) =>
    contest.setups.find((candidate) => candidate.setup === setup)?.runs.length ?? 0;
  const sd_K = runSpread_K(contest);
  let [first, second] = [runsOf(pair.setup), runsOf(pair.other)];
  let dof = contest.runToRun.assumed ? 0 : (contest.runToRun.dof ?? 0);
  const resolved_K = () =>
    dof < 1 ? Number.POSITIVE_INFINITY : sd_K * Math.sqrt(1 / first + 1 / second) * shiftFor(dof);
  const now_K = resolved_K();
  for (let total = 1; total <= most; total++) {
    if (first <= second) first += 1;
    else second += 1;
    dof = contest.runToRun.assumed ? Math.max(0, total - 1) : dof + 1;
    const then_K = resolved_K();
    if (then_K < Math.abs(pair.cooler_K.value)) {
      const add: Record<string, number> = {};
      if (first > runsOf(pair.setup)) add[pair.setup] = first - runsOf(pair.setup);
      if (second > runsOf(pair.other)) add[pair.other] = second - runsOf(pair.other);
      return { add, total, now_K, then_K };
    }
  }
  return null;
}

/** Runs of every set-up, all together, that resolve a stated difference. */
export interface Resolution {
  readonly difference_K: number;
  /** Runs of each set-up in the whole plan, those already made among them. */
  readonly each: number;
  /** Runs still to make per set-up, by id; set-ups that have enough are left out. */
  readonly add: Readonly<Record<string, number>>;
  readonly total: number;
  /** Set-ups in the plan. */
  readonly setups: number;
  /** Chance that this plan shows a true difference of that size between a given pair. */
  readonly power: number;
  /** Standard deviation of one run that the plan rests on, K, and whether it was assumed. */
  readonly run_K: number;
  readonly assumed: boolean;
}

/** No plan asks for more runs of one set-up than this. */
const mostEach = 60;

/**
 * How many runs of each set-up it takes for a true difference of the stated size to be shown, among all pairs at once, with
 * the power asked. The plan is as balanced as it can be: every set-up equally often, each run with a mounting of its own and,
 * where sessions are taken out, every set-up once in each session.
 *
 * The spread is that of the fitted components, and as uncertain as they are: with few runs so far the number is a guide.
 *
 * @param difference_K above 0
 * @param power chance of showing it, above 0 and below 1
 * @returns null where 60 runs of each would not do
 * @source [JOHNSON-KOTZ-95] section 31: noncentral t beyond the point of Tukey's family
 */
export function planResolution(
  contest: Contest,
  difference_K: number,
  power: number = planPower,
): Resolution | null {
  if (!(difference_K > 0))
    throw new RangeError(`difference_K must be above 0, received ${difference_K}. Is it signed?`);
  if (!(power > 0 && power < 1))
    throw new RangeError(`power must lie between 0 and 1, received ${power}. Is it in per cent?`);
  const groups = Math.max(2, contest.setups.length);
  const run_K = runSpread_K(contest);
  const inSessions = contest.sessions === 'random' || contest.sessions === 'shifts';
  for (let each = 2; each <= mostEach; each++) {
    const dof = (inSessions ? groups - 1 : groups) * (each - 1);
    const point = studentizedRangeQuantile(0.95, groups, dof) / Math.SQRT2;
    const reached = tTestPower(difference_K / (run_K * Math.sqrt(2 / each)), dof, point);
    if (reached < power) continue;
    const missing = contest.setups.map(
      ({ setup, runs }) => [setup, Math.max(0, each - runs.length)] as const,
    );
    return {
      difference_K,
      each,
      add: Object.fromEntries(missing.filter(([, count]) => count > 0)),
      total: missing.reduce((sum, [, count]) => sum + count, 0),
      setups: contest.setups.length,
      power: reached,
      run_K,
      assumed: contest.runToRun.assumed,
    };
  }
  return null;
}

/** Standard deviation of one run in its session: mounting, repeat, and the typical doubt from within a run. */
function runSpread_K({ spread, setups }: Contest): number {
  const runs = setups.flatMap((setup) => setup.runs);
  const own = runs.reduce((sum, { u_K }) => sum + u_K ** 2, 0) / Math.max(1, runs.length);
  return Math.hypot(spread.mounting_K, spread.repeat_K ?? 0, Math.sqrt(own));
}

/** True difference in standard errors that a two-sided t test at 5 % shows with the planned power. */
function shiftFor(dof: number): number {
  let low = 0;
  let high = 1;
  while (tTestPower(high, dof) < planPower) high *= 2;
  while (high - low > 1e-6 * high) {
    const middle = (low + high) / 2;
    if (tTestPower(middle, dof) < planPower) low = middle;
    else high = middle;
  }
  return high;
}
