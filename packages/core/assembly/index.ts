/**
 * The arithmetic of the heat solver for WebAssembly: the same steps as the TypeScript kernels beside the solver, four or two
 * numbers at a time. Memory is laid out by packages/core/src/heat/solve/wasm/layout.ts and comes in from outside.
 * Build with: node scripts/build-heat-module.mjs
 */
import { Level } from './level';
import { coarsen, fillLevel, weigh } from './setup';
import { solveAlone, solveAmong } from './sweep';
import { gatherColumns, prolong, restrict, splitColumns } from './transfer';

export { advance, apply, direct, dotWithSolution, join, split, subtract } from './krylov';

const red = 0;
const black = 1;

// @ts-ignore: decorator
@inline
function levelAt(first: usize, at: i32): Level {
  return changetype<Level>(first + (<usize>at) * 128);
}

/** Makes all grids from the network of the finest, which lies in plain columns where the first level says. */
export function fillLevels(first: usize, count: i32, scale: f64): void {
  for (let at = 0; at < count; at++) {
    const level = levelAt(first, at);
    fillLevel(level, scale);
    if (at + 1 === count) return;
    weigh(level);
    coarsen(level, levelAt(first, at + 1));
  }
}

/**
 * One symmetric V(1,1) cycle from grid `at` on; `columns` is room for the largest coarse grid in column layout. Each step
 * follows the one before it a row behind, as soon as the rows it reads are there: a large grid then passes through the
 * caches twice, once on the way down and once on the way up, and not once for every step.
 */
export function cycle(first: usize, count: i32, at: i32, columns: usize): void {
  const level = levelAt(first, at);
  const ny = level.ny;
  if (at + 1 === count) {
    for (let j = 0; j < ny; j++) solveAlone(level, red, j);
    return;
  }
  const coarse = levelAt(first, at + 1);
  memory.fill(columns, 0, (<usize>(coarse.nx * coarse.ny * level.zp)) << 2);
  for (let j = 0; j < ny + 2; j++) {
    if (j < ny) solveAlone(level, red, j);
    if (j >= 1 && j - 1 < ny) solveAmong(level, black, j - 1);
    if (j >= 2) restrict(level, coarse, columns, j - 2);
  }
  splitColumns(coarse, columns, coarse.f);
  cycle(first, count, at + 1, columns);
  gatherColumns(coarse, coarse.x, columns);
  for (let j = 0; j < ny + 2; j++) {
    if (j < ny) prolong(level, coarse, columns, j);
    if (j >= 1 && j - 1 < ny) solveAmong(level, black, j - 1);
    if (j >= 2) solveAmong(level, red, j - 2);
  }
}
