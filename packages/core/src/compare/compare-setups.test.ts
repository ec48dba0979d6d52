import { describe, expect, test } from 'vitest';
import { makeNoise, makeRedNoise, mean } from '../numerics/index.js';
import { compareSetups } from './compare-setups.js';
import type { Contest, Quantity } from './contest.js';
import type { Observation } from './observation.js';

const quantity: Quantity = { probe: 'c1', phase: 'load', charging: false };

function observe(
  rises: Readonly<Record<string, readonly number[]>>,
  session: (i: number) => string,
): Observation[] {
  return Object.entries(rises).flatMap(([setup, values]) =>
    values.map((rise_K, i) => ({
      run: `${setup}-${i}`,
      setup,
      session: session(i),
      mounting: `${i}`,
      rise_K,
      u_K: 0,
    })),
  );
}

const byDay = (i: number) => `day ${i}`;
const oneDay = () => 'day 0';

function difference(
  contest: Contest,
  setup: string,
  other: string,
  family: 'toBaseline' | 'pairs' = 'pairs',
) {
  const found = contest[family].find((candidate) => candidate.setup === setup && candidate.other === other);
  if (found === undefined) throw new Error(`no ${setup} against ${other}`);
  return found;
}

// Rises invented for this check; every expected figure computed outside with R 4.2.2 (aov, ptukey, t.test) and, for
// Dunnett, by the double integral in SciPy.
describe('four set-ups on five days', () => {
  const rises = {
    bare: [24.9, 25.6, 24.4, 25.9, 25.1],
    tape: [24.3, 25.2, 24.2, 25.1, 24.9],
    plate: [22.1, 22.4, 21.9, 23.0, 22.3],
    gap: [20.8, 21.6, 20.3, 21.9, 21.2],
  };
  const contest = compareSetups(quantity, observe(rises, byDay), 'bare');

  test('takes the days out and pools what is left', () => {
    expect(contest.blocks).toBe('session');
    expect(contest.runToRun.dof).toBe(12);
    expect(contest.runToRun.sd_K ** 2).toBeCloseTo(0.0314166667, 9);
    expect(difference(contest, 'tape', 'bare').cooler_K.u).toBeCloseTo(0.112101144805, 9);
  });

  test('agrees with Dunnett', () => {
    const tape = difference(contest, 'tape', 'bare', 'toBaseline');
    expect(tape.cooler_K.value).toBeCloseTo(0.44, 10);
    expect(Math.abs(tape.p - 0.00536793)).toBeLessThan(1e-7);
    expect((tape.simultaneous95_K[1] - 0.44) / tape.cooler_K.u).toBeCloseTo(2.68287006, 6);
    expect(difference(contest, 'plate', 'bare', 'toBaseline').p).toBeLessThan(1e-9);
  });

  test('agrees with Tukey', () => {
    const tape = difference(contest, 'tape', 'bare');
    expect(tape.p).toBeCloseTo(0.00941198, 6);
    expect(tape.simultaneous95_K[0]).toBeCloseTo(0.10718279, 6);
    expect(tape.simultaneous95_K[1]).toBeCloseTo(0.77281721, 6);
    const gap = difference(contest, 'gap', 'plate');
    expect(gap.p).toBeCloseTo(1.07885733e-6, 13); // SciPy 1.17; R's ptukey gives 1.0795e-6, good to 1e-9 only
    expect(gap.simultaneous95_K[0]).toBeCloseTo(0.84718279, 6);
    expect(contest.pairs.every(({ finding }) => finding === 'shown')).toBe(true);
  });

  test('without the days the tape’s effect drowns', () => {
    const unblocked = compareSetups(quantity, observe(rises, oneDay), 'bare');
    expect(unblocked.runToRun.dof).toBe(16);
    const tape = difference(unblocked, 'tape', 'bare', 'toBaseline');
    expect(tape.cooler_K.u).toBeCloseTo(0.337045991, 8);
    expect(tape.p).toBeCloseTo(0.44108346, 6);
    expect(tape.finding).toBe('not-shown');
    expect(difference(unblocked, 'gap', 'plate').p).toBeCloseTo(0.0141137, 6);
  });
});

// Plateaus and ambient invented for this check; figures from R 4.2.2 (t.test).
describe('two shields on five days of unlike rooms', () => {
  const ambient = [22.1, 23.4, 21.0, 24.8, 22.7];
  const a = [43.62, 45.1, 42.35, 46.33, 44.41];
  const b = [42.51, 43.77, 41.6, 45.41, 43.3];
  const above = (levels: readonly number[]) => levels.map((level, i) => level - (ambient[i] as number));

  test('the rise above the room, day by day, shows what raw plateaus hide', () => {
    const paired = difference(
      compareSetups(quantity, observe({ a: above(a), b: above(b) }, byDay), 'a'),
      'b',
      'a',
    );
    expect(paired.cooler_K.value).toBeCloseTo(1.044, 10);
    expect(paired.cooler_K.value / paired.cooler_K.u).toBeCloseTo(10.64641206, 7);
    expect(paired.cooler_K.dof).toBe(4);
    expect(paired.p).toBeCloseTo(0.000440774572, 8);
    expect(paired.simultaneous95_K[0]).toBeCloseTo(0.77173845, 6);
    expect(paired.simultaneous95_K[1]).toBeCloseTo(1.31626155, 6);
    const raw = difference(compareSetups(quantity, observe({ a, b }, oneDay), 'a'), 'b', 'a');
    expect(raw.finding).toBe('not-shown');
    expect(raw.cooler_K.value / raw.cooler_K.u).toBeCloseTo(1.12563804, 7); // equal numbers: Welch's t is the pooled one
  });
});

