import { blockOf, Level, Work } from './level';

/**
 * Vector work of the conjugate gradients in double precision, split layout. `o` below counts bytes from the first cell; a
 * vector in single precision is half as far.
 */

// @ts-ignore: decorator
@inline
function total(sum: v128): f64 {
  return f64x2.extract_lane(sum, 0) + f64x2.extract_lane(sum, 1);
}

/** Bytes of a row of a split vector of doubles, both colours. */
// @ts-ignore: decorator
@inline
function rowOf(level: Level): usize {
  return blockOf(level) << 2;
}

/** q = A x in row j, in difference form. Returns x.q */
export function applyRow(work: Work, level: Level, x: usize, q: usize, j: i32): f64 {
  const E = work.E;
  const N = work.N;
  const U = work.U;
  const s = work.s;
  const nz = level.nz;
  const run = (<usize>level.P) << 3;
  const block = blockOf(level) << 1;
  const row = 2 * block;
  let dot0 = f64x2.splat(0);
  let dot1 = f64x2.splat(0);
  for (let colour = 0; colour < 2; colour++) {
    const at = (<usize>(2 * j + colour)) * block;
    const other = (<usize>(2 * j + 1 - colour)) * block;
    const east = other + ((<usize>((colour + j) & 1)) << 3);
    const west = east - 8;
    const xO = x + at;
    const qO = q + at;
    const xE = x + east;
    const xW = x + west;
    const xN = x + other + row;
    const xS = x + other - row;
    const sO = s + at;
    const gE = E + at;
    const gW = E + west;
    const gN = N + at;
    const gS = N + other - row;
    const gU = U + at;
    for (let k = 0; k < nz; k++) {
      const from = run * k;
      const to = from + run;
      // The last layer stands for the one above it, the first for the one below: the difference is nothing.
      const up: usize = k + 1 < nz ? run : 0;
      const down: usize = k > 0 ? run : 0;
      for (let o = from; o < to; o += 32) {
        const a = load2(xO + o);
        const b = load2(xO + o + 16);
        let u = f64x2.mul(load2(sO + o), a);
        let v = f64x2.mul(load2(sO + o + 16), b);
        u = flow(u, gE + o, a, xE + o);
        v = flow(v, gE + o + 16, b, xE + o + 16);
        u = flow(u, gW + o, a, xW + o);
        v = flow(v, gW + o + 16, b, xW + o + 16);
        u = flow(u, gN + o, a, xN + o);
        v = flow(v, gN + o + 16, b, xN + o + 16);
        u = flow(u, gS + o, a, xS + o);
        v = flow(v, gS + o + 16, b, xS + o + 16);
        u = flow(u, gU + o, a, xO + o + up);
        v = flow(v, gU + o + 16, b, xO + o + up + 16);
        u = flow(u, gU + o - down, a, xO + o - down);
        v = flow(v, gU + o - down + 16, b, xO + o - down + 16);
        v128.store(qO + o, u);
        v128.store(qO + o + 16, v);
        dot0 = f64x2.add(dot0, f64x2.mul(a, u));
        dot1 = f64x2.add(dot1, f64x2.mul(b, v));
      }
    }
    // q also serves as a place where plain columns come and go: the four zeros after each colour are restored.
    v128.store(qO + run * nz, f64x2.splat(0));
    v128.store(qO + run * nz + 16, f64x2.splat(0));
  }
  return total(f64x2.add(dot0, dot1));
}

// @ts-ignore: decorator
@inline
function load2(at: usize): v128 {
  return v128.load(at);
}

// @ts-ignore: decorator
@inline
function flow(sum: v128, g: usize, here: v128, there: usize): v128 {
  return f64x2.add(sum, f64x2.mul(v128.load(g), f64x2.sub(here, v128.load(there))));
}

/** r -= step q and f = scale r in single precision, in row j; x += step p where there is a p. Returns r.r */
export function advanceRow(work: Work, level: Level, p: usize, step: f64, scale: f64, j: i32): f64 {
  const row = rowOf(level);
  const x = work.x;
  const r = work.r;
  const q = work.q;
  const f = level.f;
  const end = row * (j + 1);
  const steps = f64x2.splat(step);
  const scales = f64x2.splat(scale);
  let sum0 = f64x2.splat(0);
  let sum1 = f64x2.splat(0);
  for (let o = row * j; o < end; o += 32) {
    const u = f64x2.sub(v128.load(r + o), f64x2.mul(steps, v128.load(q + o)));
    const v = f64x2.sub(v128.load(r + o + 16), f64x2.mul(steps, v128.load(q + o + 16)));
    v128.store(r + o, u);
    v128.store(r + o + 16, v);
    sum0 = f64x2.add(sum0, f64x2.mul(u, u));
    sum1 = f64x2.add(sum1, f64x2.mul(v, v));
    const low = f32x4.demote_f64x2_zero(f64x2.mul(u, scales));
    const high = f32x4.demote_f64x2_zero(f64x2.mul(v, scales));
    v128.store(f + (o >> 1), v128.shuffle<f32>(low, high, 0, 1, 4, 5));
    if (p !== 0) {
      v128.store(x + o, f64x2.add(v128.load(x + o), f64x2.mul(steps, v128.load(p + o))));
      v128.store(x + o + 16, f64x2.add(v128.load(x + o + 16), f64x2.mul(steps, v128.load(p + o + 16))));
    }
  }
  return total(f64x2.add(sum0, sum1));
}

