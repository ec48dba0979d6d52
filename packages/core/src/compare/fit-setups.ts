import { dofRecord, type Estimate } from '../measure/index.js';
import { fitMixedModel, type Grouping, type MixedFit } from '../numerics/index.js';
import type { ModelChoice } from './choose-model.js';
import type { Spread } from './contest.js';
import { mountingOf, type Observation } from './observation.js';

/** Means of all set-ups with what they and their differences are uncertain by. */
export interface SetupFit {
  readonly setups: readonly string[];
  readonly mean_K: readonly number[];
  /** Covariance of the means, K², row by row. */
  readonly covariance_K2: Float64Array;
  readonly spread: Spread;
  /** Degrees of freedom of the spread between mountings. */
  readonly dof: number;
  meanOf(index: number): Estimate;
  /** How much warmer the second is than the first. */
  differenceOf(from: number, to: number): Estimate;
}

/**
 * Linear mixed model of the runs: a mean per set-up, and for each session and mounting a random shift, or for each session a
 * shift that is taken out, as the model chosen says. Beside these each run has its own known variance u².
 *
 * Where runs scatter less than their u's say, the u's stand: agreement of a few runs is luck, not knowledge.
 *
 * @param setups in the order wanted; each must occur
 * @returns null where nothing is left over to estimate the spread between mountings from
 * @source [PATTERSON-THOMPSON-71] restricted likelihood; [KENWARD-ROGER-97] uncertainty and degrees of freedom
 */
export function fitSetups(
  observations: readonly Observation[],
  setups: readonly string[],
  model: ModelChoice,
): SetupFit | null {
  if (model.mountingDof < 1) return null;
  const groupings: Grouping[] = [];
  if (model.sessions === 'random') groupings.push(observations.map(({ session }) => session));
  groupings.push(observations.map(mountingOf));
  if (model.hasRepeats) groupings.push(observations.map((_, index) => index));
  // Rises are close together: measured from the first of them, the sums lose no digits.
  const origin_K = observations[0]?.rise_K ?? 0;
  const fit = fitMixedModel({
    columns: [
      ...setups.map((setup) => indicator(observations, (run) => run.setup === setup)),
      ...(model.sessions === 'shifts' ? sessionShifts(observations) : []),
    ],
    observations: Float64Array.from(observations, (run) => run.rise_K - origin_K),
    groupings,
    known: Float64Array.from(observations, (run) => Math.max(run.u_K ** 2, leastVariance_K2)),
  });
  return fit === null ? null : describeFit(fit, setups, model, origin_K);
}

/** Keeps the model solvable where neither runs nor readings show any spread. */
const leastVariance_K2 = 1e-12;

function describeFit(
  fit: MixedFit,
  setups: readonly string[],
  model: ModelChoice,
  origin_K: number,
): SetupFit {
  const width = fit.fixed.length;
  const count = setups.length;
  const covariance_K2 = new Float64Array(count * count);
  for (let i = 0; i < count; i++)
    for (let j = 0; j < count; j++) covariance_K2[i * count + j] = fit.covariance[i * width + j] as number;
  const sizes = fit.components.map(Math.sqrt);
  const contrast = (weightOf: (column: number) => number): Estimate => {
    const { value, u, dof } = fit.contrast(Array.from({ length: width }, (_, column) => weightOf(column)));
    // Beyond nine digits are the dregs of a search, and four degrees of freedom are four.
    return { value, u, dof: dofRecord(Number(dof.toPrecision(9))) };
  };
  return {
    setups,
    mean_K: Array.from(fit.fixed.slice(0, count), (mean) => mean + origin_K),
    covariance_K2,
    spread: {
      session_K: model.sessions === 'random' ? (sizes.shift() as number) : null,
      mounting_K: sizes.shift() as number,
      repeat_K: sizes.shift() ?? null,
    },
    dof: model.mountingDof,
    meanOf(index) {
      const mean = contrast((column) => (column === index ? 1 : 0));
      return { ...mean, value: mean.value + origin_K };
    },
    differenceOf: (from, to) => contrast((column) => (column === to ? 1 : column === from ? -1 : 0)),
  };
}

function indicator(observations: readonly Observation[], is: (run: Observation) => boolean): Float64Array {
  return Float64Array.from(observations, (run) => (is(run) ? 1 : 0));
}

/** Shifts that add up to nothing, so that a set-up's mean is its mean in the average session. */
function sessionShifts(observations: readonly Observation[]): Float64Array[] {
  const sessions = [...new Set(observations.map(({ session }) => session))].sort();
  const last = sessions.at(-1);
  return sessions
    .slice(0, -1)
    .map((session) =>
      Float64Array.from(observations, (run) => (run.session === session ? 1 : run.session === last ? -1 : 0)),
    );
}

/**
 * Means where the spread between mountings is an assumption: runs of one mounting are one observation of it.
 *
 * @param spread_K the spread assumed
 */
export function assumeSpread(
  observations: readonly Observation[],
  setups: readonly string[],
  spread_K: number,
): SetupFit {
  const means = setups.map((setup) => {
    const runs = observations.filter((run) => run.setup === setup);
    const mountings = new Set(runs.map(mountingOf)).size;
    const value = runs.reduce((sum, run) => sum + run.rise_K, 0) / runs.length;
    const own = runs.reduce((sum, run) => sum + run.u_K ** 2, 0) / runs.length ** 2;
    return { value, variance: spread_K ** 2 / mountings + own };
  });
  const count = setups.length;
  const covariance_K2 = new Float64Array(count * count);
  means.forEach(({ variance }, i) => {
    covariance_K2[i * count + i] = variance;
  });
  const at = (index: number) => means[index] as (typeof means)[number];
  return {
    setups,
    mean_K: means.map(({ value }) => value),
    covariance_K2,
    spread: { session_K: null, mounting_K: spread_K, repeat_K: null },
    dof: Number.POSITIVE_INFINITY,
    meanOf: (index) => ({ value: at(index).value, u: Math.sqrt(at(index).variance), dof: null }),
    differenceOf: (from, to) => ({
      value: at(to).value - at(from).value,
      u: Math.sqrt(at(from).variance + at(to).variance),
      dof: null,
    }),
  };
}
