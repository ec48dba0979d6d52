/**
 * What a network is laid from, cell by cell.
 *   c  index of a cell, k + nz (i + nx j)                                    |   dx, dy, dz  sizes of cells, m           nx, ny, nz
 *   part     which part a cell belongs to                             n      |   rx, rz      resistivities along and through, mK/W   n
 *   contact  which contact lies above a cell, 0 none                  n      |   R           resistance of each contact, m²K/W
 *   E, N, U  conductances to i+1, j+1, k+1, W/K                       n      |   T           rise of each cell, K        n
 * Allocates nothing, trusts its caller.
 */

/** Sizes of the cells of a grid along each axis, m. */
export interface CellShapes {
  readonly dx: Float64Array;
  readonly dy: Float64Array;
  readonly dz: Float64Array;
}

/** Resistivities of every cell by its part: one division for a part instead of four for a cell. */
export function fillParts(
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

/** Where slopes of conductivities are stated, °C; and the least share of its figure that a conductivity may fall to. */
export const stated = 25;
export const leastShare = 0.1;

/**
 * Conductivities that follow the temperature of their cell, put over those of `fillParts`.
 *   b  change per kelvin, a share of that at 25 °C, 1/K     parts   |   Ta  ambient, °C
 */
export function bendParts(
  part: Uint16Array,
  b: Float64Array,
  T: Float64Array,
  Ta: number,
  rx: Float64Array,
  rz: Float64Array,
): void {
  for (let c = 0; c < part.length; c++) {
    const slope = b[part[c]!]!;
    if (slope === 0) continue;
    const share = Math.max(leastShare, 1 + slope * (Ta + T[c]! - stated));
    rx[c] = rx[c]! / share;
    rz[c] = rz[c]! / share;
  }
}

/** Stefan-Boltzmann constant, W/m²K⁴. @source [SI-2019] exact by the constants it is made of, to ten digits */
const sigma = 5.670374419e-8;

/** What a gap carries at the mean of the two solid cells that face it, K: still air by Sutherland's law, and radiation linearised there, W/mK. */
export function airOf(factor: number, mean: number): number {
  return (factor * 2.334e-3 * mean * Math.sqrt(mean)) / (164.54 + mean);
}
export function radiationOf(e: number, L: number, mean: number): number {
  return 4 * sigma * e * mean * mean * mean * L;
}

/**
 * What still air and radiation carry across each gap, put into the cells of the gap.
 *   first, last  cells of a gap         m       |  L   thickness of a gap, m            m    |  e   effective emissivity      m
 *   of           part of a gap          m       |  f   factor on the air's conduction  parts |  Ta  ambient, K
 */
export function fillGaps(
  T: Float64Array,
  Ta: number,
  first: Int32Array,
  last: Int32Array,
  L: Float64Array,
  e: Float64Array,
  of: Uint16Array,
  f: Float64Array,
  rx: Float64Array,
  rz: Float64Array,
): void {
  for (let m = 0; m < first.length; m++) {
    const from = first[m]!;
    const to = last[m]!;
    const mean = Ta + (T[from - 1]! + T[to + 1]!) / 2;
    const air = airOf(f[of[m]!]!, mean);
    const along = 1 / air;
    const through = 1 / (air + radiationOf(e[m]!, L[m]!, mean));
    for (let c = from; c <= to; c++) {
      rx[c] = along;
      rz[c] = through;
    }
  }
}

/** Conductance from the middle of one cell to that of the next through a face: A / (d1 r1 / 2 + d2 r2 / 2 + R). */
function passes(A: number, d1: number, r1: number, d2: number, r2: number, R: number): number {
  return A / (0.5 * (d1 * r1 + d2 * r2) + R);
}

/** All three conductances of every cell; nothing beyond the last. */
export function fillConductances(
  rx: Float64Array,
  rz: Float64Array,
  { dx, dy, dz }: CellShapes,
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
    for (let i = 0; i < nx; i++) {
      const c0 = nz * (i + nx * j);
      const A = dx[i]! * dy[j]!;
      if (i + 1 < nx)
        for (let k = 0; k < nz; k++) {
          const c = c0 + k;
          E[c] = passes(dy[j]! * dz[k]!, dx[i]!, rx[c]!, dx[i + 1]!, rx[c + nz]!, 0);
        }
      else E.fill(0, c0, c0 + nz);
      if (j + 1 < ny)
        for (let k = 0; k < nz; k++) {
          const c = c0 + k;
          N[c] = passes(dx[i]! * dz[k]!, dy[j]!, rx[c]!, dy[j + 1]!, rx[c + plane]!, 0);
        }
      else N.fill(0, c0, c0 + nz);
      for (let k = 0; k + 1 < nz; k++) {
        const c = c0 + k;
        U[c] = passes(A, dz[k]!, rz[c]!, dz[k + 1]!, rz[c + 1]!, R[contact[c]!]!);
      }
      U[c0 + nz - 1] = 0;
    }
  }
}

