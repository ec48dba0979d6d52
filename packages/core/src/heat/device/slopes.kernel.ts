/**
 * How a reading hangs on every conductivity, in one pass: sums of the adjoint identity over the faces of a network.
 *   u, v      adjoint and field                         n     |  kx, kz   conductivities along and through, W/mK      n
 *   gE, gN, gU  conductances to i+1, j+1, k+1, W/K      n     |  dx, dy, dz  sizes of cells, m                        nx, ny, nz
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
  kx: Float64Array,
  kz: Float64Array,
  gE: Float64Array,
  gN: Float64Array,
  gU: Float64Array,
  dx: Float64Array,
  dy: Float64Array,
  dz: Float64Array,
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
    for (let i = 0; i < nx; i++) {
      const column = nz * (i + nx * j);
      const areaZ = dx[i]! * dy[j]!;
      for (let k = 0; k < nz; k++) {
        const c = column + k;
        const a = u[c]!;
        const b = v[c]!;
        const p = part[c]!;
        if (i + 1 < nx) {
          const g = gE[c]!;
          const w = (g * g * (a - u[c + nz]!) * (b - v[c + nz]!)) / (2 * dy[j]! * dz[k]!);
          along[p] = along[p]! + (w * dx[i]!) / kx[c]!;
          const q = part[c + nz]!;
          along[q] = along[q]! + (w * dx[i + 1]!) / kx[c + nz]!;
        }
        if (j + 1 < ny) {
          const g = gN[c]!;
          const w = (g * g * (a - u[c + row]!) * (b - v[c + row]!)) / (2 * dx[i]! * dz[k]!);
          along[p] = along[p]! + (w * dy[j]!) / kx[c]!;
          const q = part[c + row]!;
          along[q] = along[q]! + (w * dy[j + 1]!) / kx[c + row]!;
        }
        if (k + 1 < nz) {
          const g = gU[c]!;
          const w = (g * g * (a - u[c + 1]!) * (b - v[c + 1]!)) / (2 * areaZ);
          const own = isAir[p] === 1 ? kx[c]! / kz[c]! : 1;
          through[p] = through[p]! + (own * w * dz[k]!) / kz[c]!;
          const q = part[c + 1]!;
          const other = isAir[q] === 1 ? kx[c + 1]! / kz[c + 1]! : 1;
          through[q] = through[q]! + (other * w * dz[k + 1]!) / kz[c + 1]!;
          const m = contact[c]!;
          if (m > 0) pressed[m] = pressed[m]! + 2 * w * R[m]!;
        }
      }
    }
  }
}
