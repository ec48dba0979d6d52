import { dofRecord } from '../measure/index.js';
import {
  dunnettCdf,
  dunnettQuantile,
  studentizedRangeCdf,
  studentizedRangeQuantile,
  tQuantile,
} from '../numerics/index.js';
import { chooseBlocks } from './choose-blocks.js';
import type { Contest, Difference, Quantity, SetupRise } from './contest.js';
import { fitSetups, type Observation, type SetupFit } from './fit-setups.js';

/**
 * Run-to-run spread where no set-up was measured twice.
 * @assumed 0.6 K: opening the shell, re-seating pack and probes; common practice, no source. Replaced by the build's own
 *   spread as soon as one set-up has two runs
 */
export const assumedRunToRun_K = 0.6;

/** Chance of calling any difference shown where there is none, for a whole family of comparisons. */
const falseAlarm = 0.05;

/**
 * Compares all set-ups in one quantity. The run is the unit: thousands of samples of one run are one observation.
 *
 * Against the baseline the intervals hold together as a family (Dunnett), for all pairs as another (Tukey-Kramer). With blocks
 * or unequal numbers of runs the second is slightly wide for some pairs and never known to be narrow; the first follows the
 * correlations by one common factor, which is exact without blocks and in complete blocks.
 *
 * With one run per set-up there is no finding at all: the spread is then an assumption, and what could have been seen is named.
 *
 * @param observations one per counted run; at least one
 * @param baseline the set-up the others are held against; the first one where it was not measured
 * @source [DUNNETT-1955]; [KRAMER-1956] for unequal numbers; [JCGM-100] 4.2 for the run as the unit
 */
export function compareSetups(
  quantity: Quantity,
  observations: readonly Observation[],
  baseline: string,
): Contest {
  const setups = [...new Set(observations.map((run) => run.setup))];
  const base = setups.includes(baseline) ? baseline : (setups[0] as string);
  const order = [base, ...setups.filter((setup) => setup !== base)];
  const blocks = chooseBlocks(observations, order);
  const fit = fitSetups(observations, order, blocks.sessions);
  const notes = [...blocks.notes];
  if (base !== baseline && order.length > 1)
    notes.push('The baseline was not measured in this quantity; the first set-up stands in for it.');
  for (const setup of order) {
    if (fit !== null && observations.filter((run) => run.setup === setup).length === 1) {
      notes.push(`${setup} rests on one run; its spread is taken to be that of the others.`);
    }
  }
  const used = fit ?? assumeSpread(observations, order);
  return {
    quantity,
    baseline: base,
    setups: order.map((setup, i) => riseOf(setup, i, used, observations)),
    toBaseline: againstBaseline(used, observations, fit !== null),
    pairs: allPairs(used, observations, fit !== null),
    runToRun: {
      sd_K: Math.max(fit?.runToRun_K ?? assumedRunToRun_K, 0),
      dof: fit === null ? null : dofRecord(fit.dof),
      assumed: fit === null,
    },
    blocks: fit !== null && blocks.sessions.length > 0 ? 'session' : 'none',
    canShow_K: canShow(used),
    notes,
  };
}

/** Means without repeats: the spread between runs is assumed, not found. */
function assumeSpread(observations: readonly Observation[], setups: readonly string[]): SetupFit {
  const count = setups.length;
  const covariance = new Float64Array(count * count);
  const mean_K = setups.map((setup, i) => {
    const runs = observations.filter((run) => run.setup === setup);
    covariance[i * count + i] =
      runs.reduce((sum, run) => sum + assumedRunToRun_K ** 2 + run.u_K ** 2, 0) / runs.length ** 2;
    return runs.reduce((sum, run) => sum + run.rise_K, 0) / runs.length;
  });
  return { setups, mean_K, covariance, runToRun_K: assumedRunToRun_K, dof: Number.POSITIVE_INFINITY };
}

function riseOf(
  setup: string,
  index: number,
  fit: SetupFit,
  observations: readonly Observation[],
): SetupRise {
  const value = fit.mean_K[index] as number;
  const u = Math.sqrt(varianceOf(fit, index));
  const half = tQuantile(1 - falseAlarm / 2, fit.dof) * u;
  return {
    setup,
    rise_K: { value, u, dof: dofRecord(fit.dof) },
    interval95_K: [value - half, value + half],
    runs: observations
      .filter((run) => run.setup === setup)
      .map(({ run, session, rise_K, u_K }) => ({ run, session, rise_K, u_K })),
  };
}

function varianceOf(fit: SetupFit, i: number, j = i): number {
  return fit.covariance[i * fit.setups.length + j] as number;
}

function differenceU(fit: SetupFit, i: number, j: number): number {
  return Math.sqrt(varianceOf(fit, i) + varianceOf(fit, j) - 2 * varianceOf(fit, i, j));
}

