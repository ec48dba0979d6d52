/**
 * Conductivities of every cell, part by part, then gap by gap.
 *   part  which part a cell belongs to         n    |  kIn, kThrough  W/mK of each part            parts
 *   kx    along the sheet, W/mK                n    |  kz             through it, W/mK             n      (both written)
 * Allocates nothing, trusts its caller.
 */
export function fillParts(
  part: Uint16Array,
  kIn: Float64Array,
  kThrough: Float64Array,
  kx: Float64Array,
  kz: Float64Array,
): void {
  for (let cell = 0; cell < part.length; cell++) {
    kx[cell] = kIn[part[cell]!]!;
    kz[cell] = kThrough[part[cell]!]!;
  }
}

/** Where slopes of conductivities are stated, °C; and the least share of its figure that a conductivity may fall to. */
const stated = 25;
const leastShare = 0.1;

/** What a conductivity is at a temperature in °C, as a share of that at 25 °C. */
export function bentShare(slope: number, t: number): number {
  return Math.max(leastShare, 1 + slope * (t - stated));
}

/**
 * Conductivities that follow the temperature of their cell, put over those of `fillParts`.
 *   part  which part a cell belongs to         n    |  b       change per kelvin, a share of that at 25 °C, 1/K     parts
 *   T     rise of each cell, K                 n    |  Ta      ambient, °C
 *   kx, kz  conductivities along and through, W/mK          n   (scaled)
 */
export function bendParts(
  part: Uint16Array,
  b: Float64Array,
  T: Float64Array,
  Ta: number,
  kx: Float64Array,
  kz: Float64Array,
): void {
  for (let cell = 0; cell < part.length; cell++) {
    const slope = b[part[cell]!]!;
    if (slope === 0) continue;
    const share = bentShare(slope, Ta + T[cell]!);
    kx[cell] = kx[cell]! * share;
    kz[cell] = kz[cell]! * share;
  }
}

/**
 * What it does to a reading that conductivities follow their cells: a part of the adjoint equation that is not symmetric. The half cell before
 * an outer film is left out; a film resists far more.
 *   u, v  adjoint and field                    n    |  gE, gN, gU  conductances to i+1, j+1, k+1, W/K      n
 *   kx, kz  as `bendParts` has left them       n    |  dx, dy, dz  sizes of cells, m                       nx, ny, nz
 *   part, b, Ta  as in `bendParts`                  |  out    added to                                     n
 * A face passes g (v - v') with dg/d ln k = g² d / (2 k A), and d ln k / dT = b / (1 + b (T - 25 °C)).
 */
export function pullOfBends(
  u: Float64Array,
  v: Float64Array,
  gE: Float64Array,
  gN: Float64Array,
  gU: Float64Array,
  kx: Float64Array,
  kz: Float64Array,
  dx: Float64Array,
  dy: Float64Array,
  dz: Float64Array,
  part: Uint16Array,
  b: Float64Array,
  Ta: number,
  out: Float64Array,
): void {
  const nx = dx.length;
  const ny = dy.length;
  const nz = dz.length;
  const row = nx * nz;
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      for (let k = 0; k < nz; k++) {
        const c = k + nz * (i + nx * j);
        const slope = b[part[c]!]!;
        if (slope === 0) continue;
        const share = 1 + slope * (Ta + v[c]! - stated);
        if (share <= leastShare) continue;
        let x = 0;
        if (i + 1 < nx) x += gE[c]! * gE[c]! * (u[c]! - u[c + nz]!) * (v[c]! - v[c + nz]!);
        if (i > 0) x += gE[c - nz]! * gE[c - nz]! * (u[c]! - u[c - nz]!) * (v[c]! - v[c - nz]!);
        let y = 0;
        if (j + 1 < ny) y += gN[c]! * gN[c]! * (u[c]! - u[c + row]!) * (v[c]! - v[c + row]!);
        if (j > 0) y += gN[c - row]! * gN[c - row]! * (u[c]! - u[c - row]!) * (v[c]! - v[c - row]!);
        let z = 0;
        if (k + 1 < nz) z += gU[c]! * gU[c]! * (u[c]! - u[c + 1]!) * (v[c]! - v[c + 1]!);
        if (k > 0) z += gU[c - 1]! * gU[c - 1]! * (u[c]! - u[c - 1]!) * (v[c]! - v[c - 1]!);
        const sum =
          ((x * dx[i]!) / (dy[j]! * dz[k]!) + (y * dy[j]!) / (dx[i]! * dz[k]!)) / kx[c]! +
          (z * dz[k]!) / (dx[i]! * dy[j]!) / kz[c]!;
        out[c] = out[c]! + ((sum / 2) * slope) / share;
      }
    }
  }
}

