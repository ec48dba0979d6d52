/**
 * The arithmetic of the heat solver for WebAssembly: the same steps as the TypeScript kernels beside the solver, four or two
 * numbers at a time. Memory is laid out by packages/core/src/heat/solve/wasm/layout.ts and comes in from outside.
 * Build with: node scripts/build-heat-module.mjs
 */
import { Level } from './level';
import { coarsen, fillLevel, weigh } from './setup';
import { solveAlone, solveAmong } from './sweep';
import { prolong, restrict } from './transfer';

export { advance, apply, direct, dotWithSolution, join, split, subtract } from './krylov';

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

/** One symmetric V(1,1) cycle from grid `at` on; `columns` is room for the largest coarse grid in column layout. */
export function cycle(first: usize, count: i32, at: i32, columns: usize): void {
  const level = levelAt(first, at);
  solveAlone(level, 0);
  if (at + 1 === count) return;
  const coarse = levelAt(first, at + 1);
  solveAmong(level, 1);
  restrict(level, coarse, columns);
  cycle(first, count, at + 1, columns);
  prolong(level, coarse, columns);
  solveAmong(level, 1);
  solveAmong(level, 0);
}
