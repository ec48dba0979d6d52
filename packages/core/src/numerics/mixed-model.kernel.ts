/**
 * Dense algebra of a linear mixed model, V = D + sum of t_k Z_k Z_k'.
 *   n  rows (runs)   |   p  columns of X   |   g  level of each row in one grouping   n   |   L  how many levels
 *   V, P  symmetric, row by row   n n   |   X, B  column after column   p n   |   C  (X' V^-1 X)^-1   p p
 *   y  observations   n   |   r  receives P y   n
 *
 * @source [SEARLE-92] section 6.6 for P and what follows from it
 */

/**
 * Inverts a symmetric positive definite matrix in place, by Cholesky.
 * Returns the logarithm of its determinant, NaN where it is not positive definite.
 */
export function invertSymmetric(A: Float64Array, n: number): number {
  let logDet = 0;
  for (let j = 0; j < n; j++) {
    let d = A[j * n + j]!;
    for (let k = 0; k < j; k++) d -= A[j * n + k]! * A[j * n + k]!;
    if (!(d > 0)) return Number.NaN;
    const root = Math.sqrt(d);
    logDet += 2 * Math.log(root);
    A[j * n + j] = root;
    for (let i = j + 1; i < n; i++) {
      let s = A[i * n + j]!;
      for (let k = 0; k < j; k++) s -= A[i * n + k]! * A[j * n + k]!;
      A[i * n + j] = s / root;
    }
  }
  // The lower triangle becomes its own inverse M, then M' M.
  for (let j = 0; j < n; j++) {
    A[j * n + j] = 1 / A[j * n + j]!;
    for (let i = j + 1; i < n; i++) {
      let s = 0;
      for (let k = j; k < i; k++) s -= A[i * n + k]! * A[k * n + j]!;
      A[i * n + j] = s / A[i * n + i]!;
    }
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let s = 0;
      for (let k = i; k < n; k++) s += A[k * n + i]! * A[k * n + j]!;
      A[j * n + i] = s;
      A[i * n + j] = s;
    }
  }
  return logDet;
}

/** The variances of the rows and what they share: V from D and the components. */
export function fillVariance(
  V: Float64Array,
  D: Float64Array,
  groupings: readonly Int32Array[],
  t: readonly number[],
): void {
  const n = D.length;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let v = i === j ? D[i]! : 0;
      for (let k = 0; k < t.length; k++) if (groupings[k]![i] === groupings[k]![j]) v += t[k]!;
      V[i * n + j] = v;
      V[j * n + i] = v;
    }
  }
}

/** B = V^-1 X and C = (B' X)^-1; returns ln det of X' V^-1 X, NaN where X's columns are dependent. */
export function projectColumns(
  Vinv: Float64Array,
  X: readonly Float64Array[],
  n: number,
  B: Float64Array,
  C: Float64Array,
): number {
  const p = X.length;
  for (let a = 0; a < p; a++) {
    const x = X[a]!;
    for (let i = 0; i < n; i++) {
      let s = 0;
      for (let j = 0; j < n; j++) s += Vinv[i * n + j]! * x[j]!;
      B[a * n + i] = s;
    }
  }
  for (let a = 0; a < p; a++) {
    for (let b = 0; b <= a; b++) {
      let s = 0;
      for (let i = 0; i < n; i++) s += B[a * n + i]! * X[b]![i]!;
      C[a * p + b] = s;
      C[b * p + a] = s;
    }
  }
  return invertSymmetric(C, p);
}

/** P = V^-1 - B C B', written over V^-1. */
export function subtractFixed(
  Vinv: Float64Array,
  B: Float64Array,
  C: Float64Array,
  n: number,
  p: number,
): void {
  const row = new Float64Array(p);
  for (let i = 0; i < n; i++) {
    for (let a = 0; a < p; a++) {
      let s = 0;
      for (let b = 0; b < p; b++) s += C[a * p + b]! * B[b * n + i]!;
      row[a] = s;
    }
    for (let j = 0; j < n; j++) {
      let s = 0;
      for (let a = 0; a < p; a++) s += row[a]! * B[a * n + j]!;
      Vinv[i * n + j] = Vinv[i * n + j]! - s;
    }
  }
}

export function multiply(A: Float64Array, x: Float64Array, n: number, out: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let s = 0;
    for (let j = 0; j < n; j++) s += A[i * n + j]! * x[j]!;
    out[i] = s;
  }
}

/** tr(P K_a P K_b) for two groupings: the squares of P summed over pairs of levels. */
export function traceProduct(
  P: Float64Array,
  n: number,
  ga: Int32Array,
  La: number,
  gb: Int32Array,
  Lb: number,
): number {
  const M = new Float64Array(La * Lb);
  for (let i = 0; i < n; i++) {
    const at = ga[i]! * Lb;
    for (let j = 0; j < n; j++) M[at + gb[j]!] = M[at + gb[j]!]! + P[i * n + j]!;
  }
  let s = 0;
  for (const m of M) s += m * m;
  return s;
}

/** tr(P K): P summed over all pairs of rows of one level. */
export function traceWithin(P: Float64Array, n: number, g: Int32Array): number {
  let s = 0;
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) if (g[i] === g[j]) s += P[i * n + j]!;
  return s;
}

/** K x: each entry replaced by the sum over its level. */
export function sumLevels(g: Int32Array, L: number, x: Float64Array): Float64Array {
  const sums = new Float64Array(L);
  for (let i = 0; i < x.length; i++) sums[g[i]!] = sums[g[i]!]! + x[i]!;
  return x.map((_, i) => sums[g[i]!]!);
}

export function dot(a: Float64Array, b: Float64Array): number {
  let s = 0;
  for (let i = 0; i < a.length; i++) s += a[i]! * b[i]!;
  return s;
}

/**
 * Solves A x = b for a small symmetric positive matrix, by elimination with pivots; null where it is singular.
 * Rows and columns are scaled to a diagonal of ones first: components may differ by many powers of ten.
 */
export function solveSmall(A: readonly (readonly number[])[], b: readonly number[]): number[] | null {
  const n = b.length;
  const scale = A.map((row, i) => 1 / Math.sqrt(row[i]!));
  if (!scale.every(Number.isFinite)) return null;
  const M = A.map((row, i) => [...row.map((a, j) => a * scale[i]! * scale[j]!), b[i]! * scale[i]!]);
  for (let k = 0; k < n; k++) {
    let top = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(M[i]![k]!) > Math.abs(M[top]![k]!)) top = i;
    if (!(Math.abs(M[top]![k]!) > 1e-11)) return null;
    [M[k], M[top]] = [M[top]!, M[k]!];
    for (let i = k + 1; i < n; i++) {
      const f = M[i]![k]! / M[k]![k]!;
      for (let j = k; j <= n; j++) M[i]![j] = M[i]![j]! - f * M[k]![j]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let s = M[i]![n]!;
    for (let j = i + 1; j < n; j++) s -= M[i]![j]! * x[j]!;
    x[i] = s / M[i]![i]!;
  }
  return x.map((value, i) => value * scale[i]!);
}
