import { bentShare } from '../device/fill-network.kernel.js';

/**
 * Networks of many set-ups of one device, filled into the same arrays again and again.
 *   r      resistivity of each cell, mK/W, along (rx) and through (rz)     nx ny nz   |   c  index of a cell, k + nz (i + nx j)
 *   dx..dz sizes of the cells, m                                                      |   R  resistance of contacts, m2K/W
 *   E, N, U  conductances to the next cell in x, y and z, W/K              nx ny nz   |   T  rise over the room, K
 * Trusts its caller, allocates nothing.
 */

/** Resistivities of every cell by its part: one division for a part instead of four for a cell. */
export function fillResistivities(
  part: Uint16Array,
  along: Float64Array,
  through: Float64Array,
  rx: Float64Array,
  rz: Float64Array,
): void {
  for (let c = 0; c < part.length; c++) {
    const p = part[c]!;
    rx[c] = along[p]!;
    rz[c] = through[p]!;
  }
}

/** Cells first to last of each gap hold conductivities: makes them resistivities. */
export function invertGaps(first: Int32Array, last: Int32Array, rx: Float64Array, rz: Float64Array): void {
  for (let m = 0; m < first.length; m++) {
    const along = 1 / rx[first[m]!]!;
    const through = 1 / rz[first[m]!]!;
    for (let c = first[m]!; c <= last[m]!; c++) {
      rx[c] = along;
      rz[c] = through;
    }
  }
}

/** All three conductances of every cell: A / (d1 r1 / 2 + d2 r2 / 2 + R); nothing beyond the last. */
export function fillConductances(
  rx: Float64Array,
  rz: Float64Array,
  dx: Float64Array,
  dy: Float64Array,
  dz: Float64Array,
  contact: Uint8Array,
  R: Float64Array,
  E: Float64Array,
  N: Float64Array,
  U: Float64Array,
): void {
  const nx = dx.length;
  const ny = dy.length;
  const nz = dz.length;
  const plane = nx * nz;
  for (let j = 0; j < ny; j++) {
    const y1 = 0.5 * dy[j]!;
    const y2 = j + 1 < ny ? 0.5 * dy[j + 1]! : 0;
    for (let i = 0; i < nx; i++) {
      const c0 = nz * (i + nx * j);
      const x1 = 0.5 * dx[i]!;
      const x2 = i + 1 < nx ? 0.5 * dx[i + 1]! : 0;
      const A = dx[i]! * dy[j]!;
      if (i + 1 < nx)
        for (let k = 0; k < nz; k++) {
          const c = c0 + k;
          E[c] = (dy[j]! * dz[k]!) / (x1 * rx[c]! + x2 * rx[c + nz]!);
        }
      else E.fill(0, c0, c0 + nz);
      if (j + 1 < ny)
        for (let k = 0; k < nz; k++) {
          const c = c0 + k;
          N[c] = (dx[i]! * dz[k]!) / (y1 * rx[c]! + y2 * rx[c + plane]!);
        }
      else N.fill(0, c0, c0 + nz);
      for (let k = 0; k + 1 < nz; k++) {
        const c = c0 + k;
        U[c] = A / (0.5 * (dz[k]! * rz[c]! + dz[k + 1]! * rz[c + 1]!) + R[contact[c]!]!);
      }
      U[c0 + nz - 1] = 0;
    }
  }
}

/**
 * Adds the conductance from each cell of an outer face to what it meets: A / (d r / 2 + 1 / h).
 *   first, strideA, strideB  lead to the cells of the face   |   sizesA, sizesB  their sizes, d their depth, m   |   h  film, W/m2K
 */
export function addFaceSinks(
  r: Float64Array,
  first: number,
  strideA: number,
  strideB: number,
  d: number,
  sizesA: Float64Array,
  sizesB: Float64Array,
  h: number,
  s: Float64Array,
): void {
  for (let b = 0; b < sizesB.length; b++) {
    for (let a = 0; a < sizesA.length; a++) {
      const c = first + a * strideA + b * strideB;
      s[c] = s[c]! + (sizesA[a]! * sizesB[b]!) / (0.5 * d * r[c]! + 1 / h);
    }
  }
}

/** Adds what a face puts in: its conductance times how much warmer the far side is than the cell. D is the far side's rise, K. */
export function addFaceFlows(
  r: Float64Array,
  first: number,
  strideA: number,
  strideB: number,
  d: number,
  sizesA: Float64Array,
  sizesB: Float64Array,
  h: number,
  D: number,
  T: Float64Array,
  f: Float64Array,
): void {
  for (let b = 0; b < sizesB.length; b++) {
    for (let a = 0; a < sizesA.length; a++) {
      const c = first + a * strideA + b * strideB;
      f[c] = f[c]! + ((sizesA[a]! * sizesB[b]!) / (0.5 * d * r[c]! + 1 / h)) * (D - T[c]!);
    }
  }
}

/**
 * Adds what gaps let through less (or more) now than in the network that was prepared: each by its change of conductance times its difference.
 *   k  conductivity through each gap's cells now, W/mK, kept in its first cell
 */
export function addGapFlows(
  first: Int32Array,
  last: Int32Array,
  k: Float64Array,
  rz: Float64Array,
  dx: Float64Array,
  dy: Float64Array,
  dz: Float64Array,
  contact: Uint8Array,
  R: Float64Array,
  U: Float64Array,
  T: Float64Array,
  f: Float64Array,
): void {
  const nx = dx.length;
  const nz = dz.length;
  for (let m = 0; m < first.length; m++) {
    const from = first[m]!;
    const to = last[m]!;
    const now = 1 / k[from]!;
    const z0 = from % nz;
    const column = (from - z0) / nz;
    const A = dx[column % nx]! * dy[(column / nx) | 0]!;
    for (let c = from - 1; c <= to; c++) {
      const z = z0 + (c - from);
      const below = c < from ? rz[c]! : now;
      const above = c < to ? now : rz[c + 1]!;
      const g = A / (0.5 * (dz[z]! * below + dz[z + 1]! * above) + R[contact[c]!]!);
      const q = (g - U[c]!) * (T[c]! - T[c + 1]!);
      f[c] = f[c]! - q;
      f[c + 1] = f[c + 1]! + q;
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

/** f = s T: what sinks would carry of a field. */
export function carryOff(s: Float64Array, T: Float64Array, f: Float64Array): void {
  for (let c = 0; c < f.length; c++) f[c] = s[c]! * T[c]!;
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

/**
 * Resistivities where conductivities follow the temperature of their cell.
 *   part  which part a cell belongs to         n    |  b       change per kelvin, a share of that at 25 °C, 1/K     parts
 *   T     rise of each cell, K                 n    |  Ta      ambient, °C
 *   rx, rz  resistivities along and through, mK/W           n   (scaled)
 */
export function bendResistivities(
  part: Uint16Array,
  b: Float64Array,
  T: Float64Array,
  Ta: number,
  rx: Float64Array,
  rz: Float64Array,
): void {
  for (let cell = 0; cell < part.length; cell++) {
    const slope = b[part[cell]!]!;
    if (slope === 0) continue;
    const share = bentShare(slope, Ta + T[cell]!);
    rx[cell] = rx[cell]! / share;
    rz[cell] = rz[cell]! / share;
  }
}
