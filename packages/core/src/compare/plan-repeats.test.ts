import { describe, expect, test } from 'vitest';
import { compareSetups } from './compare-setups.js';
import type { Contest } from './contest.js';
import { planRepeats, planResolution } from './plan-repeats.js';

/** Runs whose spread about their set-up is exactly `sd_K`: pairs of one standard deviation either side. */
function contestOf(means: readonly number[], sd_K: number, pairs = 2): Contest {
  const off = sd_K * Math.sqrt((2 * pairs - 1) / (2 * pairs));
  const observations = means.flatMap((mean, s) =>
    Array.from({ length: 2 * pairs }, (_, i) => ({
      run: `${s}-${i}`,
      setup: `s${s}`,
      session: 'day',
      mounting: `${i}`,
      rise_K: mean + (i % 2 === 0 ? off : -off),
      u_K: 0,
    })),
  );
  return compareSetups({ probe: 'c1', phase: 'load', charging: false }, observations, 's0');
}

describe('runs that resolve a stated difference', () => {
  // R 4.2.2, power.t.test(delta = 1): 2.78, 5.09, 11.09, 16.71, 36.31 runs per set-up for 80 %, rounded up.
  test.each([
    [0.3, 3],
    [0.5, 6],
    [0.8, 12],
    [1, 17],
    [1.5, 37],
  ])('of 1 K between two set-ups at a spread of %d K', (sd_K, each) => {
    const plan = planResolution(contestOf([24, 22], sd_K), 1);
    expect(plan?.each).toBe(each);
    expect(plan?.run_K).toBeCloseTo(sd_K, 9);
    expect(plan?.power).toBeGreaterThanOrEqual(0.8);
    expect(plan?.add).toEqual(each > 4 ? { s0: each - 4, s1: each - 4 } : {});
  });

  test('more set-ups ask for more runs of each, a larger difference for fewer', () => {
    const four = planResolution(contestOf([24, 22, 21, 20], 0.5), 1);
    expect(four?.each).toBeGreaterThan(6);
    expect(planResolution(contestOf([24, 22, 21, 20], 0.5), 2)?.each).toBeLessThan(four?.each ?? 0);
    expect(planResolution(contestOf([24, 22], 0.5), 1, 0.9)?.each).toBe(7); // 6.39
  });

  // R 4.2.2, power.t.test(delta = 1, type = "paired"): 4.22 pairs where differences scatter by 0.5 K, 9.94 where by 1 K. A session
  // holds one run of each, so that a difference scatters by √2 of a run.
  test.each([
    [0.5, 5],
    [1, 10],
  ])('two set-ups once in each session are pairs: differences that scatter by %d K', (sd_K, each) => {
    const contest = { ...contestOf([24, 22], sd_K / Math.SQRT2), sessions: 'random' } as const;
    expect(planResolution(contest, 1)?.each).toBe(each);
  });

  test('spread between mountings, between runs of one and from within a run add up', () => {
    const contest = contestOf([24, 22], 0.1);
    const within = contest.setups.map((setup) => ({
      ...setup,
      runs: setup.runs.map((run) => ({ ...run, u_K: 0.2 })),
    }));
    const spread = { session_K: null, mounting_K: 0.2, repeat_K: 0.1 };
    expect(planResolution({ ...contest, spread, setups: within }, 1)?.run_K).toBeCloseTo(0.3, 12);
  });

  test('what no evening can resolve has no plan, and a slip is refused', () => {
    expect(planResolution(contestOf([24, 22], 1), 0.1)).toBeNull();
    expect(() => planResolution(contestOf([24, 22], 1), -1)).toThrow(/above 0/);
    expect(() => planResolution(contestOf([24, 22], 1), 1, 80)).toThrow(/per cent/);
  });
});

describe('repeats that settle an open difference', () => {
  test('are added to the set-up with fewer runs until the chance is 80 %', () => {
    const contest = contestOf([24, 23], 0.55);
    const [pair] = contest.pairs;
    if (pair === undefined) throw new Error('no pair');
    const plan = planRepeats(contest, pair);
    expect(plan).not.toBeNull();
    expect(plan?.then_K).toBeLessThan(pair.cooler_K.value);
    expect(plan?.now_K).toBeGreaterThan(pair.cooler_K.value);
    expect(Object.values(plan?.add ?? {}).reduce((sum, count) => sum + count, 0)).toBe(plan?.total);
  });

  test('go to the set-up with fewer runs', () => {
    const contest = contestOf([24, 23], 0.55);
    const [pair] = contest.pairs;
    if (pair === undefined) throw new Error('no pair');
    const setups = contest.setups.map((each) =>
      each.setup === 's1' ? { ...each, runs: each.runs.slice(0, 2) } : each,
    );
    const add = planRepeats({ ...contest, setups }, pair)?.add ?? {};
    expect(add['s1'] ?? 0).toBeGreaterThan(add['s0'] ?? 0);
  });

  test('a difference far below the spread is not worth an evening', () => {
    const contest = contestOf([24, 23.9], 0.8);
    const [pair] = contest.pairs;
    if (pair === undefined) throw new Error('no pair');
    expect(planRepeats(contest, pair)).toBeNull();
  });
});
