import { expect, test } from 'vitest';
import { tCdf } from '../numerics/index.js';
import { compareSetups } from './compare-setups.js';
import { rankSetups } from './rank-setups.js';

const contest = (rises: Readonly<Record<string, readonly number[]>>) =>
  compareSetups(
    { probe: 'c1', phase: 'load', charging: false },
    Object.entries(rises).flatMap(([setup, values]) =>
      values.map((rise_K, i) => ({
        run: `${setup}${i}`,
        setup,
        session: 's',
        mounting: `${i}`,
        rise_K,
        u_K: 0,
      })),
    ),
    'bare',
  );

// Exact for two: the chance is that of the t variable of their difference; here s² = 0.5, u = √0.5, 2 degrees of freedom.
test('of two set-ups the chance is one t variable', () => {
  const [first, second] = rankSetups(contest({ bare: [24, 25], plate: [23, 24] }));
  expect(first?.setup).toBe('plate');
  expect(first?.coolest).toBeCloseTo(tCdf(1 / Math.sqrt(0.5), 2), 9);
  expect(second?.coolest).toBeCloseTo(1 - (first?.coolest ?? 0), 12);
});

test('chances add up, the likeliest first; single runs are not ranked', () => {
  const ranks = rankSetups(
    contest({ bare: [24, 24.4], film: [23.8, 24.3], plate: [21, 21.5], gap: [21.2, 21] }),
  );
  expect(
    ranks
      .map(({ setup }) => setup)
      .slice(0, 2)
      .sort(),
  ).toEqual(['gap', 'plate']);
  expect(ranks.reduce((sum, { coolest }) => sum + coolest, 0)).toBeCloseTo(1, 12);
  expect(rankSetups(contest({ bare: [24], plate: [21] }))).toEqual([]);
});
