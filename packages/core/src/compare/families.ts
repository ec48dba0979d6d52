import { dofNumber, type Estimate } from '../measure/index.js';
import {
  dunnettCdf,
  dunnettQuantile,
  studentizedRangeCdf,
  studentizedRangeQuantile,
} from '../numerics/index.js';
import type { SetupFit } from './fit-setups.js';

/** One comparison in a family that holds together with 95 %. */
export interface Member {
  /** Indices of the two set-ups: how much cooler the first is than the second. */
  readonly i: number;
  readonly j: number;
  readonly difference: Estimate;
  /** Half-width of the simultaneous interval in standard uncertainties. */
  readonly point: number;
  /** Chance of so large a difference anywhere in the family where there is none. */
  readonly p: number;
}

export type Family = readonly Member[];

const coverage = 0.95;

/** All pairs, the cooler one first. @source [KRAMER-1956] with each pair's own degrees of freedom */
export function pairFamily(fit: SetupFit): Family {
  const count = fit.setups.length;
  const points = remember((dof) => studentizedRangeQuantile(coverage, count, dof) / Math.SQRT2);
  const family: Member[] = [];
  for (let a = 0; a < count; a++) {
    for (let b = a + 1; b < count; b++) {
      const [i, j] = (fit.mean_K[a] as number) <= (fit.mean_K[b] as number) ? [a, b] : [b, a];
      const difference = fit.differenceOf(i, j);
      const dof = dofNumber(difference);
      const t = Math.abs(difference.value) / difference.u;
      const p = 1 - studentizedRangeCdf(Math.SQRT2 * t, count, dof);
      family.push({ i, j, difference, point: points(dof), p });
    }
  }
  return family;
}

/** Each set-up against the first. @source [DUNNETT-1955] with each comparison's own degrees of freedom */
export function baselineFamily(fit: SetupFit): Family {
  const others = fit.setups.slice(1).map((_, k) => k + 1);
  if (others.length === 0) return [];
  const loadings = commonFactor(others.map((i) => others.map((j) => baselineCorrelation(fit, i, j))));
  const points = remember((dof) => dunnettQuantile(coverage, loadings, dof));
  return others.map((i) => {
    const difference = fit.differenceOf(i, 0);
    const dof = dofNumber(difference);
    const t = Math.abs(difference.value) / difference.u;
    return { i, j: 0, difference, point: points(dof), p: 1 - dunnettCdf(t, loadings, dof) };
  });
}

/** Comparisons of one plan share their degrees of freedom to rounding, and the integral behind a point is not cheap. */
function remember(compute: (dof: number) => number): (dof: number) => number {
  const known = new Map<string, number>();
  return (dof) => {
    const key = dof.toPrecision(9);
    const value = known.get(key) ?? compute(dof);
    known.set(key, value);
    return value;
  };
}

function baselineCorrelation(fit: SetupFit, i: number, j: number): number {
  const count = fit.setups.length;
  const at = (a: number, b: number) => fit.covariance_K2[a * count + b] as number;
  const spread = (a: number) => Math.sqrt(at(a, a) + at(0, 0) - 2 * at(a, 0));
  return (at(i, j) - at(i, 0) - at(j, 0) + at(0, 0)) / (spread(i) * spread(j));
}

/**
 * Loadings b with b_i b_j nearest to the correlations off the diagonal.
 * Exact wherever the correlations are such products, which they are for independent means against one control.
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
