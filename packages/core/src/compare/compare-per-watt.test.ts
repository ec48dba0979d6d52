import { expect, test } from 'vitest';
import type { Build } from '../records/index.js';
import type { RunResult } from '../runs/index.js';
import { comparePerWatt } from './compare-per-watt.js';

const quantity = { probe: 'c1', phase: 'load', charging: false } as const;

/** A device of so many kelvins per watt in each set-up, run at unlike powers. */
function runAt(
  rows: readonly [setup: string, K_per_W: number, load_W: number | undefined, load_u_W?: number][],
) {
  const build = {
    runs: rows.map(([, , load_W, load_u_W], i) => ({ id: `${i}`, conditions: { load_W, load_u_W } })),
  } as unknown as Pick<Build, 'runs'>;
  const runs = rows.map(([setup, K_per_W, load_W], i) => ({
    run: `${i}`,
    setup,
    session: 's',
    mounting: `${i}`,
    charging: false,
    counted: true,
    plateaus: [
      {
        probe: 'c1',
        phase: 'load',
        result: { ok: true, value: { rise_K: { value: K_per_W * (load_W ?? 1), u: 0.1, dof: 9 } } },
      },
    ],
  })) as unknown as RunResult[];
  return comparePerWatt(build, runs, quantity, 'bare');
}

// Exact: rises that are proportional to power differ by power only, and at one power not at all.
test('runs at unlike powers become alike', () => {
  const found = runAt([
    ['bare', 4.6, 4, 0.05],
    ['bare', 4.6, 6, 0.05],
    ['plate', 4, 5, 0.05],
    ['plate', 4, 5, 0.05],
  ]);
  expect(found?.load_W).toBe(5);
  const pair = found?.contest.pairs[0];
  expect(pair?.cooler_K.value).toBeCloseTo(0.6 * 5, 9);
  expect(found?.contest.runToRun.sd_K).toBe(0);
  // Derived: 23 K at 1 % and 0.1 K; the plate's doubt is (0.1² + (20/100)²).
  const plate = found?.contest.setups[1]?.runs[0]?.u_K;
  expect(plate).toBeCloseTo(Math.hypot(0.1, 20 * 0.01), 12);
  expect(found?.contest.notes.join()).not.toMatch(/exact/);
});

test('without the power of one run there is none; without its doubt that is said', () => {
  expect(
    runAt([
      ['bare', 4.6, 5],
      ['plate', 4, undefined],
    ]),
  ).toBeNull();
  const found = runAt([
    ['bare', 4.6, 5],
    ['bare', 4.7, 5],
    ['plate', 4, 5, 0.05],
    ['plate', 4, 5, 0.05],
  ]);
  expect(found?.contest.notes.join()).toMatch(/2 of 4 runs has no doubt/);
});
