/**
 * Householder reduction of a tall matrix and its right-hand side, in place, all in one buffer.
 *   A  n columns of m numbers, column after column, then the right-hand side   (n + 1) m
 *   d  receives the diagonal of R                                              n
 * Afterwards column j holds R above the diagonal, the right-hand side its rotated self. False where a column is, to working
 * precision, a combination of those before it.
 *
 * @source [GVL] algorithm 5.2.1
 */
export function reduceColumns(A: Float64Array, m: number, n: number, d: Float64Array): boolean {
  for (let k = 0; k < n; k++) {
    const at = k * m;
    let above = 0;
    for (let i = 0; i < k; i++) above += A[at + i]! * A[at + i]!;
    let below = 0;
    for (let i = k; i < m; i++) below += A[at + i]! * A[at + i]!;
    const length = Math.sqrt(below);
    if (!(length > 1e-13 * Math.sqrt(above + below))) return false;
    const alpha = A[at + k]! > 0 ? -length : length;
    d[k] = alpha;
    A[at + k] = A[at + k]! - alpha;
    const half = -alpha * A[at + k]!; // half the squared length of the reflection's axis
    for (let j = k + 1; j <= n; j++) {
      const to = j * m;
      let share = 0;
      for (let i = k; i < m; i++) share += A[at + i]! * A[to + i]!;
      share /= half;
      for (let i = k; i < m; i++) A[to + i] = A[to + i]! - share * A[at + i]!;
    }
  }
  return true;
}
