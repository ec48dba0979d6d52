import { blockOf, Level, madd } from './level';

/** Solves the columns of one colour in row j, all neighbours at nothing. */
export function solveAlone(level: Level, colour: i32, j: i32): void {
  const nz = level.nz;
  const run = (<usize>level.P) << 2;
  const block = blockOf(level);
  const at = (<usize>(2 * j + colour)) * block;
  const f = level.f + at;
  const x = level.x + at;
  const l = level.l + at;
  for (let o: usize = 0; o < run; o += 16) v128.store(x + o, v128.load(f + o));
  const end = run * nz;
  for (let o = run; o < end; o += 16) {
    const t = madd(v128.load(f + o), v128.load(l + o - run), v128.load(x + o - run));
    v128.store(x + o, t);
  }
  climbDown(x, level.inv + at, l, run, end);
}

/** Solves the columns of one colour in row j, the neighbours as they stand. */
export function solveAmong(level: Level, colour: i32, j: i32): void {
  const nz = level.nz;
  const run = (<usize>level.P) << 2;
  const block = blockOf(level);
  const row = 2 * block;
  const end = run * nz;
  const at = (<usize>(2 * j + colour)) * block;
  const other = (<usize>(2 * j + 1 - colour)) * block;
  const parity = <usize>((colour + j) & 1);
  const east = other + (parity << 2);
  const west = east - 4;
  const f = level.f + at;
  const x = level.x + at;
  const l = level.l + at;
  const gE = level.gE + at;
  const gW = level.gE + west;
  const gN = level.gN + at;
  const gS = level.gN + other - row;
  const xE = level.x + east;
  const xW = level.x + west;
  const xN = level.x + other + row;
  const xS = level.x + other - row;
  for (let o: usize = 0; o < run; o += 16) {
    let t = v128.load(f + o);
    t = madd(t, v128.load(gE + o), v128.load(xE + o));
    t = madd(t, v128.load(gW + o), v128.load(xW + o));
    t = madd(t, v128.load(gN + o), v128.load(xN + o));
    t = madd(t, v128.load(gS + o), v128.load(xS + o));
    v128.store(x + o, t);
  }
  for (let o = run; o < end; o += 16) {
    let t = v128.load(f + o);
    t = madd(t, v128.load(gE + o), v128.load(xE + o));
    t = madd(t, v128.load(gW + o), v128.load(xW + o));
    t = madd(t, v128.load(gN + o), v128.load(xN + o));
    t = madd(t, v128.load(gS + o), v128.load(xS + o));
    t = madd(t, v128.load(l + o - run), v128.load(x + o - run));
    v128.store(x + o, t);
  }
  climbDown(x, level.inv + at, l, run, end);
}

/** The way back through the columns of one block, from the last layer to the first. */
// @ts-ignore: decorator
@inline
function climbDown(x: usize, inv: usize, l: usize, run: usize, end: usize): void {
  for (let o = end - run; o < end; o += 16) {
    v128.store(x + o, f32x4.mul(v128.load(x + o), v128.load(inv + o)));
  }
  let from = end - run;
  while (from > 0) {
    const to = from;
    from -= run;
    for (let o = from; o < to; o += 16) {
      const v = madd(
        f32x4.mul(v128.load(x + o), v128.load(inv + o)),
        v128.load(l + o),
        v128.load(x + o + run),
      );
      v128.store(x + o, v);
    }
  }
}
