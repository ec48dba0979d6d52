/**
 * Where lines of one level cross a field given at the knots of a tensor grid.
 *   X  places along            n     |   V  values, V[i + n j]        n m
 *   Y  places across           m     |   L  the level
 *
 * Each square of four knots is crossed by no, one or two pieces of line. Where two opposite corners lie above (a saddle), the mean of
 * the four says which of them hang together; so a line never crosses another.
 * An edge has the number 2 (i + n j) towards the next i, and one more towards the next j. `edges` is filled with pairs of them.
 *
 * @returns how many numbers were written to `edges`, which holds 4 n m at most
 * @source [LORENSEN-CLINE-87] in its form for the plane
 */
export function crossSquares(n: number, m: number, V: Float32Array, L: number, edges: Int32Array): number {
  let count = 0;
  for (let j = 0; j + 1 < m; j++) {
    for (let i = 0; i + 1 < n; i++) {
      const at = i + n * j;
      const a = V[at]!;
      const b = V[at + 1]!;
      const c = V[at + n + 1]!;
      const d = V[at + n]!;
      const kind = (a >= L ? 1 : 0) | (b >= L ? 2 : 0) | (c >= L ? 4 : 0) | (d >= L ? 8 : 0);
      if (kind === 0 || kind === 15) continue;
      const low = 2 * at;
      const left = low + 1;
      const right = 2 * (at + 1) + 1;
      const high = 2 * (at + n);
      const isSaddle = kind === 5 || kind === 10;
      if (isSaddle) {
        const isMiddleAbove = a + b + c + d >= 4 * L;
        // With the middle above, the two low corners are cut off; else the two high ones.
        const cutsA = (kind === 5) !== isMiddleAbove;
        edges[count++] = low;
        edges[count++] = cutsA ? left : right;
        edges[count++] = high;
        edges[count++] = cutsA ? right : left;
        continue;
      }
      const isLowCut = (kind & 1) !== (kind & 2) >> 1;
      const isRightCut = (kind & 2) >> 1 !== (kind & 4) >> 2;
      const isHighCut = (kind & 4) >> 2 !== (kind & 8) >> 3;
      const isLeftCut = (kind & 8) >> 3 !== (kind & 1);
      if (isLowCut) edges[count++] = low;
      if (isRightCut) edges[count++] = right;
      if (isHighCut) edges[count++] = high;
      if (isLeftCut) edges[count++] = left;
    }
  }
  return count;
}

/** Place where the level crosses an edge: straight between its two knots. Writes x and y to `out` at `to`. */
export function placeOnEdge(
  edge: number,
  n: number,
  X: Float64Array,
  Y: Float64Array,
  V: Float32Array,
  L: number,
  out: Float64Array,
  to: number,
): void {
  const at = edge >> 1;
  const i = at % n;
  const j = (at - i) / n;
  const other = edge & 1 ? at + n : at + 1;
  const t = (L - V[at]!) / (V[other]! - V[at]!);
  out[to] = edge & 1 ? X[i]! : X[i]! + t * (X[i + 1]! - X[i]!);
  out[to + 1] = edge & 1 ? Y[j]! + t * (Y[j + 1]! - Y[j]!) : Y[j]!;
}
