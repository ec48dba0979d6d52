/**
 * Conductances of a tensor grid.
 *   k       conductivity of each cell along the axis   W/mK  nx ny nz   |   R  contact resistance of a face   m2K/W
 *   dx..dz  sizes of the cells                         m                |   G  receives the conductances      W/K
 *   h       film coefficient of each face cell         W/m2K            |   c  index of a cell, k + nz (i + nx j)
 * Trusts its caller.
 */

/** To the next cell in x: A / (d1 / 2 k1 + d2 / 2 k2 + R), brought to one fraction, since divisions take the most time. */
export function fillEast(
  k: Float64Array,
  dx: Float64Array,
  dy: Float64Array,
  dz: Float64Array,
  R: Float64Array | undefined,
  G: Float64Array,
): void {
  const nx = dx.length;
  const nz = dz.length;
  for (let j = 0; j < dy.length; j++) {
    for (let i = 0; i + 1 < nx; i++) {
      const c0 = nz * (i + nx * j);
      const d1 = 0.5 * dx[i]!;
      const d2 = 0.5 * dx[i + 1]!;
      for (let z = 0; z < nz; z++) {
        const c = c0 + z;
        const a = k[c]!;
        const b = k[c + nz]!;
        const both = a * b;
        G[c] = (dy[j]! * dz[z]! * both) / (d1 * b + d2 * a + (R === undefined ? 0 : R[c]! * both));
      }
    }
  }
}

/** To the next cell in y. */
export function fillNorth(
  k: Float64Array,
  dx: Float64Array,
  dy: Float64Array,
  dz: Float64Array,
  R: Float64Array | undefined,
  G: Float64Array,
): void {
  const nx = dx.length;
  const nz = dz.length;
  const plane = nx * nz;
  for (let j = 0; j + 1 < dy.length; j++) {
    const d1 = 0.5 * dy[j]!;
    const d2 = 0.5 * dy[j + 1]!;
    for (let i = 0; i < nx; i++) {
      const c0 = nz * (i + nx * j);
      for (let z = 0; z < nz; z++) {
        const c = c0 + z;
        const a = k[c]!;
        const b = k[c + plane]!;
        const both = a * b;
        G[c] = (dx[i]! * dz[z]! * both) / (d1 * b + d2 * a + (R === undefined ? 0 : R[c]! * both));
      }
    }
  }
}

/** To the next cell in z. */
export function fillUp(
  k: Float64Array,
  dx: Float64Array,
  dy: Float64Array,
  dz: Float64Array,
  R: Float64Array | undefined,
  G: Float64Array,
): void {
  const nx = dx.length;
  const nz = dz.length;
  for (let j = 0; j < dy.length; j++) {
    for (let i = 0; i < nx; i++) {
      const c0 = nz * (i + nx * j);
      const A = dx[i]! * dy[j]!;
      for (let z = 0; z + 1 < nz; z++) {
        const c = c0 + z;
        const a = k[c]!;
        const b = k[c + 1]!;
        const both = a * b;
        G[c] = (A * both) / (0.5 * (dz[z]! * b + dz[z + 1]! * a) + (R === undefined ? 0 : R[c]! * both));
      }
    }
  }
}

/** From the centre of each face cell to ambient: A / (d / 2 k + 1 / h), nothing where h is 0. */
export function fitFilms(
  k: Float64Array,
  first: number,
  strideA: number,
  strideB: number,
  depth: number,
  sizesA: Float64Array,
  sizesB: Float64Array,
  h: Float64Array,
  G: Float64Array,
): void {
  const nA = sizesA.length;
  for (let b = 0; b < sizesB.length; b++) {
    for (let a = 0; a < nA; a++) {
      const film = h[a + nA * b]!;
      const c = first + a * strideA + b * strideB;
      G[a + nA * b] = film === 0 ? 0 : (sizesA[a]! * sizesB[b]!) / ((0.5 * depth) / k[c]! + 1 / film);
    }
  }
}

/** Marks the gaps between lines of cells across which some conductivity changes by more than a factor of two. */
export function findSeams(k: Float64Array, nx: number, ny: number, nz: number, alongX: boolean): Uint8Array {
  const seams = new Uint8Array(Math.max(0, (alongX ? nx : ny) - 1));
  const stride = alongX ? nz : nz * nx;
  const lastI = alongX ? nx - 1 : nx;
  const lastJ = alongX ? ny : ny - 1;
  for (let j = 0; j < lastJ; j++) {
    for (let i = 0; i < lastI; i++) {
      const line = alongX ? i : j;
      if (seams[line] === 1) continue;
      const c0 = nz * (i + nx * j);
      for (let c = c0; c < c0 + nz; c++) {
        const a = k[c]!;
        const b = k[c + stride]!;
        if (a > 2 * b || b > 2 * a) {
          seams[line] = 1;
          break;
        }
      }
    }
  }
  return seams;
}

/** What the values of an array are like; `sum` is not finite where any of them is not, the others ignore NaN. */
export interface Range {
  readonly sum: number;
  readonly least: number;
  readonly most: number;
  readonly zeros: number;
}

export function measureRange(v: Float64Array): Range {
  let sum = 0;
  let least = Infinity;
  let most = -Infinity;
  let zeros = 0;
  for (let c = 0; c < v.length; c++) {
    const value = v[c]!;
    sum += value;
    if (value < least) least = value;
    if (value > most) most = value;
    if (value === 0) zeros++;
  }
  return { sum, least, most, zeros };
}
