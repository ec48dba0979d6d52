/**
 * The outer faces of a grid.
 *   k      conductivity towards the face   W/mK   n        |   T  rise over the room      K   n
 *   first, strideA, strideB  lead to the cells of a face    |   inward  to the cell behind one at the face
 *   sizesA, sizesB  sizes of its cells, m                   |   d  depth of those cells, m
 *   h      film on it, W/m2K                                |   share  times which it is added
 * Trusts its caller.
 */

/** Adds the conductance from each cell's centre to what the face meets, times a share: A / (d / 2 k + 1 / h). */
export function addFaceSinks(
  k: Float64Array,
  first: number,
  strideA: number,
  strideB: number,
  d: number,
  sizesA: Float64Array,
  sizesB: Float64Array,
  h: number,
  share: number,
  into: Float64Array,
): void {
  for (let b = 0; b < sizesB.length; b++) {
    for (let a = 0; a < sizesA.length; a++) {
      const c = first + a * strideA + b * strideB;
      into[c] = into[c]! + (share * (sizesA[a]! * sizesB[b]!)) / ((0.5 * d) / k[c]! + 1 / h);
    }
  }
}

/** Mean rise of the surface itself, each cell drawn on to it from the one behind. */
export function meanOfFace(
  T: Float64Array,
  first: number,
  strideA: number,
  strideB: number,
  inward: number,
  sizesA: Float64Array,
  sizesB: Float64Array,
  drawn: number,
): number {
  let sum = 0;
  let area = 0;
  for (let b = 0; b < sizesB.length; b++) {
    for (let a = 0; a < sizesA.length; a++) {
      const c = first + a * strideA + b * strideB;
      const A = sizesA[a]! * sizesB[b]!;
      sum += A * (T[c]! + drawn * (T[c + inward]! - T[c]!));
      area += A;
    }
  }
  return sum / area;
}

/**
 * Source of a Newton step about a field x, so that the solve gives the next field itself: f = b - A x + J x.
 *   q, p  A x with films as they hold the whole rise, and J x of the prepared network   W   n   |   b  heat put in   W   n
 */
export function sourceOfStep(q: Float64Array, p: Float64Array, b: Float64Array, f: Float64Array): void {
  for (let c = 0; c < f.length; c++) f[c] = b[c]! - q[c]! + p[c]!;
}

/** The same where the network is that of the field, and only films differ: s as they change, H as they hold the whole rise. */
export function sourceOfFirstStep(
  s: Float64Array,
  H: Float64Array,
  x: Float64Array,
  b: Float64Array,
  f: Float64Array,
): void {
  for (let c = 0; c < f.length; c++) f[c] = b[c]! + (s[c]! - H[c]!) * x[c]!;
}

/** Greatest difference of two fields. */
export function farthest(x: Float64Array, y: Float64Array): number {
  let most = 0;
  for (let c = 0; c < x.length; c++) {
    const d = Math.abs(x[c]! - y[c]!);
    if (d > most) most = d;
  }
  return most;
}
