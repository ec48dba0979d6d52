import { blockOf, highHalves, highPairs, Level, lowHalves, lowPairs, madd } from './level';

/**
 * Adds what row j contributes to the coarse right-hand side. Only red cells have a residual here,
 * and it is what flows in from their black neighbours. Four columns by four layers at a time: residuals are found in the
 * split layout, turned over, and added to coarse columns four layers at once.
 */
export function restrict(level: Level, coarse: Level, j: i32): void {
  const nx = level.nx;
  const nz = level.nz;
  const zp = level.zp;
  const run = (<usize>level.P) << 2;
  const block = blockOf(level);
  const row = 2 * block;
  const column = (<usize>zp) << 2;
  const rowC = column * coarse.nx;
  const at = (<usize>(2 * j)) * block;
  const other = at + block;
  const parity = j & 1;
  const east = other + ((<usize>parity) << 2);
  const west = east - 4;
  const gE = level.gE + at;
  const gW = level.gE + west;
  const gN = level.gN + at;
  const gS = level.gN + other - row;
  const xE = level.x + east;
  const xW = level.x + west;
  const xN = level.x + other + row;
  const xS = level.x + other - row;
  const ownJ = load<i32>(level.ownY + ((<usize>j) << 2));
  const sideJ = load<i32>(level.besideY + ((<usize>j) << 2));
  const sumJ = coarse.sum + rowC * ownJ;
  // A row without a neighbour on its side has nothing for it: that goes where nobody looks, behind the last row.
  const sumB =
    sideJ === ownJ ? coarse.down + rowC * coarse.ny : (sideJ < ownJ ? coarse.down : coarse.up) + rowC * sideJ;
  const reds = (nx + 1 - parity) >> 1;
  const shares = (<usize>(j * level.reds)) * column;
  for (let m = 0; m < reds; m += 4) {
    const left = reds - m;
    for (let k = 0; k < nz; k += 4) {
      const o = (<usize>k) * run + ((<usize>m) << 2);
      const r0 = inflow(gE, gW, gN, gS, xE, xW, xN, xS, o);
      const r1 = inflow(gE, gW, gN, gS, xE, xW, xN, xS, o + run);
      const r2 = inflow(gE, gW, gN, gS, xE, xW, xN, xS, o + 2 * run);
      const r3 = inflow(gE, gW, gN, gS, xE, xW, xN, xS, o + 3 * run);
      const a = lowPairs(r0, r1);
      const b = highPairs(r0, r1);
      const c = lowPairs(r2, r3);
      const d = highPairs(r2, r3);
      const layer = (<usize>k) << 2;
      const w = shares + (<usize>m) * column + layer;
      const i = 2 * m + parity;
      share(level, lowHalves(a, c), i, w, sumJ + layer, sumB + layer, column);
      if (left > 1) share(level, highHalves(a, c), i + 2, w + column, sumJ + layer, sumB + layer, column);
      if (left > 2) share(level, lowHalves(b, d), i + 4, w + 2 * column, sumJ + layer, sumB + layer, column);
      if (left > 3) share(level, highHalves(b, d), i + 6, w + 3 * column, sumJ + layer, sumB + layer, column);
    }
  }
}

// @ts-ignore: decorator
@inline
function inflow(gE: usize, gW: usize, gN: usize, gS: usize, xE: usize, xW: usize, xN: usize, xS: usize, o: usize): v128 {
  let r = f32x4.mul(v128.load(gE + o), v128.load(xE + o));
  r = madd(r, v128.load(gW + o), v128.load(xW + o));
  r = madd(r, v128.load(gN + o), v128.load(xN + o));
  return madd(r, v128.load(gS + o), v128.load(xS + o));
}

/**
 * Four layers of one column's residual go to the coarse column and its two neighbours. To the one in the next row nothing else
 * comes from here: of the lines of a pair only one column in a row is red.
 */
// @ts-ignore: decorator
@inline
function share(level: Level, r: v128, i: i32, w: usize, sumJ: usize, sumB: usize, column: usize): void {
  const rx = f32x4.mul(r, v128.load(level.wx + w));
  const ry = f32x4.mul(r, v128.load(level.wy + w));
  const own = column * load<i32>(level.ownX + ((<usize>i) << 2));
  const beside = column * load<i32>(level.besideX + ((<usize>i) << 2));
  const rest = f32x4.sub(f32x4.sub(r, rx), ry);
  v128.store(sumJ + own, f32x4.add(v128.load(sumJ + own), rest));
  v128.store(sumJ + beside, f32x4.add(v128.load(sumJ + beside), rx));
  v128.store(sumB + own, ry);
}

