import type { Network } from '../solve/level.js';
import type { CellShapes } from './fill-network.kernel.js';

/**
 * How a reading hangs on every conductivity, in one pass: sums of the adjoint identity over the faces of a network.
 *   u, v      adjoint and field                         n     |  kx, kz   conductivities along and through, W/mK      n
 *   E, N, U   conductances to i+1, j+1, k+1, W/K        n     |  dx, dy, dz  sizes of cells, m                        nx, ny, nz
 *   part      which part a cell belongs to              n     |  isAir    1 for parts of air                          parts
 *   contact   which contact lies above a cell, 0 none   n     |  R        resistance of each contact, m²K/W           contacts + 1
 *   along, through  receive sum of d(u A v) / d ln k by part               parts   (added to)
 *   pressed         receives sum of d(u A v) / d ln of the contact's factor, R being R0 over that factor   contacts + 1   (added to)
 * A face passes g (v - v') with 1/g = (d/2k + d'/2k' + R) / A, so dg/d ln k = g² (d/2k) / A. Of a gap only the air's share of `kz`
 * follows its factor; that share is kx/kz.
 */
export function sumSlopes(
  u: Float64Array,
  v: Float64Array,
  { E, N, U }: Network,
  kx: Float64Array,
  kz: Float64Array,
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
  const row = nx * nz;
  for (let j = 0; j < ny; j++) {
    const north = j + 1 < ny ? row : 0;
    const south = j > 0 ? row : 0;
    for (let i = 0; i < nx; i++) {
      const column = nz * (i + nx * j);
      const east = i + 1 < nx ? nz : 0;
      const west = i > 0 ? nz : 0;
      const overX = (0.5 * dx[i]!) / dy[j]!;
      const overY = (0.5 * dy[j]!) / dx[i]!;
      const half = 0.5 / (dx[i]! * dy[j]!);
      let below = 0;
      for (let k = 0; k < nz; k++) {
        const c = column + k;
        const a = u[c]!;
        const b = v[c]!;
        const p = part[c]!;
        // At an edge the cell stands for its missing neighbour: the differences are then nothing.
        const gE = E[c]!;
        const gW = E[c - west]!;
        const gN = N[c]!;
        const gS = N[c - south]!;
        const x =
          gE * gE * (a - u[c + east]!) * (b - v[c + east]!) +
          gW * gW * (a - u[c - west]!) * (b - v[c - west]!);
        const y =
          gN * gN * (a - u[c + north]!) * (b - v[c + north]!) +
          gS * gS * (a - u[c - south]!) * (b - v[c - south]!);
        along[p] = along[p]! + (overX * x + overY * y) / (dz[k]! * kx[c]!);
        let above = 0;
        if (k + 1 < nz) {
          const g = U[c]!;
          above = half * g * g * (a - u[c + 1]!) * (b - v[c + 1]!);
          const m = contact[c]!;
          if (m > 0) pressed[m] = pressed[m]! + 2 * above * R[m]!;
        }
        const z = (above + below) * dz[k]!;
        through[p] = through[p]! + (isAir[p] === 1 ? (z * kx[c]!) / (kz[c]! * kz[c]!) : z / kz[c]!);
        below = above;
      }
    }
  }
}
