/**
 * One symmetric V(1,1) cycle in single precision: z = V(f), an approximate solution of A z = f.
 *   f, x    right-hand side and solution, columns with z fastest, `o` cells of padding on both sides
 *   gE, gN  conductances east and north, scaled   |   inv, l  factors of the columns
 *   wx, wy  shares of the coarse neighbours in a red cell's correction
 * Colours are those of a chessboard seen from above: a column is red where i + j is even. Trusts its caller.
 */
import type { Level } from './hierarchy.js';
import type { Step } from './level.js';

/** x = solution of each column of one colour, with all neighbours at nothing. */
function solveAlone({ nx, ny, nz, o, f, x, inv, l }: Level, colour: number): void {
  for (let j = 0; j < ny; j++) {
    for (let i = (j + colour) & 1; i < nx; i += 2) {
      const c0 = o + nz * (i + nx * j);
      const last = c0 + nz - 1;
      let t = f[c0]!;
      x[c0] = t;
      for (let c = c0 + 1; c <= last; c++) {
        t = f[c]! + l[c - 1]! * t;
        x[c] = t;
      }
      let v = t * inv[last]!;
      x[last] = v;
      for (let c = last - 1; c >= c0; c--) {
        v = x[c]! * inv[c]! + l[c]! * v;
        x[c] = v;
      }
    }
  }
}

/** x = solution of each column of one colour, with the neighbours, all of the other colour, as they stand. */
function solveAmong({ nx, ny, nz, o, f, x, inv, l, gE, gN }: Level, colour: number): void {
  const plane = nz * nx;
  for (let j = 0; j < ny; j++) {
    for (let i = (j + colour) & 1; i < nx; i += 2) {
      const c0 = o + nz * (i + nx * j);
      const last = c0 + nz - 1;
      let t = 0;
      let pass = 0;
      for (let c = c0; c <= last; c++) {
        t =
          f[c]! +
          gE[c]! * x[c + nz]! +
          gE[c - nz]! * x[c - nz]! +
          gN[c]! * x[c + plane]! +
          gN[c - plane]! * x[c - plane]! +
          pass * t;
        pass = l[c]!;
        x[c] = t;
      }
      let v = t * inv[last]!;
      x[last] = v;
      for (let c = last - 1; c >= c0; c--) {
        v = x[c]! * inv[c]! + l[c]! * v;
        x[c] = v;
      }
    }
  }
}

/**
 * Coarse right-hand side. After the black columns were solved only red cells have a residual, and it is what flows in
 * from their black neighbours. Exact transpose of `prolong`.
 */
function restrict({ nx, ny, nz, o, x, gE, gN, wx, wy }: Level, step: Step, coarse: Level): void {
  const plane = nz * nx;
  const { f } = coarse;
  const nX = coarse.nx;
  f.fill(0);
  for (let j = 0; j < ny; j++) {
    const J = step.y.own[j]!;
    const JB = step.besideY[j]!;
    for (let i = j & 1; i < nx; i += 2) {
      const q = i + nx * j;
      const I = step.x.own[i]!;
      const c0 = o + nz * q;
      const w0 = (q >> 1) * nz;
      const C0 = coarse.o + nz * (I + nX * J);
      const CX = coarse.o + nz * (step.besideX[i]! + nX * J);
      const CY = coarse.o + nz * (I + nX * JB);
      for (let z = 0; z < nz; z++) {
        const c = c0 + z;
        const r =
          gE[c]! * x[c + nz]! +
          gE[c - nz]! * x[c - nz]! +
          gN[c]! * x[c + plane]! +
          gN[c - plane]! * x[c - plane]!;
        const rx = r * wx[w0 + z]!;
        const ry = r * wy[w0 + z]!;
        f[C0 + z] = f[C0 + z]! + (r - rx - ry);
        f[CX + z] = f[CX + z]! + rx;
        f[CY + z] = f[CY + z]! + ry;
      }
    }
  }
}

/** Adds the coarse solution to the red cells; black ones are solved anew before anything reads them. */
function prolong({ nx, ny, nz, o, x, wx, wy }: Level, step: Step, coarse: Level): void {
  const X = coarse.x;
  const nX = coarse.nx;
  for (let j = 0; j < ny; j++) {
    const J = step.y.own[j]!;
    const JB = step.besideY[j]!;
    for (let i = j & 1; i < nx; i += 2) {
      const q = i + nx * j;
      const I = step.x.own[i]!;
      const c0 = o + nz * q;
      const w0 = (q >> 1) * nz;
      const C0 = coarse.o + nz * (I + nX * J);
      const CX = coarse.o + nz * (step.besideX[i]! + nX * J);
      const CY = coarse.o + nz * (I + nX * JB);
      for (let z = 0; z < nz; z++) {
        const own = X[C0 + z]!;
        x[c0 + z] = x[c0 + z]! + own + wx[w0 + z]! * (X[CX + z]! - own) + wy[w0 + z]! * (X[CY + z]! - own);
      }
    }
  }
}

const red = 0;
const black = 1;

/** Solves grid `at` approximately from its f into its x. Mirrored before and after, hence symmetric. */
export function cycle(levels: readonly Level[], steps: readonly Step[], at: number): void {
  const level = levels[at]!;
  solveAlone(level, red);
  if (at + 1 === levels.length) return;
  const step = steps[at]!;
  const coarse = levels[at + 1]!;
  solveAmong(level, black);
  restrict(level, step, coarse);
  cycle(levels, steps, at + 1);
  prolong(level, step, coarse);
  solveAmong(level, black);
  solveAmong(level, red);
}
