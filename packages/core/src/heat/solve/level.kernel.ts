/**
 * Making the grids of a multigrid hierarchy, in double precision, from conductances in columns (z fastest).
 *   E, N, U  conductance to the next cell east, north, up   W/K  n   |   s  conductance to ambient   W/K  n
 *   D        pivot of a column's elimination, inv = 1 / D            |   l  up / D: what a column passes upward
 *   e        pivot less the conductance upward: conductance of all below, and of ambient and neighbours
 *   wx, wy   share of a red cell's correction that comes from the coarse neighbour in x, y
 *   m        scale that brings the conductances near 1 for single precision, a power of two
 *   o        cells of padding before the first cell, o = nz nx, so that neighbours of edge columns read as nothing
 * Trusts its caller.
 */
import type { Network } from './level.js';

/**
 * Eliminates every column upward: inv and l. Built from sums of positive terms only, so that a weak sink to ambient
 * survives beside strong conductances.
 */
export function factorColumns(
  A: Network,
  nx: number,
  ny: number,
  nz: number,
  o: number,
  m: number,
  inv: Float32Array,
  l: Float32Array,
): void {
  const { E, N, U, s } = A;
  const plane = nz * nx;
  const unit = 1 / m;
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const c0 = nz * (i + nx * j);
      const hasWest = i > 0;
      const hasSouth = j > 0;
      let through = 0;
      for (let c = c0; c < c0 + nz; c++) {
        let e = s[c]! + through + E[c]! + N[c]!;
        if (hasWest) e += E[c - nz]!;
        if (hasSouth) e += N[c - plane]!;
        const up = U[c]!;
        const inverse = 1 / (e + up);
        const pass = up * inverse;
        inv[o + c] = inverse * unit;
        l[o + c] = pass;
        through = pass * e;
      }
    }
  }
}

/** Single-precision copies of the conductances across, scaled. */
export function copyAcross(
  A: Network,
  n: number,
  o: number,
  m: number,
  gE: Float32Array,
  gN: Float32Array,
): void {
  const { E, N } = A;
  for (let c = 0; c < n; c++) gE[o + c] = E[c]! * m;
  for (let c = 0; c < n; c++) gN[o + c] = N[c]! * m;
}

/**
 * Share of the neighbour in a cell's correction, linear in resistance: inner is the face to the partner in the pair,
 * outer the face to the neighbouring pair, far the face inside that pair (or `unpaired`, and its centre is the cell's).
 * Ra = 1 / 2 inner, Rb = 1 / outer + 1 / 2 far, share Ra / (Ra + Rb).
 */
function share(inner: number, outer: number, far: number, unpaired: boolean): number {
  const top = unpaired ? 0.5 * outer : 0.5 * outer * far;
  return top > 0 ? top / (unpaired ? top + inner : top + inner * (far + 0.5 * outer)) : 0;
}

/** Shares in x for the red cells, (i + j) even; a red column's place is (i + nx j) >> 1. */
export function weighX(
  A: Network,
  nx: number,
  ny: number,
  nz: number,
  own: Int32Array,
  beside: Int32Array,
  first: Int32Array,
  wx: Float32Array,
): void {
  const { E } = A;
  for (let j = 0; j < ny; j++) {
    for (let i = j & 1; i < nx; i += 2) {
      const q = i + nx * j;
      const to = (q >> 1) * nz;
      const next = beside[i]!;
      if (next === own[i]) {
        for (let z = 0; z < nz; z++) wx[to + z] = 0;
        continue;
      }
      const west = next < own[i]!;
      const unpaired = first[next + 1]! - first[next]! === 1;
      const c0 = nz * q;
      const inner = west ? c0 : c0 - nz;
      const outer = west ? c0 - nz : c0;
      const far = west ? c0 - 2 * nz : c0 + nz;
      for (let z = 0; z < nz; z++) {
        wx[to + z] = share(E[inner + z]!, E[outer + z]!, unpaired ? 0 : E[far + z]!, unpaired);
      }
    }
  }
}

/** Shares in y for the red cells. */
export function weighY(
  A: Network,
  nx: number,
  ny: number,
  nz: number,
  own: Int32Array,
  beside: Int32Array,
  first: Int32Array,
  wy: Float32Array,
): void {
  const { N } = A;
  const plane = nz * nx;
  for (let j = 0; j < ny; j++) {
    const next = beside[j]!;
    const none = next === own[j];
    const south = next < own[j]!;
    const unpaired = first[next + 1]! - first[next]! === 1;
    for (let i = j & 1; i < nx; i += 2) {
      const q = i + nx * j;
      const to = (q >> 1) * nz;
      if (none) {
        for (let z = 0; z < nz; z++) wy[to + z] = 0;
        continue;
      }
      const c0 = nz * q;
      const inner = south ? c0 : c0 - plane;
      const outer = south ? c0 - plane : c0;
      const far = south ? c0 - 2 * plane : c0 + plane;
      for (let z = 0; z < nz; z++) {
        wy[to + z] = share(N[inner + z]!, N[outer + z]!, unpaired ? 0 : N[far + z]!, unpaired);
      }
    }
  }
}

/**
 * Network of the next coarser grid. Sinks and conductances upward add up; those across a coarse face add up too, and
 * shrink by the longer distance.
 *   firstX, firstY  first fine line of each coarse line, then the number of fine lines
 *   tx, ty          stretch of the gap before each coarse line
 */
export function coarsenNetwork(
  A: Network,
  nx: number,
  nz: number,
  firstX: Int32Array,
  firstY: Int32Array,
  tx: Float64Array,
  ty: Float64Array,
  out: Network,
): void {
  const nX = firstX.length - 1;
  const nY = firstY.length - 1;
  for (let J = 0; J < nY; J++) {
    const j0 = firstY[J]!;
    const j1 = firstY[J + 1]! - 1;
    const gapY = J + 1 < nY ? ty[J + 1]! : 0;
    for (let I = 0; I < nX; I++) {
      const i0 = firstX[I]!;
      const i1 = firstX[I + 1]! - 1;
      const gapX = I + 1 < nX ? tx[I + 1]! : 0;
      const C0 = nz * (I + nX * J);
      addColumns(A.s, nx, nz, i0, i1, j0, j1, 1, out.s, C0);
      addColumns(A.U, nx, nz, i0, i1, j0, j1, 1, out.U, C0);
      addColumns(A.E, nx, nz, i1, i1, j0, j1, gapX, out.E, C0);
      addColumns(A.N, nx, nz, i0, i1, j1, j1, gapY, out.N, C0);
    }
  }
}

/** Sum of one, two or four columns, scaled. */
function addColumns(
  v: Float64Array,
  nx: number,
  nz: number,
  i0: number,
  i1: number,
  j0: number,
  j1: number,
  scale: number,
  out: Float64Array,
  C0: number,
): void {
  const a = nz * (i0 + nx * j0);
  const b = nz * (i1 + nx * j0);
  const c = nz * (i0 + nx * j1);
  const d = nz * (i1 + nx * j1);
  if (i0 === i1 && j0 === j1) {
    for (let z = 0; z < nz; z++) out[C0 + z] = scale * v[a + z]!;
  } else if (i0 === i1) {
    for (let z = 0; z < nz; z++) out[C0 + z] = scale * (v[a + z]! + v[c + z]!);
  } else if (j0 === j1) {
    for (let z = 0; z < nz; z++) out[C0 + z] = scale * (v[a + z]! + v[b + z]!);
  } else {
    for (let z = 0; z < nz; z++) out[C0 + z] = scale * (v[a + z]! + v[b + z]! + v[c + z]! + v[d + z]!);
  }
}