/**
 * Adds what resistivities as they are now let through less (or more) than conductances that were filled before: each face by its change of
 * conductance times its difference.
 *   moves  1 for parts whose resistivity may have changed        parts   |   f  heat put into each cell, W     n   (added to)
 */
export function addChanges(
  part: Uint16Array,
  moves: Uint8Array,
  rx: Float64Array,
  rz: Float64Array,
  { dx, dy, dz }: CellShapes,
  contact: Uint8Array,
  R: Float64Array,
  E: Float64Array,
  N: Float64Array,
  U: Float64Array,
  T: Float64Array,
  f: Float64Array,
): void {
  const nx = dx.length;
  const ny = dy.length;
  const nz = dz.length;
  const plane = nx * nz;
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const A = dx[i]! * dy[j]!;
      for (let k = 0; k < nz; k++) {
        const c = k + nz * (i + nx * j);
        const own = moves[part[c]!]!;
        if (k + 1 < nz && own + moves[part[c + 1]!]! > 0) {
          const g = passes(A, dz[k]!, rz[c]!, dz[k + 1]!, rz[c + 1]!, R[contact[c]!]!);
          const q = (g - U[c]!) * (T[c]! - T[c + 1]!);
          f[c] = f[c]! - q;
          f[c + 1] = f[c + 1]! + q;
        }
        if (i + 1 < nx && own + moves[part[c + nz]!]! > 0) {
          const g = passes(dy[j]! * dz[k]!, dx[i]!, rx[c]!, dx[i + 1]!, rx[c + nz]!, 0);
          const q = (g - E[c]!) * (T[c]! - T[c + nz]!);
          f[c] = f[c]! - q;
          f[c + nz] = f[c + nz]! + q;
        }
        if (j + 1 < ny && own + moves[part[c + plane]!]! > 0) {
          const g = passes(dx[i]! * dz[k]!, dy[j]!, rx[c]!, dy[j + 1]!, rx[c + plane]!, 0);
          const q = (g - N[c]!) * (T[c]! - T[c + plane]!);
          f[c] = f[c]! - q;
          f[c + plane] = f[c + plane]! + q;
        }
      }
    }
  }
}

/** How the cells of one outer face lie in the arrays, and how its surface is drawn on from them. */
export interface FaceCells {
  /** Cell (a, b) of the face is first + a strideA + b strideB; sizes and depth in m. */
  readonly first: number;
  readonly strideA: number;
  readonly strideB: number;
  readonly sizesA: Float64Array;
  readonly sizesB: Float64Array;
  readonly depth: number;
  /** From a cell of the face to the one behind it; the surface is the first and `drawn` times their difference. */
  readonly inward: number;
  readonly drawn: number;
}

/**
 * Adds the conductance from each cell of an outer face to what it meets, A / (d r / 2 + 1 / h), and what that puts in.
 *   r  resistivity across the face, mK/W    n   |   h  film, W/m²K    |   D  rise of the far side, K   |   s, f  W/K and W   n   (added to)
 */
export function addFilm(
  { first, strideA, strideB, sizesA, sizesB, depth }: FaceCells,
  r: Float64Array,
  h: number,
  D: number,
  s: Float64Array,
  f: Float64Array | null,
): void {
  for (let b = 0; b < sizesB.length; b++) {
    for (let a = 0; a < sizesA.length; a++) {
      const c = first + a * strideA + b * strideB;
      const g = (sizesA[a]! * sizesB[b]!) / (0.5 * depth * r[c]! + 1 / h);
      s[c] = s[c]! + g;
      if (f !== null) f[c] = f[c]! + g * D;
    }
  }
}

/** Mean rise of the surface itself, each cell drawn on to it from the one behind, weighted by area. */
export function meanOfFace(
  { first, strideA, strideB, sizesA, sizesB, inward, drawn }: FaceCells,
  T: Float64Array,
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

/** f = b + (t - s) T: the source of a Newton step where a tangent has the sinks t and the equations have s. */
export function loadStep(
  b: Float64Array,
  t: Float64Array,
  s: Float64Array,
  T: Float64Array,
  f: Float64Array,
): void {
  for (let c = 0; c < f.length; c++) f[c] = b[c]! + (t[c]! - s[c]!) * T[c]!;
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