/** Stefan-Boltzmann constant, W/m²K⁴. @source [SI-2019] exact by the constants it is made of, to ten digits */
const sigma = 5.670374419e-8;

/**
 * What still air and radiation carry across each gap, put into the cells of the gap.
 *   T     rise of each cell, K                   n      |  first, last  cells of a gap          m
 *   L     thickness of a gap, m                  m      |  e    effective emissivity            m
 *   f     factor on the air's conduction         parts  |  part  which part a gap belongs to    m
 *   Ta    ambient, K                                    |  kx, kz  conductivities, W/mK         n   (written)
 * Air's conductivity is Sutherland's law; radiation is linearised at the mean of the two solid cells that face the gap.
 */
export function fillGaps(
  T: Float64Array,
  Ta: number,
  first: Int32Array,
  last: Int32Array,
  L: Float64Array,
  e: Float64Array,
  part: Uint16Array,
  f: Float64Array,
  kx: Float64Array,
  kz: Float64Array,
): void {
  for (let m = 0; m < first.length; m++) {
    const from = first[m]!;
    const to = last[m]!;
    const mean = Ta + (T[from - 1]! + T[to + 1]!) / 2;
    const air = (f[part[m]!]! * 2.334e-3 * mean * Math.sqrt(mean)) / (164.54 + mean);
    const radiation = 4 * sigma * e[m]! * mean * mean * mean * L[m]!;
    for (let cell = from; cell <= to; cell++) {
      kx[cell] = air;
      kz[cell] = air + radiation;
    }
  }
}

/**
 * What a gap's own change with temperature does to a reading: the part of the adjoint equation that is not symmetric.
 *   u, v   adjoint and field                    n   |  kz, gU  through conductivity, W/mK, and conductance to k+1, W/K   n
 *   dz     size of cells, m                     nz  |  A  area of each column, m²                               columns
 *   first, last, L, e, part, f, Ta  as in `fillGaps`
 *   out    receives half of each gap's pull at both solid cells that face it          n   (written)
 * A gap passes U (T1 - T2); its U grows with (T1 + T2) / 2, so the heat has a slope with both faces beyond U itself.
 */
export function pullOfGaps(
  u: Float64Array,
  v: Float64Array,
  kz: Float64Array,
  gU: Float64Array,
  dz: Float64Array,
  A: Float64Array,
  Ta: number,
  first: Int32Array,
  last: Int32Array,
  L: Float64Array,
  e: Float64Array,
  part: Uint16Array,
  f: Float64Array,
  out: Float64Array,
): void {
  const nz = dz.length;
  out.fill(0);
  for (let m = 0; m < first.length; m++) {
    const from = first[m]!;
    const to = last[m]!;
    const k = from % nz;
    const area = A[(from - k) / nz]!;
    const mean = Ta + (v[from - 1]! + v[to + 1]!) / 2;
    const air = (f[part[m]!]! * 2.334e-3 * mean * Math.sqrt(mean)) / (164.54 + mean);
    const radiation = 4 * sigma * e[m]! * mean * mean * mean * L[m]!;
    const slope = air * (1.5 / mean - 1 / (164.54 + mean)) + (3 * radiation) / mean;
    let weight = 0;
    for (let c = from - 1; c <= to; c++) {
      const at = k + (c - from);
      let series = 0;
      if (c >= from) series += dz[at]! / (2 * kz[c]! * kz[c]!);
      if (c + 1 <= to) series += dz[at + 1]! / (2 * kz[c + 1]! * kz[c + 1]!);
      weight += ((gU[c]! * gU[c]! * series) / area) * (u[c]! - u[c + 1]!) * (v[c]! - v[c + 1]!);
    }
    out[from - 1] = out[from - 1]! + (weight * slope) / 2;
    out[to + 1] = out[to + 1]! + (weight * slope) / 2;
  }
}
