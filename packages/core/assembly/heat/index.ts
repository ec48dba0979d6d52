/**
 * The arithmetic of the heat solver for WebAssembly: the same steps as the TypeScript kernels beside the solver, four or two
 * numbers at a time, by one thread or by several. Memory is laid out by packages/core/src/heat/solve/wasm/layout.ts and comes
 * in from outside.
 * Build with: node scripts/build-wasm-modules.mjs
 */
import { cycle } from './cycle';
import { advanceRow, applyRow, directRow, joinRow, splitRow } from './krylov';
import { levelAt, Level, Work } from './level';
import { coarsen, fillLevel, weigh } from './setup';
import {
  awaitWork, checkIn, endRow, firstRow, givenFirst, givenKind, givenPlace, givenSecond, giveOut, isShared, meet,
} from './threads';

export { enlist, pause } from './threads';

/** Kinds of work, as engine-wasm.ts names them; each leaves its sum, if it has one, row by row. */
const prepareWork = 0;
const startWork = 1;
const residualWork = 2;
const cycleWork = 3;
const directWork = 4;
const advanceWork = 5;
const readWork = 6;

/** Does a piece of work, with the helpers that are there. Returns its sum. */
export function run(kind: i32, at: usize, a: f64, b: f64): f64 {
  giveOut(kind, at, a, b);
  carryOut(kind, at, a, b);
  meet();
  const work = changetype<Work>(at);
  const rows = levelAt(work, 0).ny;
  let sum: f64 = 0;
  for (let j = 0; j < rows; j++) sum += load<f64>(work.sums + ((<usize>j) << 3));
  return sum;
}

/** What a helper calls: returns when the helpers with this ticket are not wanted any more. */
export function serve(ticket: i32, index: i32, count: i32): void {
  if (!ASC_FEATURE_THREADS) return;
  if (!checkIn(ticket, index, count)) return;
  while (awaitWork(ticket)) {
    carryOut(givenKind(), givenPlace(), givenFirst(), givenSecond());
    meet();
  }
}

function carryOut(kind: i32, at: usize, a: f64, b: f64): void {
  const work = changetype<Work>(at);
  const level = levelAt(work, 0);
  const from = firstRow(level.bounds);
  const to = endRow(level.bounds, level.ny);
  if (kind === prepareWork) prepare(work, from, to, a);
  else if (kind === startWork) {
    for (let j = from; j < to; j++) splitRow(level, work.q, work.x, j);
  } else if (kind === residualWork) findResidual(work, level, from, to, a);
  else if (kind === cycleWork) cycle(work, 0);
  else if (kind === directWork) direct(work, level, from, to, a);
  else if (kind === advanceWork) {
    for (let j = from; j < to; j++) note(work, j, advanceRow(work, level, work.p, a, b, j));
  } else if (kind === readWork) {
    for (let j = from; j < to; j++) joinRow(level, work.x, work.q, j);
  }
}

// @ts-ignore: decorator
@inline
function note(work: Work, j: i32, sum: f64): void {
  store<f64>(work.sums + ((<usize>j) << 3), sum);
}

/** Takes in the network of the finest grid, which lies in plain columns where the vectors will be, and makes all grids from it. */
function prepare(work: Work, from: i32, to: i32, scale: f64): void {
  const finest = levelAt(work, 0);
  for (let j = from; j < to; j++) {
    splitRow(finest, work.x, work.E, j);
    splitRow(finest, work.r, work.N, j);
    splitRow(finest, work.p, work.U, j);
    splitRow(finest, work.q, work.s, j);
  }
  for (let at = 0; at < work.count; at++) {
    const level = levelAt(work, at);
    const first = firstRow(level.bounds);
    const end = endRow(level.bounds, level.ny);
    fillLevel(level, scale, first, end);
    if (at + 1 === work.count) return;
    weigh(level, first, end);
    const coarse = levelAt(work, at + 1);
    const firstC = firstRow(coarse.bounds);
    const endC = endRow(coarse.bounds, coarse.ny);
    coarsen(level, coarse, firstC, endC);
    const row = (<usize>(coarse.nx * coarse.zp)) << 2;
    memory.fill(coarse.up + row * firstC, 0, row * (endC - firstC));
    memory.fill(coarse.down + row * firstC, 0, row * (endC - firstC));
    meet();
  }
}

/** r = source - A x, the source in plain columns where q will be; f = scale r. Leaves r.r */
function findResidual(work: Work, level: Level, from: i32, to: i32, scale: f64): void {
  for (let j = from; j < to; j++) splitRow(level, work.q, work.r, j);
  meet();
  for (let j = from; j < to; j++) {
    applyRow(work, level, work.x, work.q, j);
    note(work, j, advanceRow(work, level, 0, 1, scale, j));
  }
}

/** p = z + beta p and q = A p, one row apart, so that p is read once. Leaves p.q */
function direct(work: Work, level: Level, from: i32, to: i32, beta: f64): void {
  const below = from > 0;
  const above = to < level.ny;
  for (let j = from; j <= to; j++) {
    if (j < to) directRow(work, level, beta, j);
    const before = j - 1;
    if (before < from || (below && before === from) || (above && before + 1 === to)) continue;
    note(work, before, applyRow(work, level, work.p, work.q, before));
  }
  if (!isShared()) return;
  meet();
  if (below) note(work, from, applyRow(work, level, work.p, work.q, from));
  if (above) note(work, to - 1, applyRow(work, level, work.p, work.q, to - 1));
}