// The false positive that must not happen. Series by the minimal standard generator, seed 7: per run a shift of 0.3 K, then
// 120 samples of first-order noise, φ = 0.9. Run means and test figures computed outside with NumPy and SciPy.
describe('no true difference, hundreds of samples', () => {
  function generate(delta_K: number): Record<'a' | 'b', number[][]> {
    const noise = makeNoise(7);
    const runs = { a: [] as number[][], b: [] as number[][] };
    for (let run = 0; run < 4; run++) {
      for (const shield of ['a', 'b'] as const) {
        const shift = 0.3 * noise.normal();
        const red = makeRedNoise(noise, 0.9);
        const level = 45 - (shield === 'b' ? delta_K : 0) + shift;
        runs[shield].push(Array.from({ length: 120 }, () => level + 0.15 * red()));
      }
    }
    return runs;
  }
  const means = (delta_K: number) => {
    const runs = generate(delta_K);
    return { a: runs.a.map(mean), b: runs.b.map(mean) };
  };

  test('the generated runs are those computed outside', () => {
    const expected = {
      a: [45.176847998, 45.342605056, 44.926635717, 44.914820817],
      b: [44.800146674, 44.895720682, 44.930544473, 44.673251384],
    };
    for (const shield of ['a', 'b'] as const) {
      for (const [i, value] of expected[shield].entries()) expect(means(0)[shield][i]).toBeCloseTo(value, 8);
    }
  });

  test('is not shown, and a true 1 K is', () => {
    const none = difference(compareSetups(quantity, observe(means(0), oneDay), 'a'), 'b', 'a');
    expect(none.cooler_K.value).toBeCloseTo(0.26531159, 7);
    expect(none.cooler_K.value / none.cooler_K.u).toBeCloseTo(2.2388721, 6);
    expect(none.finding).toBe('not-shown');
    const one = difference(compareSetups(quantity, observe(means(1), oneDay), 'a'), 'b', 'a');
    expect(one.cooler_K.value / one.cooler_K.u).toBeCloseTo(10.677524, 5);
    expect(one.finding).toBe('shown');
  });

  test('run by run in blocks it is the paired test', () => {
    const none = difference(compareSetups(quantity, observe(means(0), byDay), 'a'), 'b', 'a');
    expect(none.cooler_K.value / none.cooler_K.u).toBeCloseTo(2.6707608, 6);
    expect(none.p).toBeCloseTo(0.075641353, 7);
    expect(none.simultaneous95_K[0]).toBeCloseTo(-0.0508305, 6);
    expect(none.simultaneous95_K[1]).toBeCloseTo(0.5814537, 6);
    expect(none.finding).toBe('not-shown');
    const one = difference(compareSetups(quantity, observe(means(1), byDay), 'a'), 'b', 'a');
    expect(one.p).toBeCloseTo(0.0010439704, 8);
    expect(one.finding).toBe('shown');
  });

  test('one run per shield gives no finding, and names what could have been seen', () => {
    const first = { a: means(1).a.slice(0, 1), b: means(1).b.slice(0, 1) };
    const contest = compareSetups(quantity, observe(first, oneDay), 'a');
    expect(contest.pairs.map(({ finding }) => finding)).toEqual(['no-verdict']);
    expect(contest.toBaseline.map(({ finding }) => finding)).toEqual(['no-verdict']);
    expect(contest.runToRun.assumed).toBe(true);
    // Derived: 1.96 · √2 · 0.6 K for one pair of single runs.
    expect(contest.canShow_K).toBeCloseTo(1.959964 * Math.SQRT2 * 0.6, 5);
  });

  // Same generator, no difference, 300 seeds: 3.7 % false alarms computed outside for run means (Welch); the pooled test
  // used here is nominal 5 %, and a binomial of 300 trials stays between 2.3 % and 8.7 % in 99 of 100 cases.
  test('false alarms stay at the nominal rate over 300 seeds', () => {
    let alarms = 0;
    for (let s = 1; s <= 300; s++) {
      const noise = makeNoise(7919 * s);
      const shields = { a: [] as number[], b: [] as number[] };
      for (let run = 0; run < 4; run++) {
        for (const shield of ['a', 'b'] as const) {
          const shift = 0.3 * noise.normal();
          const red = makeRedNoise(noise, 0.9);
          shields[shield].push(45 + shift + 0.15 * mean(Array.from({ length: 120 }, red)));
        }
      }
      if (difference2(shields).finding === 'shown') alarms += 1;
    }
    expect(alarms / 300).toBeLessThan(0.087);
    expect(alarms / 300).toBeGreaterThan(0.023);
  });
  function difference2(shields: { a: number[]; b: number[] }) {
    const pair = compareSetups(quantity, observe(shields, oneDay), 'a').pairs[0];
    if (pair === undefined) throw new Error('no pair');
    return pair;
  }
});