function makeDifference(
  fit: SetupFit,
  i: number,
  j: number,
  point: number,
  p: number,
  decided: boolean,
): Difference {
  const value = (fit.mean_K[j] as number) - (fit.mean_K[i] as number);
  const u = differenceU(fit, i, j);
  return {
    setup: fit.setups[i] as string,
    other: fit.setups[j] as string,
    cooler_K: { value, u, dof: dofRecord(fit.dof) },
    simultaneous95_K: [value - point * u, value + point * u],
    p,
    finding: !decided ? 'no-verdict' : p < falseAlarm ? 'shown' : 'not-shown',
  };
}

/** A pair of single runs says nothing of its own, whatever the spread of the others. */
function isDecided(
  fit: SetupFit,
  i: number,
  j: number,
  observations: readonly Observation[],
  repeated: boolean,
): boolean {
  const runsOf = (index: number) => observations.filter((run) => run.setup === fit.setups[index]).length;
  return repeated && runsOf(i) + runsOf(j) > 2;
}

function againstBaseline(
  fit: SetupFit,
  observations: readonly Observation[],
  repeated: boolean,
): Difference[] {
  const others = fit.setups.slice(1).map((_, k) => k + 1);
  if (others.length === 0) return [];
  const loadings = commonFactor(others.map((i) => others.map((j) => baselineCorrelation(fit, i, j))));
  const point = dunnettQuantile(1 - falseAlarm, loadings, fit.dof);
  return others.map((i) => {
    const t = Math.abs(((fit.mean_K[0] as number) - (fit.mean_K[i] as number)) / differenceU(fit, i, 0));
    return makeDifference(
      fit,
      i,
      0,
      point,
      1 - dunnettCdf(t, loadings, fit.dof),
      isDecided(fit, i, 0, observations, repeated),
    );
  });
}

function baselineCorrelation(fit: SetupFit, i: number, j: number): number {
  const covariance =
    varianceOf(fit, i, j) - varianceOf(fit, i, 0) - varianceOf(fit, j, 0) + varianceOf(fit, 0);
  return covariance / (differenceU(fit, i, 0) * differenceU(fit, j, 0));
}

/**
 * Loadings b with b_i b_j nearest to the correlations off the diagonal.
 * Exact wherever the correlations are such products, which they are for means against one control.
 */
function commonFactor(correlations: readonly (readonly number[])[]): number[] {
  const count = correlations.length;
  let loadings = correlations.map((row) => {
    const others = row.reduce((sum, value) => sum + value, 0) - 1;
    return count > 1 ? Math.sqrt(Math.max(0.01, others / (count - 1))) : 0;
  });
  for (let pass = 0; pass < 500 && count > 1; pass++) {
    const next = loadings.map((_, i) => {
      let above = 0;
      let below = 0;
      for (let j = 0; j < count; j++) {
        if (j === i) continue;
        above += (correlations[i]?.[j] as number) * (loadings[j] as number);
        below += (loadings[j] as number) ** 2;
      }
      return Math.max(-0.999, Math.min(0.999, below > 0 ? above / below : 0));
    });
    const mixed = next.map((value, i) => (value + (loadings[i] as number)) / 2);
    const change = Math.max(...mixed.map((value, i) => Math.abs(value - (loadings[i] as number))));
    loadings = mixed;
    if (change < 1e-13) break;
  }
  return loadings;
}

function allPairs(fit: SetupFit, observations: readonly Observation[], repeated: boolean): Difference[] {
  const count = fit.setups.length;
  if (count < 2) return [];
  const point = studentizedRangeQuantile(1 - falseAlarm, count, fit.dof) / Math.SQRT2;
  const pairs: Difference[] = [];
  for (let a = 0; a < count; a++) {
    for (let b = a + 1; b < count; b++) {
      const [i, j] = (fit.mean_K[a] as number) <= (fit.mean_K[b] as number) ? [a, b] : [b, a];
      const t = Math.abs(((fit.mean_K[i] as number) - (fit.mean_K[j] as number)) / differenceU(fit, i, j));
      const p = 1 - studentizedRangeCdf(Math.SQRT2 * t, count, fit.dof);
      pairs.push(makeDifference(fit, i, j, point, p, isDecided(fit, i, j, observations, repeated)));
    }
  }
  return pairs;
}

/** Half the width of the median pair's simultaneous interval: smaller differences stay hidden. */
function canShow(fit: SetupFit): number | null {
  const count = fit.setups.length;
  if (count < 2) return null;
  const us: number[] = [];
  for (let i = 0; i < count; i++) for (let j = i + 1; j < count; j++) us.push(differenceU(fit, i, j));
  us.sort((a, b) => a - b);
  return (
    (studentizedRangeQuantile(1 - falseAlarm, count, fit.dof) / Math.SQRT2) * (us[us.length >> 1] as number)
  );
}
