import { solveWeighted } from '../numerics/index.js';

/** One run's settled rise: the unit of every comparison. */
export interface Observation {
  readonly run: string;
  readonly setup: string;
  readonly session: string;
  readonly rise_K: number;
  /** Doubt from within the run, K. */
  readonly u_K: number;
}

/** Means of all set-ups with what their differences are uncertain by. */
export interface SetupFit {
  readonly setups: readonly string[];
  readonly mean_K: readonly number[];
  /** Covariance of the means, K², row by row. */
  readonly covariance: Float64Array;
  /** Spread from run to run, within-run doubt taken out, K. */
  readonly runToRun_K: number;
  readonly dof: number;
}

/**
 * Weighted linear model of the runs: a mean per set-up and, with blocks, a shift per session.
 *
 * Each run has the variance s² + u², with its own u known and the run-to-run s² chosen so that the weighted residuals are as
 * large as they should be; equal u's make it ordinary least squares. Where the runs scatter less than their u's say, the u's
 * stand: agreement of a few runs is luck, not knowledge.
 *
 * @param setups in the order wanted; each must occur
 * @param sessions to take out as blocks; empty for none
 * @returns null where there are no more runs than parameters
 * @source [PAULE-MANDEL-82] for s²; [KNAPP-HARTUNG-03] with the floor of one for the scale
 */
export function fitSetups(
  observations: readonly Observation[],
  setups: readonly string[],
  sessions: readonly string[],
): SetupFit | null {
  const columns = [
    ...setups.map((setup) => indicator(observations, (run) => run.setup === setup)),
    ...sessionShifts(observations, sessions),
  ];
  const dof = observations.length - columns.length;
  if (dof < 1) return null;
  const rises = Float64Array.from(observations, (run) => run.rise_K);
  const solveAt = (s2: number) =>
    solveWeighted(
      columns,
      rises,
      Float64Array.from(observations, (run) => 1 / Math.max(s2 + run.u_K ** 2, leastVariance)),
    );
  const excess = (s2: number) => (solveAt(s2)?.rss ?? 0) - dof;
  const s2 = excess(0) <= 0 ? 0 : fallingRoot(excess);
  const solution = solveAt(s2);
  if (solution === null) return null;
  const count = setups.length;
  const covariance = new Float64Array(count * count);
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++)
      covariance[i * count + j] = solution.unscaled[i * columns.length + j] as number;
  }
  return { setups, mean_K: [...solution.x.slice(0, count)], covariance, runToRun_K: Math.sqrt(s2), dof };
}

/** Keeps weights finite where neither runs nor readings show any spread, K². */
const leastVariance = 1e-12;

function indicator(observations: readonly Observation[], is: (run: Observation) => boolean): Float64Array {
  return Float64Array.from(observations, (run) => (is(run) ? 1 : 0));
}

/** Shifts that add up to nothing, so that a set-up's mean is its mean in the average session. */
function sessionShifts(observations: readonly Observation[], sessions: readonly string[]): Float64Array[] {
  const last = sessions.at(-1);
  return sessions
    .slice(0, -1)
    .map((session) =>
      Float64Array.from(observations, (run) => (run.session === session ? 1 : run.session === last ? -1 : 0)),
    );
}

/** Root of a falling function that is positive at 0, to rounding. */
function fallingRoot(f: (x: number) => number): number {
  let high = 1e-6;
  while (f(high) > 0 && high < 1e9) high *= 10;
  let low = 0;
  for (let i = 0; i < 200 && high - low > 1e-15 * high; i++) {
    const middle = (low + high) / 2;
    if (f(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
