import { blockOf, Level } from './level';

/**
 * Fills rows of one grid of the hierarchy from its network in plain columns: factors of the columns and conductances across, in
 * single precision and split. `scale` brings conductances near 1. Four columns of one colour are eliminated side by side.
 * Sums of positive terms only, so that a weak sink survives beside strong conductances.
 */
export function fillLevel(level: Level, scale: f64, from: i32, to: i32): void {
  const nx = level.nx;
  const nz = level.nz;
  const run = (<usize>level.P) << 2;
  const block = blockOf(level);
  for (let j = from; j < to; j++) {
    for (let colour = 0; colour < 2; colour++) {
      const parity = (colour + j) & 1;
      const out = (<usize>(2 * j + colour)) * block;
      const count = (nx + 1 - parity) >> 1;
      for (let m = 0; m < count; m += 4) {
        const i = 2 * m + parity;
        const o = out + ((<usize>m) << 2);
        if (m + 4 <= count) {
          fillFour(level, i, j, i, i + 2, i + 4, i + 6, o, run, nz, scale);
        } else {
          // The last columns of a run are eliminated by fours as well; lanes without a column repeat one and are wiped.
          const last = 2 * (count - 1) + parity;
          fillFour(level, i, j, i, min(i + 2, last), min(i + 4, last), min(i + 6, last), o, run, nz, scale);
          for (let lane = count - m; lane < 4; lane++) {
            const shift = o + ((<usize>lane) << 2);
            for (let k = 0; k < nz; k++) {
              const at = shift + (<usize>k) * run;
              store<f32>(level.inv + at, 0);
              store<f32>(level.l + at, 0);
              store<f32>(level.gE + at, 0);
              store<f32>(level.gN + at, 0);
            }
          }
        }
      }
    }
  }
}

// @ts-ignore: decorator
@inline
function two(array: usize, a: usize, b: usize): v128 {
  return v128.load_lane<f64>(array + b, v128.load64_zero(array + a), 1);
}

// @ts-ignore: decorator
@inline
function single(low: v128, high: v128): v128 {
  return v128.shuffle<f32>(f32x4.demote_f64x2_zero(low), f32x4.demote_f64x2_zero(high), 0, 1, 4, 5);
}

// @ts-ignore: decorator
@inline
function fillFour(
  level: Level, i: i32, j: i32, ia: i32, ib: i32, ic: i32, id: i32, o: usize, run: usize, nz: i32, scale: f64,
): void {
  const E = level.E;
  const N = level.N;
  const U = level.U;
  const s = level.s;
  const height = (<usize>nz) << 3;
  const plane = height * level.nx;
  const line = plane * j;
  let a = line + height * ia;
  let b = line + height * ib;
  let c = line + height * ic;
  let d = line + height * id;
  const scales = f64x2.splat(scale);
  const unit = f64x2.splat(1.0 / scale);
  const one = f64x2.splat(1.0);
  const zero = f64x2.splat(0.0);
  // A column at an edge stands for its missing neighbour's; the weight then takes the conductance out again.
  const west = i > 0 ? height : 0;
  const westA = i > 0 ? one : f64x2.replace_lane(one, 0, 0);
  const south = j > 0 ? plane : 0;
  const southA = j > 0 ? one : zero;
  let throughA = zero;
  let throughB = zero;
  for (let k = 0; k < nz; k++) {
    const E0 = two(E, a, b);
    const E1 = two(E, c, d);
    const N0 = two(N, a, b);
    const N1 = two(N, c, d);
    const U0 = two(U, a, b);
    const U1 = two(U, c, d);
    let e0 = f64x2.add(f64x2.add(two(s, a, b), throughA), f64x2.add(E0, N0));
    let e1 = f64x2.add(f64x2.add(two(s, c, d), throughB), f64x2.add(E1, N1));
    e0 = f64x2.add(e0, f64x2.mul(westA, two(E, a - west, b - height)));
    e1 = f64x2.add(e1, two(E, c - height, d - height));
    e0 = f64x2.add(e0, f64x2.mul(southA, two(N, a - south, b - south)));
    e1 = f64x2.add(e1, f64x2.mul(southA, two(N, c - south, d - south)));
    const inverse0 = f64x2.div(one, f64x2.add(e0, U0));
    const inverse1 = f64x2.div(one, f64x2.add(e1, U1));
    const pass0 = f64x2.mul(U0, inverse0);
    const pass1 = f64x2.mul(U1, inverse1);
    throughA = f64x2.mul(pass0, e0);
    throughB = f64x2.mul(pass1, e1);
    v128.store(level.inv + o, single(f64x2.mul(inverse0, unit), f64x2.mul(inverse1, unit)));
    v128.store(level.l + o, single(pass0, pass1));
    v128.store(level.gE + o, single(f64x2.mul(E0, scales), f64x2.mul(E1, scales)));
    v128.store(level.gN + o, single(f64x2.mul(N0, scales), f64x2.mul(N1, scales)));
    o += run;
    a += 8;
    b += 8;
    c += 8;
    d += 8;
  }
}

