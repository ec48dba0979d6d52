import { dotRow } from './krylov';
import { Level, levelAt, Work } from './level';
import { solveAlone, solveAmong } from './sweep';
import { alone, endRow, firstRow, isFirst, isShared, meet, together } from './threads';
import { gatherColumns, prolong, restrict, splitColumns } from './transfer';

const red = 0;
const black = 1;

/**
 * One symmetric V(1,1) cycle from grid `at` on. Each step follows the one before it a row behind, as soon as the rows it reads
 * are there: a large grid then passes through the caches twice, once on the way down and once on the way up, and not once for
 * every step. On the finest grid it leaves r.z.
 *
 * Of several threads each does so with its own rows, all but those at its edges whose neighbours are another's: these follow
 * when all have come so far. Every number is the same whoever computes it.
 */
export function cycle(work: Work, at: i32): void {
  const level = levelAt(work, at);
  if (isShared() && level.alone) {
    meet();
    if (isFirst()) {
      alone();
      cycle(work, at);
      together();
    }
    meet();
    return;
  }
  if (at + 1 === work.count) {
    for (let j = 0; j < level.ny; j++) {
      solveAlone(level, red, j);
      if (at === 0) note(work, level, j);
    }
    return;
  }
  const coarse = levelAt(work, at + 1);
  const firstC = firstRow(coarse.bounds);
  const endC = endRow(coarse.bounds, coarse.ny);
  descend(level, coarse, firstC, endC);
  splitColumns(coarse, firstC, endC);
  cycle(work, at + 1);
  gatherColumns(coarse, firstC, endC);
  meet();
  ascend(work, level, coarse, at === 0);
}

/** Sweeps and restricts to the rows of the coarse grid from `firstC` on. */
function descend(level: Level, coarse: Level, firstC: i32, endC: i32): void {
  const from = firstRow(level.bounds);
  const to = endRow(level.bounds, level.ny);
  const below = from > 0;
  const above = to < level.ny;
  const firstBlack = below ? from + 1 : from;
  const endBlack = above ? to - 1 : to;
  const firstDone = below ? lineAt(level, firstC + 2) : from;
  const endDone = above ? lineAt(level, endC - 2) : to;
  const row = (<usize>(coarse.nx * coarse.zp)) << 2;
  memory.fill(coarse.sum + row * firstC, 0, row * (endC - firstC));
  for (let j = from; j < to + 2; j++) {
    if (j < to) solveAlone(level, red, j);
    if (j - 1 >= firstBlack && j - 1 < endBlack) solveAmong(level, black, j - 1);
    if (j - 2 >= firstDone && j - 2 < endDone) restrict(level, coarse, j - 2);
  }
  if (!isShared()) return;
  meet();
  if (below) solveAmong(level, black, from);
  if (above) solveAmong(level, black, to - 1);
  meet();
  for (let j = from; j < firstDone; j++) restrict(level, coarse, j);
  for (let j = endDone; j < to; j++) restrict(level, coarse, j);
  meet();
}

/** Adds the correction of the coarse grid and sweeps in mirrored order. */
function ascend(work: Work, level: Level, coarse: Level, isFinest: bool): void {
  const from = firstRow(level.bounds);
  const to = endRow(level.bounds, level.ny);
  const below = from > 0;
  const above = to < level.ny;
  const firstBlack = below ? from + 1 : from;
  const endBlack = above ? to - 1 : to;
  const firstRed = below ? from + 2 : from;
  const endRed = above ? to - 2 : to;
  for (let j = from; j < to + 2; j++) {
    if (j < to) prolong(level, coarse, j);
    if (j - 1 >= firstBlack && j - 1 < endBlack) solveAmong(level, black, j - 1);
    if (j - 2 >= firstRed && j - 2 < endRed) finish(work, level, isFinest, j - 2);
  }
  if (!isShared()) return;
  meet();
  if (below) solveAmong(level, black, from);
  if (above) solveAmong(level, black, to - 1);
  meet();
  for (let j = from; j < firstRed; j++) finish(work, level, isFinest, j);
  for (let j = endRed; j < to; j++) finish(work, level, isFinest, j);
}

function finish(work: Work, level: Level, isFinest: bool, j: i32): void {
  solveAmong(level, red, j);
  if (isFinest) note(work, level, j);
}

// @ts-ignore: decorator
@inline
function note(work: Work, level: Level, j: i32): void {
  store<f64>(work.sums + ((<usize>j) << 3), dotRow(work, level, j));
}

/** First fine row of a coarse one. */
// @ts-ignore: decorator
@inline
function lineAt(level: Level, coarse: i32): i32 {
  return load<i32>(level.firstY + ((<usize>coarse) << 2));
}
