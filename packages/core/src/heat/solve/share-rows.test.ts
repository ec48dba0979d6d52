import { expect, test } from 'vitest';
import { base, buildStack, hardCases, sizes } from '../../../../../bench/heat/problem.mjs';
import { assembleNetwork } from '../index.js';
import { type Plan, planLevels } from './level.js';
import { shareRows } from './wasm/share-rows.js';

const plans: [string, Plan][] = [
  ['60k', planOf(base, sizes['60k']!)],
  ['490k', planOf(base, sizes['490k']!)],
  ...Object.entries(hardCases).map(([name, { stack, refine }]): [string, Plan] => [
    name,
    planOf(stack, refine),
  ]),
];

function planOf(stack: typeof base, refine: readonly [number, number, number]): Plan {
  const { grid, conductivity, films } = buildStack(stack, refine);
  return planLevels(assembleNetwork(grid, conductivity, films));
}

// What the module relies on: a share is the same part of the device on every grid, and no row waits for both its neighbours.
test.each(plans)('shares of rows nest and are nearly equal: %s', (_, plan) => {
  for (const threads of [1, 2, 3, 4]) {
    const { bounds, shared } = shareRows(plan, threads);
    for (const [at, own] of bounds.entries()) {
      expect(own).toHaveLength(threads + 1);
      expect([own[0], own[threads]]).toEqual([0, plan.grids[at]!.ny]);
      if (at >= shared) continue;
      const coarse = bounds[at + 1]!;
      const { first } = plan.steps[at]!.y;
      for (let t = 0; t <= threads; t++) expect(own[t]).toBe(first[coarse[t]!]);
      for (let t = 0; t < threads; t++) expect(coarse[t + 1]! - coarse[t]!).toBeGreaterThanOrEqual(4);
    }
    if (threads > 2 || shared === 0) continue;
    const rows = plan.grids[0]!.ny;
    const longest = Math.max(...bounds[0]!.subarray(1).map((end, t) => end - bounds[0]![t]!));
    expect(longest).toBeLessThanOrEqual(0.56 * rows);
  }
});

test('a grid that is too small is not shared', () => {
  const { grid, conductivity, films } = buildStack(base, sizes['60k']!);
  const narrow = { ...grid, y_m: grid.y_m.slice(0, 4) };
  const cells = 3 * (grid.x_m.length - 1) * (grid.z_m.length - 1);
  const { kx, ky, kz } = conductivity;
  const cut = { kx: kx.slice(0, cells), ky: ky.slice(0, cells), kz: kz.slice(0, cells) };
  expect(shareRows(planLevels(assembleNetwork(narrow, cut, films)), 2).shared).toBe(0);
});