/** Shares of the coarse neighbours in the corrections of red cells; as in level.kernel.ts. */
export function weigh(level: Level, from: i32, to: i32): void {
  const nx = level.nx;
  const nz = level.nz;
  const column = (<usize>level.zp) << 2;
  const height = (<usize>nz) << 3;
  const plane = height * nx;
  for (let j = from; j < to; j++) {
    const parity = j & 1;
    const nextY = load<i32>(level.besideY + ((<usize>j) << 2));
    const ownY = load<i32>(level.ownY + ((<usize>j) << 2));
    const loneY = isLone(level.firstY, nextY);
    let w = (<usize>(j * level.reds)) * column;
    for (let i = parity; i < nx; i += 2) {
      const at = plane * j + height * i;
      const nextX = load<i32>(level.besideX + ((<usize>i) << 2));
      const ownX = load<i32>(level.ownX + ((<usize>i) << 2));
      weighColumn(level.E + at, height, nextX - ownX, isLone(level.firstX, nextX), level.wx + w, nz);
      weighColumn(level.N + at, plane, nextY - ownY, loneY, level.wy + w, nz);
      w += column;
    }
  }
}

// @ts-ignore: decorator
@inline
function isLone(first: usize, line: i32): bool {
  const at = first + ((<usize>line) << 2);
  return load<i32>(at + 4) - load<i32>(at) === 1;
}

/** `side` is -1, 0 or 1: where the coarse neighbour lies; `back` leads to the cell before along the axis. */
// @ts-ignore: decorator
@inline
function weighColumn(g: usize, back: usize, side: i32, lone: bool, w: usize, nz: i32): void {
  if (side === 0) {
    memory.fill(w, 0, (<usize>nz) << 2);
    return;
  }
  const inner = side < 0 ? g : g - back;
  const outer = side < 0 ? g - back : g;
  const far = lone ? outer : side < 0 ? g - 2 * back : g + back;
  for (let k = 0; k < nz; k++) {
    const z = (<usize>k) << 3;
    const i = load<f64>(inner + z);
    const o = load<f64>(outer + z);
    const d = load<f64>(far + z);
    const top = lone ? 0.5 * o : 0.5 * o * d;
    const share = lone ? top / (top + i) : top / (top + i * (d + 0.5 * o));
    store<f32>(w + ((<usize>k) << 2), top > 0 ? <f32>share : 0);
  }
}

/** Rows of the network of the next coarser grid: sums, and across its faces sums that shrink by the longer distance. */
export function coarsen(level: Level, coarse: Level, from: i32, to: i32): void {
  const nx = level.nx;
  const nz = level.nz;
  const height = (<usize>nz) << 3;
  const plane = height * nx;
  for (let J = from; J < to; J++) {
    const firstY = level.firstY + ((<usize>J) << 2);
    const j0 = load<i32>(firstY);
    const j1 = load<i32>(firstY + 4) - 1;
    const gapY = J + 1 < coarse.ny ? load<f64>(level.ty + ((<usize>(J + 1)) << 3)) : 0;
    for (let I = 0; I < coarse.nx; I++) {
      const firstX = level.firstX + ((<usize>I) << 2);
      const i0 = load<i32>(firstX);
      const i1 = load<i32>(firstX + 4) - 1;
      const gapX = I + 1 < coarse.nx ? load<f64>(level.tx + ((<usize>(I + 1)) << 3)) : 0;
      const a = plane * j0 + height * i0;
      const across = i1 > i0 ? height : 0;
      const along = j1 > j0 ? plane : 0;
      const to = height * (I + coarse.nx * J);
      const halfX = i1 > i0 ? 1.0 : 0.5;
      const halfY = j1 > j0 ? 1.0 : 0.5;
      addFour(level.s + a, across, along, halfX * halfY, coarse.s + to, nz);
      addFour(level.U + a, across, along, halfX * halfY, coarse.U + to, nz);
      addTwo(level.E + a + across, along, halfY * gapX, coarse.E + to, nz);
      addTwo(level.N + a + along, across, halfX * gapY, coarse.N + to, nz);
    }
  }
}

/** Where a line has no partner both halves are the same cells: the weight takes them once. */
// @ts-ignore: decorator
@inline
function addFour(v: usize, across: usize, along: usize, weight: f64, to: usize, nz: i32): void {
  const weights = f64x2.splat(weight);
  const end = v + ((<usize>(nz & ~1)) << 3);
  while (v < end) {
    const first = f64x2.add(v128.load(v), v128.load(v + across));
    const second = f64x2.add(v128.load(v + along), v128.load(v + across + along));
    v128.store(to, f64x2.mul(weights, f64x2.add(first, second)));
    v += 16;
    to += 16;
  }
  if (nz & 1) {
    const sum = load<f64>(v) + load<f64>(v + across) + (load<f64>(v + along) + load<f64>(v + across + along));
    store<f64>(to, weight * sum);
  }
}

// @ts-ignore: decorator
@inline
function addTwo(v: usize, shift: usize, weight: f64, to: usize, nz: i32): void {
  const weights = f64x2.splat(weight);
  const end = v + ((<usize>(nz & ~1)) << 3);
  while (v < end) {
    v128.store(to, f64x2.mul(weights, f64x2.add(v128.load(v), v128.load(v + shift))));
    v += 16;
    to += 16;
  }
  if (nz & 1) store<f64>(to, weight * (load<f64>(v) + load<f64>(v + shift)));
}
