/**
 * One grid of the multigrid hierarchy, as packages/core/src/heat/solve/wasm/layout.ts writes it into memory: thirty-two
 * numbers of four bytes, in this order. Pointers of arrays lead to their first cell.
 *
 * Split layout, for all vectors and single-precision coefficients: row j, then colour, then layer k, then column m.
 * Column i of the grid has the colour (i + j) & 1 and the place m = i >> 1, so the neighbours of a run of columns are runs
 * of the other colour: east and west at m or one beside, north and south at m. A run is padded with zeros to P columns, a
 * multiple of four; four zeros follow each colour of a row, one zero row lies before the first and after the last. Beyond the
 * ends of a run east and west read into the run beside it: the conductance there is zero, because that of a row's last cell is.
 *
 * Column layout, for what is moved between grids: columns i + nx j, each with its layers, padded to zp, a multiple of four.
 */
@unmanaged
export class Level {
  nx: i32;
  ny: i32;
  nz: i32;
  /** Columns in a padded run, and layers in a padded column. */
  P: i32;
  zp: i32;
  /** Red columns in a row of wx and wy. */
  reds: i32;
  /** Single precision, split: conductance east and north, factors of the columns, right-hand side, solution. */
  gE: usize;
  gN: usize;
  inv: usize;
  l: usize;
  f: usize;
  x: usize;
  /** Single precision, columns, red ones only: shares of the coarse neighbours. */
  wx: usize;
  wy: usize;
  /** For the step to the next coarser grid: first fine line of each coarse one, coarse line and its neighbour of each fine one. */
  firstX: usize;
  firstY: usize;
  ownX: usize;
  ownY: usize;
  besideX: usize;
  besideY: usize;
  /** Double precision: stretch of the gap before each coarse line. */
  tx: usize;
  ty: usize;
  /** Double precision, plain columns of nz layers: the network while the hierarchy is made. */
  E: usize;
  N: usize;
  U: usize;
  s: usize;
  /**
   * Single precision, columns, none on the finest: what fine rows bring to the coarse row they belong to, to the one above and
   * to the one below. Apart, so that no two threads write to one place and sums do not hang on who is first. On the way
   * back the first holds the correction.
   */
  sum: usize;
  up: usize;
  down: usize;
  /** First row of each thread's share; and whether the grid is too small to be shared. */
  bounds: usize;
  alone: i32;
}

/** What a solve is about: the levels, and split doubles of the finest. Written by layout.ts as well, numbers of four bytes. */
@unmanaged
export class Work {
  levels: usize;
  count: i32;
  /** Conductances. */
  E: usize;
  N: usize;
  U: usize;
  s: usize;
  /** Vectors of the conjugate gradients. */
  x: usize;
  r: usize;
  p: usize;
  q: usize;
  /** One number for each row: shares of a sum, added up in the order of rows whoever found them. */
  sums: usize;
}

// @ts-ignore: decorator
@inline
export function levelAt(work: Work, at: i32): Level {
  return changetype<Level>(work.levels + (<usize>at) * 128);
}

/** Bytes of a colour's share of a row in single precision, four zeros at its end. */
// @ts-ignore: decorator
@inline
export function blockOf(level: Level): usize {
  return (<usize>(level.nz * level.P + 4)) << 2;
}

// @ts-ignore: decorator
@inline
export function madd(sum: v128, a: v128, b: v128): v128 {
  return f32x4.add(sum, f32x4.mul(a, b));
}

/** These four turn four rows of four numbers over: pairs of rows first, then halves of pairs. */
// @ts-ignore: decorator
@inline
export function lowPairs(a: v128, b: v128): v128 {
  return v128.shuffle<f32>(a, b, 0, 4, 1, 5);
}

// @ts-ignore: decorator
@inline
export function highPairs(a: v128, b: v128): v128 {
  return v128.shuffle<f32>(a, b, 2, 6, 3, 7);
}

// @ts-ignore: decorator
@inline
export function lowHalves(a: v128, b: v128): v128 {
  return v128.shuffle<f32>(a, b, 0, 1, 4, 5);
}

// @ts-ignore: decorator
@inline
export function highHalves(a: v128, b: v128): v128 {
  return v128.shuffle<f32>(a, b, 2, 3, 6, 7);
}