/** Adds the coarse solution, gathered into columns, to the red cells of row j. Transpose of `restrict`. */
export function prolong(level: Level, coarse: Level, j: i32): void {
  const nx = level.nx;
  const nz = level.nz;
  const run = (<usize>level.P) << 2;
  const block = blockOf(level);
  const column = (<usize>level.zp) << 2;
  const rowC = column * coarse.nx;
  const x = level.x + (<usize>(2 * j)) * block;
  const parity = j & 1;
  const rowJ = coarse.sum + rowC * load<i32>(level.ownY + ((<usize>j) << 2));
  const rowB = coarse.sum + rowC * load<i32>(level.besideY + ((<usize>j) << 2));
  const reds = (nx + 1 - parity) >> 1;
  const shares = (<usize>(j * level.reds)) * column;
  for (let m = 0; m < reds; m += 4) {
    const left = reds - m;
    for (let k = 0; k < nz; k += 4) {
      const layer = (<usize>k) << 2;
      const w = shares + (<usize>m) * column + layer;
      const i = 2 * m + parity;
      const zero = f32x4.splat(0);
      const c0 = correction(level, i, w, rowJ + layer, rowB + layer, column);
      const c1 = left > 1 ? correction(level, i + 2, w + column, rowJ + layer, rowB + layer, column) : zero;
      const c2 = left > 2 ? correction(level, i + 4, w + 2 * column, rowJ + layer, rowB + layer, column) : zero;
      const c3 = left > 3 ? correction(level, i + 6, w + 3 * column, rowJ + layer, rowB + layer, column) : zero;
      const a = lowPairs(c0, c1);
      const b = highPairs(c0, c1);
      const c = lowPairs(c2, c3);
      const d = highPairs(c2, c3);
      const to = x + (<usize>k) * run + ((<usize>m) << 2);
      v128.store(to, f32x4.add(v128.load(to), lowHalves(a, c)));
      if (k + 1 < nz) v128.store(to + run, f32x4.add(v128.load(to + run), highHalves(a, c)));
      if (k + 2 < nz) v128.store(to + 2 * run, f32x4.add(v128.load(to + 2 * run), lowHalves(b, d)));
      if (k + 3 < nz) v128.store(to + 3 * run, f32x4.add(v128.load(to + 3 * run), highHalves(b, d)));
    }
  }
}

// @ts-ignore: decorator
@inline
function correction(level: Level, i: i32, w: usize, rowJ: usize, rowB: usize, column: usize): v128 {
  const at = column * load<i32>(level.ownX + ((<usize>i) << 2));
  const beside = column * load<i32>(level.besideX + ((<usize>i) << 2));
  const own = v128.load(rowJ + at);
  const x = f32x4.sub(v128.load(rowJ + beside), own);
  const y = f32x4.sub(v128.load(rowB + at), own);
  return madd(madd(own, v128.load(level.wx + w), x), v128.load(level.wy + w), y);
}

/** Makes rows of the right-hand side from what fine rows brought: columns to split layout. */
export function splitColumns(level: Level, from: i32, to: i32): void {
  const nx = level.nx;
  const nz = level.nz;
  const run = (<usize>level.P) << 2;
  const block = blockOf(level);
  const column = (<usize>level.zp) << 2;
  const sum = level.sum;
  const up = level.up;
  const down = level.down;
  for (let j = from; j < to; j++) {
    const row = (<usize>(j * nx)) * column;
    for (let colour = 0; colour < 2; colour++) {
      const parity = (colour + j) & 1;
      const count = (nx + 1 - parity) >> 1;
      const out = level.f + (<usize>(2 * j + colour)) * block;
      for (let m = 0; m < count; m += 4) {
        const left = count - m;
        const first = row + (<usize>(2 * m + parity)) * column;
        for (let k = 0; k < nz; k += 4) {
          const layer = first + ((<usize>k) << 2);
          const zero = f32x4.splat(0);
          const c0 = brought(sum, up, down, layer);
          const c1 = left > 1 ? brought(sum, up, down, layer + 2 * column) : zero;
          const c2 = left > 2 ? brought(sum, up, down, layer + 4 * column) : zero;
          const c3 = left > 3 ? brought(sum, up, down, layer + 6 * column) : zero;
          const a = lowPairs(c0, c1);
          const b = highPairs(c0, c1);
          const c = lowPairs(c2, c3);
          const d = highPairs(c2, c3);
          const o = out + (<usize>k) * run + ((<usize>m) << 2);
          v128.store(o, lowHalves(a, c));
          if (k + 1 < nz) v128.store(o + run, highHalves(a, c));
          if (k + 2 < nz) v128.store(o + 2 * run, lowHalves(b, d));
          if (k + 3 < nz) v128.store(o + 3 * run, highHalves(b, d));
        }
      }
    }
  }
}

// @ts-ignore: decorator
@inline
function brought(sum: usize, up: usize, down: usize, o: usize): v128 {
  return f32x4.add(v128.load(sum + o), f32x4.add(v128.load(up + o), v128.load(down + o)));
}

/** Rows of the solution from split to column layout; what stands in the padding of a column afterwards means nothing. */
export function gatherColumns(level: Level, from: i32, to: i32): void {
  const nx = level.nx;
  const nz = level.nz;
  const run = (<usize>level.P) << 2;
  const block = blockOf(level);
  const column = (<usize>level.zp) << 2;
  for (let j = from; j < to; j++) {
    const row = level.sum + (<usize>(j * nx)) * column;
    for (let colour = 0; colour < 2; colour++) {
      const parity = (colour + j) & 1;
      const count = (nx + 1 - parity) >> 1;
      const block0 = level.x + (<usize>(2 * j + colour)) * block;
      for (let m = 0; m < count; m += 4) {
        const left = count - m;
        const first = row + (<usize>(2 * m + parity)) * column;
        for (let k = 0; k < nz; k += 4) {
          const o = block0 + (<usize>k) * run + ((<usize>m) << 2);
          const r0 = v128.load(o);
          const r1 = v128.load(o + run);
          const r2 = v128.load(o + 2 * run);
          const r3 = v128.load(o + 3 * run);
          const a = lowPairs(r0, r1);
          const b = highPairs(r0, r1);
          const c = lowPairs(r2, r3);
          const d = highPairs(r2, r3);
          const layer = first + ((<usize>k) << 2);
          v128.store(layer, lowHalves(a, c));
          if (left > 1) v128.store(layer + 2 * column, highHalves(a, c));
          if (left > 2) v128.store(layer + 4 * column, lowHalves(b, d));
          if (left > 3) v128.store(layer + 6 * column, highHalves(b, d));
        }
      }
    }
  }
}
