/**
 * What each part of a device is at, in one pass over its cells.
 *   T  rise, K, and part of each cell  nx ny nz   |   x, y, z  edges, m
 *   most, at, sum, volume  receive the greatest rise, its cell, sum of volume times rise, and volume of each part; after the parts, in
 *                          `most` and `at` only, those of the first and the last layer of cells
 * `most` comes filled with -Infinity, `at` with -1, the others with 0. Trusts its caller.
 */
export function readParts(
  T: Float64Array,
  part: Uint16Array,
  nx: number,
  ny: number,
  nz: number,
  x: Float64Array,
  y: Float64Array,
  z: Float64Array,
  most: Float64Array,
  at: Int32Array,
  sum: Float64Array,
  volume: Float64Array,
): void {
  const ends = sum.length;
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const A = (x[i + 1]! - x[i]!) * (y[j + 1]! - y[j]!);
      const first = nz * (i + nx * j);
      for (let k = 0; k < nz; k++) {
        const c = first + k;
        const here = T[c]!;
        const p = part[c]!;
        const V = A * (z[k + 1]! - z[k]!);
        if (here > most[p]!) {
          most[p] = here;
          at[p] = c;
        }
        sum[p] = sum[p]! + V * here;
        volume[p] = volume[p]! + V;
      }
      for (let end = 0; end < 2; end++) {
        const c = end === 0 ? first : first + nz - 1;
        if (T[c]! > most[ends + end]!) {
          most[ends + end] = T[c]!;
          at[ends + end] = c;
        }
      }
    }
  }
}