/** r.z in row j, with z the solution of the cycle. */
export function dotRow(work: Work, level: Level, j: i32): f64 {
  const row = rowOf(level);
  const r = work.r;
  const z = level.x;
  const end = row * (j + 1);
  let sum0 = f64x2.splat(0);
  let sum1 = f64x2.splat(0);
  for (let o = row * j; o < end; o += 32) {
    const both = v128.load(z + (o >> 1));
    const low = f64x2.promote_low_f32x4(both);
    const high = f64x2.promote_low_f32x4(v128.shuffle<f32>(both, both, 2, 3, 2, 3));
    sum0 = f64x2.add(sum0, f64x2.mul(v128.load(r + o), low));
    sum1 = f64x2.add(sum1, f64x2.mul(v128.load(r + o + 16), high));
  }
  return total(f64x2.add(sum0, sum1));
}

/** p = z + beta p in row j. */
export function directRow(work: Work, level: Level, beta: f64, j: i32): void {
  const row = rowOf(level);
  const p = work.p;
  const z = level.x;
  const end = row * (j + 1);
  const betas = f64x2.splat(beta);
  for (let o = row * j; o < end; o += 32) {
    const both = v128.load(z + (o >> 1));
    const low = f64x2.promote_low_f32x4(both);
    const high = f64x2.promote_low_f32x4(v128.shuffle<f32>(both, both, 2, 3, 2, 3));
    v128.store(p + o, f64x2.add(low, f64x2.mul(betas, v128.load(p + o))));
    v128.store(p + o + 16, f64x2.add(high, f64x2.mul(betas, v128.load(p + o + 16))));
  }
}

/** Doubles of row j from plain columns, z fastest, to the split layout. */
export function splitRow(level: Level, from: usize, to: usize, j: i32): void {
  const nx = level.nx;
  const nz = level.nz;
  const run = (<usize>level.P) << 3;
  const height = (<usize>nz) << 3;
  for (let colour = 0; colour < 2; colour++) {
    const parity = (colour + j) & 1;
    const out = to + (<usize>(2 * j + colour)) * (blockOf(level) << 1);
    const count = (nx + 1 - parity) >> 1;
    for (let m = 0; m < count; m += 2) {
      const a = from + height * (nx * j + 2 * m + parity);
      let o = out + ((<usize>m) << 3);
      if (m + 1 < count) {
        const b = a + 2 * height;
        let z: usize = 0;
        for (; z + 8 < height; z += 16) {
          const u = v128.load(a + z);
          const v = v128.load(b + z);
          v128.store(o, v128.shuffle<f64>(u, v, 0, 2));
          v128.store(o + run, v128.shuffle<f64>(u, v, 1, 3));
          o += 2 * run;
        }
        if (z < height) v128.store(o, v128.load_lane<f64>(b + z, v128.load64_zero(a + z), 1));
      } else {
        for (let z: usize = 0; z < height; z += 8) {
          store<f64>(o, load<f64>(a + z));
          o += run;
        }
      }
    }
  }
}

/** Doubles of row j from the split layout to plain columns. */
export function joinRow(level: Level, from: usize, to: usize, j: i32): void {
  const nx = level.nx;
  const nz = level.nz;
  const run = (<usize>level.P) << 3;
  const height = (<usize>nz) << 3;
  for (let colour = 0; colour < 2; colour++) {
    const parity = (colour + j) & 1;
    const source = from + (<usize>(2 * j + colour)) * (blockOf(level) << 1);
    const count = (nx + 1 - parity) >> 1;
    for (let m = 0; m < count; m += 2) {
      const a = to + height * (nx * j + 2 * m + parity);
      let o = source + ((<usize>m) << 3);
      if (m + 1 < count) {
        const b = a + 2 * height;
        let z: usize = 0;
        for (; z + 8 < height; z += 16) {
          const u = v128.load(o);
          const v = v128.load(o + run);
          v128.store(a + z, v128.shuffle<f64>(u, v, 0, 2));
          v128.store(b + z, v128.shuffle<f64>(u, v, 1, 3));
          o += 2 * run;
        }
        if (z < height) {
          store<f64>(a + z, load<f64>(o));
          store<f64>(b + z, load<f64>(o + 8));
        }
      } else {
        for (let z: usize = 0; z < height; z += 8) {
          store<f64>(a + z, load<f64>(o));
          o += run;
        }
      }
    }
  }
}
