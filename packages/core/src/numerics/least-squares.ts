/**
 * Linear least squares by Householder reflections, for the small problems of this trade: up to some dozens of columns.
 * Orthogonal steps keep nearly parallel columns (two time constants) apart where normal equations would lose them.
 */
export interface LeastSquares {
  /** Solution, one per column. */
  readonly x: Float64Array;
  /** Sum of squared residuals. */
  readonly rss: number;
  /** Inverse of (AᵀA), row by row, columns × columns: multiply by the residual variance for the covariance. */
  readonly unscaled: Float64Array;
}

/**
 * Solves min |A x - b|².
 *
 * @param columns the columns of A, all of b's length
 * @param b right-hand side
 * @returns null where the columns are linearly dependent to working precision
 * @source [GVL] Golub and Van Loan, Matrix Computations, algorithms 5.2.1 and 5.3.2
 */
export function solveLeastSquares(columns: readonly Float64Array[], b: Float64Array): LeastSquares | null {
  const n = columns.length;
  const m = b.length;
  if (m < n || n === 0) return null;
  const a = columns.map((column) => column.slice());
  const y = b.slice();
  const diagonal = new Float64Array(n);
  const norms = a.map((column) => Math.sqrt(dot(column, column, 0)));
  for (let k = 0; k < n; k++) {
    const v = a[k] as Float64Array;
    const length = Math.sqrt(dot(v, v, k));
    if (!(length > 1e-13 * (norms[k] as number)) || length === 0) return null;
    const alpha = (v[k] as number) > 0 ? -length : length;
    diagonal[k] = alpha;
    v[k] = (v[k] as number) - alpha;
    const half = dot(v, v, k) / 2;
    for (let j = k + 1; j < n; j++) reflect(v, a[j] as Float64Array, k, half);
    reflect(v, y, k, half);
  }
  const upper = (i: number, j: number) =>
    i === j ? (diagonal[i] as number) : ((a[j] as Float64Array)[i] as number);
  const x = new Float64Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let sum = y[i] as number;
    for (let j = i + 1; j < n; j++) sum -= upper(i, j) * (x[j] as number);
    x[i] = sum / (diagonal[i] as number);
  }
  let rss = 0;
  for (let i = n; i < m; i++) rss += (y[i] as number) ** 2;
  return { x, rss, unscaled: gramInverse(n, upper) };
}

function dot(a: Float64Array, b: Float64Array, from: number): number {
  let sum = 0;
  for (let i = from; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}

function reflect(v: Float64Array, target: Float64Array, from: number, half: number): void {
  const scale = dot(v, target, from) / half;
  for (let i = from; i < v.length; i++) target[i] = (target[i] as number) - scale * (v[i] as number);
}

/** (RᵀR)⁻¹ from the triangular factor. */
function gramInverse(n: number, upper: (i: number, j: number) => number): Float64Array {
  const inverse = new Float64Array(n * n); // R⁻¹, upper triangular
  for (let j = 0; j < n; j++) {
    inverse[j * n + j] = 1 / upper(j, j);
    for (let i = j - 1; i >= 0; i--) {
      let sum = 0;
      for (let k = i + 1; k <= j; k++) sum += upper(i, k) * (inverse[k * n + j] as number);
      inverse[i * n + j] = -sum / upper(i, i);
    }
  }
  const gram = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      let sum = 0;
      for (let k = Math.max(i, j); k < n; k++)
        sum += (inverse[i * n + k] as number) * (inverse[j * n + k] as number);
      gram[i * n + j] = sum;
    }
  }
  return gram;
}

/**
 * Solves min Σ wᵢ (A x - b)ᵢ².
 * @param weights all positive; 1/u² where u are standard uncertainties
 */
export function solveWeighted(
  columns: readonly Float64Array[],
  b: Float64Array,
  weights: Float64Array,
): LeastSquares | null {
  const root = weights.map(Math.sqrt);
  const scaled = (column: Float64Array) => column.map((value, i) => value * (root[i] as number));
  return solveLeastSquares(columns.map(scaled), scaled(b));
}
