/** Laws that every comparison obeys, whatever was measured. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeNoise, tQuantile } from '../numerics/index.js';
import { compareSetups } from './compare-setups.js';
import type { Contest, Difference } from './contest.js';
import type { Observation } from './observation.js';
import { rankSetups } from './rank-setups.js';

const quantity = { probe: 'c1', phase: 'load', charging: false } as const;
const noWorse_K = 0.5;
const compare = (runs: readonly Observation[], allowed_K = noWorse_K, baseline = 's0') =>
  compareSetups(quantity, runs, baseline, { noWorse_K: allowed_K });

/** Two to four set-ups with two to five runs each in one to three sessions, every run a mounting of its own. */
const plans = fc
  .record({
    seed: fc.integer({ min: 1, max: 1e6 }),
    counts: fc.array(fc.integer({ min: 2, max: 5 }), { minLength: 2, maxLength: 4 }),
    sessions: fc.integer({ min: 1, max: 3 }),
  })
  .map(({ seed, counts, sessions }): Observation[] => {
    const noise = makeNoise(seed);
    const means = counts.map(() => 20 + 2 * noise.normal());
    const days = Array.from({ length: sessions }, () => 0.5 * noise.normal());
    return counts.flatMap((count, s) =>
      Array.from({ length: count }, (_, i) => {
        const day = (s + i) % sessions;
        return {
          run: `${s}-${i}`,
          setup: `s${s}`,
          session: `day ${day}`,
          mounting: `${i}`,
          rise_K: (means[s] as number) + (days[day] as number) + 0.3 * noise.normal(),
          u_K: 0.05 + 0.05 * noise.uniform(),
        };
      }),
    );
  });
const fewer = { numRuns: 40 };

/** The likelihood is flat at its top, so that components, and what hangs on them, come to some 1e-7. */
const close = 1e-5;
const near = (one: number, other: number, scale = 1) =>
  expect(Math.abs(one - other)).toBeLessThanOrEqual(close * Math.max(scale, Math.abs(other)));
const dofOf = ({ cooler_K }: Difference) => cooler_K.dof ?? Number.POSITIVE_INFINITY;

function pairOf({ pairs }: Contest, one: string, other: string): Difference {
  const found = pairs.find(({ setup, other: second }) =>
    [`${one} ${other}`, `${other} ${one}`].includes(`${setup} ${second}`),
  );
  if (found === undefined) throw new Error(`no ${one} and ${other}`);
  return found;
}

