/**
 * Vector work of the conjugate gradients, in double precision, columns with z fastest.
 *   x  rise   |   b  source   |   r  residual b - A x   |   p  direction   |   q  A p   |   z  preconditioned residual
 *   E, N, U, s  conductances east, north, up and to ambient, W/K
 * Trusts its caller.
 */
import type { Network } from './level.js';

/** q = A x in difference form, s x + sum of g (x - x of neighbour): a stored diagonal would drown the weak sink. Returns x.q */
export function applyNetwork(
  { E, N, U, s }: Network,
  nx: number,
  ny: number,
  nz: number,
  x: Float64Array,
  q: Float64Array,
): number {
  const plane = nx * nz;
  let dot = 0;
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const c0 = nz * (i + nx * j);
      // At an edge the cell stands for its missing neighbour: the difference is then nothing.
      const west = i > 0 ? -nz : 0;
      const east = i + 1 < nx ? nz : 0;
      const south = j > 0 ? -plane : 0;
      const north = j + 1 < ny ? plane : 0;
      let below = 0;
      let here = x[c0]!;
      const last = c0 + nz - 1;
      for (let c = c0; c <= last; c++) {
        const next = c < last ? x[c + 1]! : here;
        const above = U[c]! * (here - next);
        const sum =
          s[c]! * here +
          above -
          below +
          E[c]! * (here - x[c + east]!) +
          E[c + west]! * (here - x[c + west]!) +
          N[c]! * (here - x[c + north]!) +
          N[c + south]! * (here - x[c + south]!);
        q[c] = sum;
        dot += sum * here;
        below = above;
        here = next;
      }
    }
  }
  return dot;
}

/** Square of the sum of squares' root of |A| |x|: rounding leaves about the precision of a number times this in b - A x. */
export function grossSquare(
  { E, N, U, s }: Network,
  nx: number,
  ny: number,
  nz: number,
  x: Float64Array,
): number {
  const plane = nx * nz;
  let sum = 0;
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const c0 = nz * (i + nx * j);
      const west = i > 0 ? -nz : 0;
      const east = i + 1 < nx ? nz : 0;
      const south = j > 0 ? -plane : 0;
      const north = j + 1 < ny ? plane : 0;
      for (let c = c0; c < c0 + nz; c++) {
        const here = Math.abs(x[c]!);
        let row = s[c]! * here + U[c]! * (here + Math.abs(x[c + 1] ?? 0));
        if (c > c0) row += U[c - 1]! * (here + Math.abs(x[c - 1]!));
        row += E[c]! * (here + Math.abs(x[c + east]!));
        row += N[c]! * (here + Math.abs(x[c + north]!));
        if (west !== 0) row += E[c + west]! * (here + Math.abs(x[c + west]!));
        if (south !== 0) row += N[c + south]! * (here + Math.abs(x[c + south]!));
        sum += row * row;
      }
    }
  }
  return sum;
}

/** r = b - q, and f = m r in single precision. Returns r.r */
export function subtract(
  b: Float64Array,
  q: Float64Array,
  r: Float64Array,
  f: Float32Array,
  o: number,
  m: number,
): number {
  let sum = 0;
  for (let c = 0; c < r.length; c++) {
    const v = b[c]! - q[c]!;
    r[c] = v;
    f[o + c] = v * m;
    sum += v * v;
  }
  return sum;
}

/** r.z with z in single precision, padded by o */
export function dotWithSingle(r: Float64Array, z: Float32Array, o: number): number {
  let sum = 0;
  for (let c = 0; c < r.length; c++) sum += r[c]! * z[o + c]!;
  return sum;
}

/** p = z + beta p */
export function direct(z: Float32Array, o: number, beta: number, p: Float64Array): void {
  for (let c = 0; c < p.length; c++) p[c] = z[o + c]! + beta * p[c]!;
}

/** x += alpha p, r -= alpha q, f = m r. Returns r.r */
export function advance(
  alpha: number,
  p: Float64Array,
  q: Float64Array,
  x: Float64Array,
  r: Float64Array,
  f: Float32Array,
  o: number,
  m: number,
): number {
  let sum = 0;
  for (let c = 0; c < r.length; c++) {
    x[c] = x[c]! + alpha * p[c]!;
    const v = r[c]! - alpha * q[c]!;
    r[c] = v;
    f[o + c] = v * m;
    sum += v * v;
  }
  return sum;
}
