/**
 * A measured or computed number with its standard uncertainty and effective degrees of freedom.
 * `dof` is null where the uncertainty counts as known exactly (JSON has no infinity).
 *
 * @source [JCGM-100] clauses 2.3.1 and G.4
 */
export interface Estimate {
  readonly value: number;
  readonly u: number;
  readonly dof: number | null;
}

/** Degrees of freedom as a number that arithmetic can use: null becomes infinity. */
export function dofNumber(estimate: Pick<Estimate, 'dof'>): number {
  return estimate.dof ?? Number.POSITIVE_INFINITY;
}

/** Degrees of freedom as a record can hold them: infinity becomes null. */
export function dofRecord(dof: number): number | null {
  return Number.isFinite(dof) ? dof : null;
}

/**
 * Effective degrees of freedom of a sum of independent contributions.
 *
 * @param contributions standard uncertainties (already multiplied by their sensitivities) with their degrees of freedom
 * @source [JCGM-100] Eq. G.2b, Welch-Satterthwaite
 */
export function effectiveDof(
  contributions: readonly { readonly u: number; readonly dof: number | null }[],
): number {
  let sum2 = 0;
  let quarter = 0;
  for (const { u, dof } of contributions) {
    sum2 += u * u;
    if (dof !== null) quarter += u ** 4 / dof;
  }
  return quarter > 0 ? (sum2 * sum2) / quarter : Number.POSITIVE_INFINITY;
}

/** Root of the sum of squares: the standard uncertainty of a sum of independent contributions. */
export function combineU(...us: readonly number[]): number {
  return Math.hypot(...us);
}
