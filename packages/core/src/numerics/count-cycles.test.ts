import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { countCycles } from './count-cycles.js';

const rows = (values: readonly number[]) =>
  countCycles(values).map(({ range, mean, count }) => [range, mean, count]);

describe('rainflow counting', () => {
  // The standard's worked example, with means as a signal-processing toolbox prints them.
  test('[ASTM-E1049] figure 6', () => {
    expect(rows([-2, 1, -3, 5, -1, 3, -4, 4, -2])).toEqual([
      [3, -0.5, 0.5],
      [4, -1, 0.5],
      [4, 1, 1],
      [8, 1, 0.5],
      [9, 0.5, 0.5],
      [8, 0, 0.5],
      [6, 1, 0.5],
    ]);
    const damage = countCycles([-2, 1, -3, 5, -1, 3, -4, 4, -2]).reduce(
      (sum, { range, count }) => sum + count * range ** 3 * 1e-6,
      0,
    );
    expect(damage).toBeCloseTo(0.001094, 9);
  });

  // Printed to all digits on the page of the Python package rainflow, version 3.1, and reproduced.
  test('a sampled sum of sines', () => {
    const values = Array.from({ length: 201 }, (_, i) => {
      const t = (4 * i) / 200;
      return 0.2 + 0.5 * Math.sin(t) + 0.2 * Math.cos(10 * t) + 0.2 * Math.sin(4 * t);
    });
    const sorted = countCycles(values)
      .map(({ range, count }) => [range, count] as const)
      .sort((a, b) => a[0] - b[0]);
    const printed = [
      [0.04258965150708488, 0.5],
      [0.10973439445727506, 1],
      [0.11294628078612906, 0.5],
      [0.2057106991158965, 1],
      [0.21467990941625242, 1],
      [0.4388985979776988, 1],
      [0.48305748051348263, 0.5],
      [0.5286423866535466, 0.5],
      [0.7809330293159786, 0.5],
      [1.4343610172143002, 0.5],
    ] as const;
    expect(sorted).toHaveLength(printed.length);
    for (const [i, [range, count]] of printed.entries()) {
      // Sums of a few rounded sines: some units in the last place of 1.
      expect(Math.abs((sorted[i]?.[0] ?? 0) - range)).toBeLessThan(1e-14);
      expect(sorted[i]?.[1]).toBe(count);
    }
  });

  // Worked by hand from the standard's rules; equal neighbours are one turning point.
  test('a day of warmth, flat tops and a series that ends in a run', () => {
    expect(rows([25, 45, 30, 45, 25, 60, 40, 55, 25, 45, 25])).toEqual([
      [15, 37.5, 1],
      [20, 35, 0.5],
      [20, 35, 0.5],
      [15, 47.5, 1],
      [35, 42.5, 0.5],
      [20, 35, 1],
      [35, 42.5, 0.5],
    ]);
    expect(rows([0, 5, 5, 2, 2, 6, 6, 0])).toEqual(rows([0, 5, 2, 6, 0]));
    expect(rows([0, 5, 2, 6, 0])).toEqual([
      [3, 3.5, 1],
      [6, 3, 0.5],
      [6, 3, 0.5],
    ]);
    expect(rows([0, 1, 2, 3, 2, 1, 4, 4, -1])).toEqual([
      [2, 2, 1],
      [4, 2, 0.5],
      [5, 1.5, 0.5],
    ]);
  });

  test('counts every path up and down once: counts times ranges are half the way travelled', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 2, maxLength: 200 }), (values) => {
        const way = values.slice(1).reduce((sum, v, i) => sum + Math.abs(v - (values[i] as number)), 0);
        const counted = countCycles(values).reduce((sum, { range, count }) => sum + range * count, 0);
        expect(counted).toBe(way / 2);
      }),
    );
  });
});