describe('comparisons', () => {
  test('do not care where the zero of the temperatures lies', () => {
    fc.assert(
      fc.property(plans, fc.double({ min: -50, max: 50, noNaN: true }), (runs, shift_K) => {
        const plain = compare(runs);
        const moved = compare(runs.map((run) => ({ ...run, rise_K: run.rise_K + shift_K })));
        for (const [i, { rise_K }] of moved.setups.entries())
          near(rise_K.value - shift_K, plain.setups[i]?.rise_K.value ?? Number.NaN);
        for (const { setup, other, cooler_K, p, simultaneous95_K } of moved.pairs) {
          const pair = pairOf(plain, setup, other);
          near(cooler_K.value, pair.cooler_K.value);
          near(cooler_K.u, pair.cooler_K.u);
          near(p, pair.p);
          near(simultaneous95_K[0], pair.simultaneous95_K[0]);
        }
      }),
      fewer,
    );
  });

  test('scale with the temperatures and find the same', () => {
    fc.assert(
      fc.property(plans, fc.double({ min: 0.1, max: 20, noNaN: true }), (runs, factor) => {
        const plain = compare(runs);
        const scaled = compare(
          runs.map((run) => ({ ...run, rise_K: factor * run.rise_K, u_K: factor * run.u_K })),
          factor * noWorse_K,
        );
        for (const { setup, other, cooler_K, p, noWorse } of scaled.pairs) {
          const pair = pairOf(plain, setup, other);
          near(cooler_K.value / factor, pair.cooler_K.value);
          near(cooler_K.u / factor, pair.cooler_K.u);
          near(dofOf({ cooler_K } as Difference), dofOf(pair));
          near(p, pair.p);
          near(noWorse.setup.p, pair.noWorse.setup.p);
          near(noWorse.other.p, pair.noWorse.other.p);
        }
      }),
      fewer,
    );
  });

  test('do not care in what order the runs stand, what anything is called, or which set-up is the baseline', () => {
    fc.assert(
      fc.property(plans, fc.integer({ min: 1, max: 1e6 }), (runs, seed) => {
        const noise = makeNoise(seed);
        const renamed = runs
          .map((run, i) => ({
            ...run,
            run: `run ${i}`,
            setup: `z${run.setup}`,
            session: `of ${run.session}`,
            mounting: `m${run.mounting}`,
          }))
          .map((run) => ({ run, at: noise.uniform() }))
          .sort((a, b) => a.at - b.at)
          .map(({ run }) => run);
        const plain = compare(runs);
        const other = compare(renamed, noWorse_K, 'zs1');
        expect(other.sessions).toBe(plain.sessions);
        expect(other.pairs).toHaveLength(plain.pairs.length);
        for (const pair of plain.pairs) {
          const same = pairOf(other, `z${pair.setup}`, `z${pair.other}`);
          near(same.cooler_K.value * (same.setup === `z${pair.setup}` ? 1 : -1), pair.cooler_K.value);
          near(same.cooler_K.u, pair.cooler_K.u);
          near(same.p, pair.p);
        }
      }),
      fewer,
    );
  });

  test('turned round, cooler becomes warmer and nothing else changes', () => {
    fc.assert(
      fc.property(plans, (runs) => {
        const plain = compare(runs);
        const turned = compare(runs.map((run) => ({ ...run, rise_K: -run.rise_K })));
        for (const pair of plain.pairs) {
          const same = pairOf(turned, pair.setup, pair.other);
          expect([same.setup, same.other]).toEqual([pair.other, pair.setup]);
          near(same.cooler_K.value, pair.cooler_K.value);
          near(same.p, pair.p);
          near(same.noWorse.setup.p, pair.noWorse.setup.p);
          near(same.noWorse.other.p, pair.noWorse.other.p);
        }
      }),
      fewer,
    );
  });

  // One comparison alone, the family against the baseline, all pairs, Bonferroni over all pairs: each asks more than the one before. The
  // second is by one common factor, which is exact only in complete plans, hence one session.
  test('of larger families have wider intervals', () => {
    fc.assert(
      fc.property(plans, (mixed) => {
        const runs = mixed.map((run) => ({ ...run, session: 'day' }));
        const contest = compare(runs);
        const count = contest.pairs.length;
        for (const against of contest.toBaseline) {
          const pair = pairOf(contest, against.setup, against.other);
          const half = ({ simultaneous95_K: [low, high] }: Difference) => (high - low) / 2;
          const alone = tQuantile(0.975, dofOf(pair)) * pair.cooler_K.u;
          const bonferroni = -tQuantile(0.025 / count, dofOf(pair)) * pair.cooler_K.u;
          expect(half(against)).toBeGreaterThanOrEqual(alone * (1 - close));
          expect(half(pair)).toBeGreaterThanOrEqual(half(against) * (1 - close));
          expect(bonferroni).toBeGreaterThanOrEqual(half(pair) * (1 - close));
        }
      }),
      fewer,
    );
  });

  // An interval that leaves out nought and a chance below 5 % are the same finding.
  test('say the same by interval and by chance', () => {
    fc.assert(
      fc.property(plans, (runs) => {
        const { pairs, toBaseline } = compare(runs);
        for (const { finding, p, simultaneous95_K, cooler_K } of [...pairs, ...toBaseline]) {
          const [low, high] = simultaneous95_K;
          expect((low + high) / 2).toBeCloseTo(cooler_K.value, 9);
          if (finding === 'no-verdict') continue;
          if (Math.abs(p - 0.05) > 1e-9) expect(low > 0 || high < 0).toBe(p < 0.05);
          expect(finding).toBe(p < 0.05 ? 'shown' : 'not-shown');
        }
      }),
      fewer,
    );
  });

  test('give chances of being the coolest that add up, whatever is added to all rises', () => {
    fc.assert(
      fc.property(plans, fc.double({ min: -20, max: 20, noNaN: true }), (runs, shift_K) => {
        const ranks = rankSetups(compare(runs));
        if (ranks.length === 0) return;
        expect(ranks.reduce((sum, { coolest }) => sum + coolest, 0)).toBeCloseTo(1, 12);
        for (const [i, { coolest }] of ranks.entries())
          expect(coolest).toBeLessThanOrEqual(ranks[i - 1]?.coolest ?? 1);
        const moved = rankSetups(compare(runs.map((run) => ({ ...run, rise_K: run.rise_K + shift_K }))));
        // One point of a lattice of 4096 may fall on the other side.
        for (const { setup, coolest } of ranks)
          expect(
            Math.abs((moved.find((rank) => rank.setup === setup)?.coolest ?? Number.NaN) - coolest),
          ).toBeLessThan(2e-3);
      }),
      fewer,
    );
  });
});
