import type { Network } from '../solve/level.js';
import type { Gaps } from './find-gaps.js';

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

/** Sizes of the cells of a grid along each axis, m. */
export interface CellShapes {
  readonly dx: Float64Array;
  readonly dy: Float64Array;
  readonly dz: Float64Array;
}

/**
 * What it does to a reading that conductivities follow their cells: a part of the adjoint equation that is not symmetric. The half cell before
 * an outer film is left out; a film resists far more.
 *   u, v  adjoint and field                    n    |  E, N, U  conductances to i+1, j+1, k+1, W/K         n
 *   kx, kz  as `bendParts` has left them       n    |  dx, dy, dz  sizes of cells, m                       nx, ny, nz
 *   part, b, Ta  as in `bendParts`                  |  out    added to                                     n
 * A face passes g (v - v') with dg/d ln k = g² d / (2 k A), and d ln k / dT = b / (1 + b (T - 25 °C)).
 */
export function pullOfBends(
  u: Float64Array,
  v: Float64Array,
  { E, N, U }: Network,
  kx: Float64Array,
  kz: Float64Array,
  { dx, dy, dz }: CellShapes,
  part: Uint16Array,
  b: Float64Array,
  Ta: number,
  out: Float64Array,
): void {
  const nx = dx.length;
  const ny = dy.length;
  const nz = dz.length;
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const column = nz * (i + nx * j);
      for (let k = 0; k < nz; k++) {
        const c = column + k;
        const slope = b[part[c]!]!;
        if (slope === 0) continue;
        const share = 1 + slope * (Ta + v[c]! - stated);
        if (share <= leastShare) continue;
        let z = 0;
        if (k + 1 < nz) z += U[c]! * U[c]! * (u[c]! - u[c + 1]!) * (v[c]! - v[c + 1]!);
        if (k > 0) z += U[c - 1]! * U[c - 1]! * (u[c]! - u[c - 1]!) * (v[c]! - v[c - 1]!);
        const along = seenAlong(u, v, E, N, dx, dy, i, j, nz, c) / (dz[k]! * kx[c]!);
        const sum = along + (z * dz[k]!) / (2 * dx[i]! * dy[j]! * kz[c]!);
        out[c] = out[c]! + (sum * slope) / share;
      }
    }
  }
}

/** Sum of g² (u - u') (v - v') d / 2 A over the four faces of a cell in plan, times its depth: over its conductivity, d(u A v) / d ln k. */
function seenAlong(
  u: Float64Array,
  v: Float64Array,
  E: Float64Array,
  N: Float64Array,
  dx: Float64Array,
  dy: Float64Array,
  i: number,
  j: number,
  nz: number,
  c: number,
): number {
  const nx = dx.length;
  // At an edge the cell stands for its missing neighbour: the differences are then nothing.
  const east = c + (i + 1 < nx ? nz : 0);
  const west = c - (i > 0 ? nz : 0);
  const north = c + (j + 1 < dy.length ? nx * nz : 0);
  const south = c - (j > 0 ? nx * nz : 0);
  const a = u[c]!;
  const b = v[c]!;
  const x =
    E[c]! * E[c]! * (a - u[east]!) * (b - v[east]!) + E[west]! * E[west]! * (a - u[west]!) * (b - v[west]!);
  const y =
    N[c]! * N[c]! * (a - u[north]!) * (b - v[north]!) +
    N[south]! * N[south]! * (a - u[south]!) * (b - v[south]!);
  const ratio = dx[i]! / dy[j]!;
  return 0.5 * (x * ratio + y / ratio);
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
 *   u, v   adjoint and field                    n   |  E, N, U  conductances to i+1, j+1, k+1, W/K       n
 *   kx, kz  as `fillGaps` has left them         n   |  dx, dy, dz  sizes of cells, m                     nx, ny, nz
 *   f, Ta  as in `fillGaps`                         |  out    added to: half of each gap's pull at both solid cells that face it   n
 * A gap passes more, across and along, as (T1 + T2) / 2 grows, so the heat has a slope with both faces beyond its conductance.
 */
export function pullOfGaps(
  u: Float64Array,
  v: Float64Array,
  { E, N, U }: Network,
  kx: Float64Array,
  kz: Float64Array,
  { dx, dy, dz }: CellShapes,
  Ta: number,
  { first, last, thickness_m, emissivity, part }: Gaps,
  f: Float64Array,
  out: Float64Array,
): void {
  const nx = dx.length;
  const nz = dz.length;
  for (let m = 0; m < first.length; m++) {
    const from = first[m]!;
    const to = last[m]!;
    const z0 = from % nz;
    const column = (from - z0) / nz;
    const i = column % nx;
    const j = (column - i) / nx;
    const mean = Ta + (v[from - 1]! + v[to + 1]!) / 2;
    const air = (f[part[m]!]! * 2.334e-3 * mean * Math.sqrt(mean)) / (164.54 + mean);
    const radiation = 4 * sigma * emissivity[m]! * mean * mean * mean * thickness_m[m]!;
    const trend = 1.5 / mean - 1 / (164.54 + mean);
    let across = 0;
    let along = 0;
    for (let c = from - 1; c <= to; c++) {
      const k = z0 + (c - from);
      const air_m = (c >= from ? dz[k]! : 0) + (c < to ? dz[k + 1]! : 0);
      across += U[c]! * U[c]! * air_m * (u[c]! - u[c + 1]!) * (v[c]! - v[c + 1]!);
      if (c >= from) along += seenAlong(u, v, E, N, dx, dy, i, j, nz, c) / dz[k]!;
    }
    const passing = kz[from]!;
    const pull =
      (across * (air * trend + (3 * radiation) / mean)) / (2 * passing * passing * dx[i]! * dy[j]!) +
      (along * trend) / kx[from]!;
    out[from - 1] = out[from - 1]! + pull / 2;
    out[to + 1] = out[to + 1]! + pull / 2;
  }
}
