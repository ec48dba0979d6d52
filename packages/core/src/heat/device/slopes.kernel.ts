import type { Network } from '../solve/level.js';
import { airOf, type CellShapes, leastShare, radiationOf, stated } from './fill-network.kernel.js';
import type { Gaps } from './find-gaps.js';

/**
 * How a reading hangs on every conductivity, in one pass: sums of the adjoint identity over the faces of a network.
 *   u, v      adjoint and field                         n     |  rx, rz   resistivities along and through, mK/W       n
 *   E, N, U   conductances to i+1, j+1, k+1, W/K        n     |  dx, dy, dz  sizes of cells, m                        nx, ny, nz
 *   part      which part a cell belongs to              n     |  isAir    1 for parts of air                          parts
 *   contact   which contact lies above a cell, 0 none   n     |  R        resistance of each contact, m²K/W           contacts + 1
 *   along, through  receive sum of d(u A v) / d ln k by part               parts   (added to)
 *   pressed         receives sum of d(u A v) / d ln of the contact's factor, R being R0 over that factor   contacts + 1   (added to)
 * A face passes g (v - v') with 1/g = (d/2k + d'/2k' + R) / A, so dg/d ln k = g² (d/2k) / A. Of a gap only the air's share of
 * what crosses it follows its factor; that share is rz/rx.
 */
export function sumSlopes(
  u: Float64Array,
  v: Float64Array,
  { E, N, U }: Network,
  rx: Float64Array,
  rz: Float64Array,
  { dx, dy, dz }: CellShapes,
  part: Uint16Array,
  isAir: Uint8Array,
  contact: Uint8Array,
  R: Float64Array,
  along: Float64Array,
  through: Float64Array,
  pressed: Float64Array,
): void {
  const nx = dx.length;
  const ny = dy.length;
  const nz = dz.length;
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const column = nz * (i + nx * j);
      const half = 0.5 / (dx[i]! * dy[j]!);
      let below = 0;
      for (let k = 0; k < nz; k++) {
        const c = column + k;
        const p = part[c]!;
        along[p] = along[p]! + seenAlong(u, v, E, N, dx, dy, i, j, nz, c) * (rx[c]! / dz[k]!);
        let above = 0;
        if (k + 1 < nz) {
          const g = U[c]!;
          above = half * g * g * (u[c]! - u[c + 1]!) * (v[c]! - v[c + 1]!);
          const m = contact[c]!;
          if (m > 0) pressed[m] = pressed[m]! + 2 * above * R[m]!;
        }
        const z = (above + below) * dz[k]!;
        through[p] = through[p]! + (isAir[p] === 1 ? (z * rz[c]! * rz[c]!) / rx[c]! : z * rz[c]!);
        below = above;
      }
    }
  }
}

/**
 * What it does to a reading that conductivities follow their cells: a part of the adjoint equation that is not symmetric. The half cell before
 * an outer film is left out; a film resists far more.
 *   u, v  adjoint and field                    n    |  E, N, U  conductances to i+1, j+1, k+1, W/K         n
 *   rx, rz  as `bendParts` has left them       n    |  dx, dy, dz  sizes of cells, m                       nx, ny, nz
 *   part, b, Ta  as in `bendParts`                  |  out    added to                                     n
 * A face passes g (v - v') with dg/d ln k = g² d / (2 k A), and d ln k / dT = b / (1 + b (T - 25 °C)).
 */
export function pullOfBends(
  u: Float64Array,
  v: Float64Array,
  { E, N, U }: Network,
  rx: Float64Array,
  rz: Float64Array,
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
        const along = (seenAlong(u, v, E, N, dx, dy, i, j, nz, c) * rx[c]!) / dz[k]!;
        const sum = along + (z * dz[k]! * rz[c]!) / (2 * dx[i]! * dy[j]!);
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

/**
 * What a gap's own change with temperature does to a reading: the part of the adjoint equation that is not symmetric.
 *   u, v   adjoint and field                    n   |  E, N, U  conductances to i+1, j+1, k+1, W/K       n
 *   rx, rz  as `fillGaps` has left them         n   |  dx, dy, dz  sizes of cells, m                     nx, ny, nz
 *   f, Ta  as in `fillGaps`                         |  out    added to: half of each gap's pull at both solid cells that face it   n
 * A gap passes more, across and along, as (T1 + T2) / 2 grows, so the heat has a slope with both faces beyond its conductance.
 */
export function pullOfGaps(
  u: Float64Array,
  v: Float64Array,
  { E, N, U }: Network,
  rx: Float64Array,
  rz: Float64Array,
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
    const air = airOf(f[part[m]!]!, mean);
    const radiation = radiationOf(emissivity[m]!, thickness_m[m]!, mean);
    const trend = 1.5 / mean - 1 / (164.54 + mean);
    let across = 0;
    let along = 0;
    for (let c = from - 1; c <= to; c++) {
      const k = z0 + (c - from);
      const air_m = (c >= from ? dz[k]! : 0) + (c < to ? dz[k + 1]! : 0);
      across += U[c]! * U[c]! * air_m * (u[c]! - u[c + 1]!) * (v[c]! - v[c + 1]!);
      if (c >= from) along += seenAlong(u, v, E, N, dx, dy, i, j, nz, c) / dz[k]!;
    }
    const resisting = rz[from]!;
    const pull =
      (across * (air * trend + (3 * radiation) / mean) * resisting * resisting) / (2 * dx[i]! * dy[j]!) +
      along * trend * rx[from]!;
    out[from - 1] = out[from - 1]! + pull / 2;
    out[to + 1] = out[to + 1]! + pull / 2;
  }
}
