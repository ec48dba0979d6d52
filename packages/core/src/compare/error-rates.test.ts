import { describe, expect, test } from 'vitest';
import { makeNoise } from '../numerics/index.js';
import { compareSetups } from './compare-setups.js';

/**
 * Evenings without any difference between set-ups, in unbalanced plans. `bench/error-rates.mjs` simulates thousands; these few
 * hundred are always the same, and would catch a model that is wrong by half its rate. A rate of 5 % in 300 stays between
 * 2 % and 9 % in 995 of 1000 cases; ignoring sessions, runs of one mounting or unlike doubts gives 15 % and more.
 */
const evenings = 300;

const plans: readonly [name: string, plan: readonly (readonly number[])[], session: number, least: number][] =
  [
    [
      '6 and 2 runs, one session',
      [
        [0, 0, 0, 0, 0, 0],
        [0, 0],
      ],
      0,
      0.02,
    ],
    [
      '3 set-ups, 2 to 5 runs, 3 unlike sessions',
      [
        [0, 1, 2],
        [0, 1],
        [0, 0, 1, 2, 2],
      ],
      1.5,
      0.02,
    ],
    [
      '4 set-ups, 3 to 6 runs, 3 sessions alike',
      [
        [0, 1, 2],
        [0, 0, 2],
        [0, 1, 1, 1, 2, 2],
        [1, 2, 2],
      ],
      0,
      0.02,
    ],
    [
      '6 set-ups, 2 to 6 runs, 4 unlike sessions',
      [
        [0, 1, 2, 3],
        [0, 1],
        [1, 2],
        [2, 3],
        [0, 3, 1],
        [0, 1, 2, 3, 1, 0],
      ],
      1,
      0.015,
    ],
    [
      '2 set-ups on days of their own: cautious',
      [
        [0, 0, 1, 1],
        [2, 2, 3, 3],
      ],
      1.5,
      0,
    ],
  ];

describe('false alarms stay near one in twenty', () => {
  test.each(plans)('%s', (_, plan, session, least) => {
    const noise = makeNoise(20260);
    const draw = () => Math.sqrt(-2 * Math.log(noise.uniform())) * Math.cos(2 * Math.PI * noise.uniform());
    let pairs = 0;
    let base = 0;
    for (let evening = 0; evening < evenings; evening++) {
      const days = Array.from({ length: 4 }, () => session * draw());
      const runs = plan.flatMap((sessions, setup) =>
        sessions.map((day, i) => ({
          run: `${setup}-${i}`,
          setup: `${setup}`,
          session: `${day}`,
          mounting: `${i}`,
          rise_K: 20 + (days[day] ?? Number.NaN) + draw() + 0.2 * draw(),
          u_K: 0.2,
        })),
      );
      const contest = compareSetups({ probe: 'c', phase: 'load', charging: false }, runs, '0');
      if (contest.pairs.some(({ finding }) => finding === 'shown')) pairs += 1;
      if (contest.toBaseline.some(({ finding }) => finding === 'shown')) base += 1;
    }
    for (const rate of [pairs / evenings, base / evenings]) {
      expect(rate).toBeLessThan(0.09);
      expect(rate).toBeGreaterThanOrEqual(least);
    }
  });
});
