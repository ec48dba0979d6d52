/**
 * What each part of a device is at, in one pass over its cells.
 *   T  rise, K, and part of each cell  nx ny nz   |   x, y, z  edges, m
 *   most, sum, volume  receive the greatest rise, sum of volume times rise, and volume of each part
 *   ends  receives the greatest rise in the first and the last layer of cells
 * `most` and `ends` come filled with -Infinity, the others with 0. Trusts its caller.
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
  sum: Float64Array,
  volume: Float64Array,
  ends: Float64Array,
): void {
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const A = (x[i + 1]! - x[i]!) * (y[j + 1]! - y[j]!);
      const first = nz * (i + nx * j);
      for (let k = 0; k < nz; k++) {
        const here = T[first + k]!;
        const p = part[first + k]!;
        const V = A * (z[k + 1]! - z[k]!);
        if (here > most[p]!) most[p] = here;
        sum[p] = sum[p]! + V * here;
        volume[p] = volume[p]! + V;
      }
      if (T[first]! > ends[0]!) ends[0] = T[first]!;
      if (T[first + nz - 1]! > ends[1]!) ends[1] = T[first + nz - 1]!;
    }
  }
}
