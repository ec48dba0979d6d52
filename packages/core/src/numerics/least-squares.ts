/**
 * Linear least squares by Householder reflections, for the small problems of this trade: up to some dozens of columns.
 * Orthogonal steps keep nearly parallel columns (two time constants) apart where normal equations would lose them.
 */
import { reduceColumns } from './least-squares.kernel.js';

export interface LeastSquares {
  /** Solution, one per column. */
  readonly x: Float64Array;
  /** Sum of squared residuals. */
  readonly rss: number;
}

export interface LeastSquaresWithCovariance extends LeastSquares {
  /** Inverse of (AᵀA), row by row, columns × columns: multiply by the residual variance for the covariance. */
  readonly unscaled: Float64Array;
}

/** Grows to the largest problem seen and is used again: allocating buffers costs a browser more than solving. */
let work = new Float64Array(0);
let diagonal = new Float64Array(0);

/** Loads and reduces the problem; `work` and `diagonal` then hold it until the next call. */
function reduce(columns: readonly Float64Array[], b: Float64Array): boolean {
  const n = columns.length;
  const m = b.length;
  if (m < n || n === 0) return false;
  if (work.length < (n + 1) * m) work = new Float64Array(2 * (n + 1) * m);
  if (diagonal.length < n) diagonal = new Float64Array(2 * n);
  for (let j = 0; j < n; j++) work.set(columns[j] as Float64Array, j * m);
  work.set(b, n * m);
  return reduceColumns(work, m, n, diagonal);
}

/** An entry of the triangle R of the problem just reduced. */
function upper(i: number, j: number, m: number): number {
  return i === j ? (diagonal[i] as number) : (work[j * m + i] as number);
}

function substitute(n: number, m: number): LeastSquares {
  const x = new Float64Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let sum = work[n * m + i] as number;
    for (let j = i + 1; j < n; j++) sum -= upper(i, j, m) * (x[j] as number);
    x[i] = sum / (diagonal[i] as number);
  }
  let rss = 0;
  for (let i = n * m + n; i < (n + 1) * m; i++) rss += (work[i] as number) ** 2;
  return { x, rss };
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
  return reduce(columns, b) ? substitute(columns.length, b.length) : null;
}

/** As `solveLeastSquares`, with the covariance of the solution over the residual variance. */
export function solveWithCovariance(
  columns: readonly Float64Array[],
  b: Float64Array,
): LeastSquaresWithCovariance | null {
  if (!reduce(columns, b)) return null;
  return { ...substitute(columns.length, b.length), unscaled: gramInverse(columns.length, b.length) };
}

/** (RᵀR)⁻¹ of the problem just reduced. */
function gramInverse(n: number, m: number): Float64Array {
  const inverse = new Float64Array(n * n); // R⁻¹, upper triangular
  for (let j = 0; j < n; j++) {
    inverse[j * n + j] = 1 / upper(j, j, m);
    for (let i = j - 1; i >= 0; i--) {
      let sum = 0;
      for (let k = i + 1; k <= j; k++) sum += upper(i, k, m) * (inverse[k * n + j] as number);
      inverse[i * n + j] = -sum / upper(i, i, m);
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
): LeastSquaresWithCovariance | null {
  const root = weights.map(Math.sqrt);
  const scaled = (column: Float64Array) => column.map((value, i) => value * (root[i] as number));
  return solveWithCovariance(columns.map(scaled), scaled(b));
}