describe('plans that do not carry what is asked', () => {
  test('set-ups that never shared a session are compared with that said', () => {
    const runs = [
      ...observe({ bare: [24, 24.4] }, () => 'monday'),
      ...observe({ plate: [21, 21.3] }, () => 'tuesday'),
    ];
    const contest = compareSetups(quantity, runs, 'bare');
    expect(contest.blocks).toBe('none');
    expect(contest.notes.join(' ')).toMatch(/plate never shared a session/);
  });

  test('runs that agree better than their own doubt do not shrink it', () => {
    const runs = observe({ bare: [24, 24.001], plate: [23, 23.001] }, oneDay).map((run) => ({
      ...run,
      u_K: 0.4,
    }));
    const contest = compareSetups(quantity, runs, 'bare');
    // Derived: two means of two runs of 0.4 K each differ with u = 0.4 K.
    expect(difference(contest, 'plate', 'bare').cooler_K.u).toBeCloseTo(0.4, 10);
    expect(difference(contest, 'plate', 'bare').finding).toBe('not-shown');
  });

  test('a run in more doubt counts for less', () => {
    const runs = observe({ bare: [24, 24.2, 27], plate: [21, 21.2, 21.1] }, oneDay).map((run) => ({
      ...run,
      u_K: run.rise_K === 27 ? 3 : 0.1,
    }));
    const contest = compareSetups(quantity, runs, 'bare');
    expect(contest.setups[0]?.rise_K.value).toBeLessThan(24.4); // a plain mean would give 25.07
  });
});

describe('a probe whose gain is in doubt', () => {
  const rises = { bare: [40.2, 39.8, 40.1], plate: [30.3, 29.9, 30.1], film: [40.1, 39.9, 40.0] };
  const exact = compareSetups(quantity, observe(rises, oneDay), 'bare');
  const doubted = compareSetups(quantity, observe(rises, oneDay), 'bare', { gain_u: 0.02 });

  test('adds that share of each difference to its uncertainty', () => {
    const [one, two] = [exact, doubted].map((contest) => difference(contest, 'plate', 'bare').cooler_K);
    expect(two?.u).toBeCloseTo(Math.hypot(one?.u ?? 0, 0.02 * (one?.value ?? 0)), 12);
    // Welch and Satterthwaite with one part known exactly: nu (u/u1)^4.
    expect(two?.dof).toBeCloseTo((one?.dof ?? 0) * ((two?.u ?? 0) / (one?.u ?? 1)) ** 4, 4);
    expect(two?.value).toBe(one?.value);
  });

  test('says so, and leaves the rises to the margins, which carry the probe whole', () => {
    expect(doubted.notes.join(' ')).toContain('in doubt by 2.0 %: that is 0.2 K of the largest difference');
    expect(doubted.setups.map(({ rise_K }) => rise_K)).toEqual(exact.setups.map(({ rise_K }) => rise_K));
    expect(exact.notes).toEqual([]);
  });

  test('hardly touches a difference of nothing', () => {
    const [one, two] = [exact, doubted].map((contest) => difference(contest, 'film', 'bare'));
    expect(two?.p).toBeCloseTo(one?.p ?? 0, 3);
  });

  // Two set-ups 10 K apart, read by a probe whose gain is drawn anew in each of 2000 builds: 95 % should hold the truth; the binomial
  // spread of that is 0.5 %.
  test('is covered by the intervals, and is not without', () => {
    const noise = makeNoise(90_125);
    let [held, heldWithout] = [0, 0];
    const builds = 2000;
    for (let build = 0; build < builds; build++) {
      const gain = 1 + 0.02 * noise.normal();
      const draw = (true_K: number) =>
        Array.from({ length: 4 }, () => gain * (true_K + 0.15 * noise.normal()));
      const observed = observe({ bare: draw(40), plate: draw(30) }, oneDay);
      const holds = (options: object) => {
        const [low, high] = difference(
          compareSetups(quantity, observed, 'bare', options),
          'plate',
          'bare',
        ).simultaneous95_K;
        return low <= 10 && 10 <= high;
      };
      if (holds({ gain_u: 0.02 })) held++;
      if (holds({})) heldWithout++;
    }
    expect(held / builds).toBeGreaterThan(0.935);
    expect(heldWithout / builds).toBeLessThan(0.9);
  });
});
