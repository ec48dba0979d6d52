import { describe, expect, test } from 'vitest';
import { makeNoise } from '../numerics/index.js';
import type { Probe, Run } from '../records/index.js';
import { crossCheckRuns } from './cross-check.js';
import type { Plateau, RunResult } from './run-result.js';

const probes: Probe[] = [
  { id: 'c1', name: 'C1', place: 'cell' },
  { id: 'c2', name: 'C2', place: 'cell' },
  { id: 'a', name: 'A', place: 'ambient' },
];

function result(
  run: string,
  rises: Readonly<Record<string, number>>,
  more: Partial<RunResult> = {},
): RunResult {
  return {
    run,
    setup: 'plate',
    session: 's',
    mounting: run,
    charging: false,
    counted: true,
    whyNot: null,
    flags: [],
    plateaus: Object.entries(rises).map(([key, value]) => {
      const [phase, probe] = key.split(' ') as ['idle' | 'load', string];
      const plateau = { probe, phase, rise_K: { value, u: 0.1, dof: 20 } } as Plateau;
      return { probe, phase, result: { ok: true, value: plateau } };
    }),
    ...more,
  } as RunResult;
}

const build = (loads: readonly (number | undefined)[] = []) => ({
  probes,
  runs: loads.map((load_W, i) => ({ id: `run-${i}`, conditions: { load_W, load_u_W: 0.02 } }) as Run),
});

const kinds = (results: readonly RunResult[], at: number) =>
  crossCheckRuns(build(), results)[at]?.flags.map(({ kind, level }) => `${kind} ${level}`);

describe('two probes on each other’s channel', () => {
  const honest = (run: string, shift = 0) => result(run, { 'load c1': 24 + shift, 'load c2': 16 - shift });

  test('are found in the run that has them, which then does not count, and in no other', () => {
    const swapped = result('swapped', { 'load c1': 16.2, 'load c2': 23.7 });
    const all = [honest('one', 0.4), swapped, honest('two', -0.3)];
    expect(kinds(all, 1)).toEqual(['probe-swap stop']);
    expect(kinds(all, 0)).toEqual([]);
    const checked = crossCheckRuns(build(), all)[1];
    expect(checked?.counted).toBe(false);
    expect(checked?.whyNot).toBe('probe swap suspected');
  });

  test('are not looked for without another run of the set-up, nor across charging', () => {
    const swapped = result('swapped', { 'load c1': 16, 'load c2': 24 });
    expect(kinds([swapped, result('other', { 'load c1': 24, 'load c2': 16 }, { setup: 'bare' })], 0)).toEqual(
      [],
    );
    expect(
      kinds([swapped, result('other', { 'load c1': 24, 'load c2': 16 }, { charging: true })], 0),
    ).toEqual([]);
  });

  // Rates over 2000 drawn builds of three runs with 0.5 K from run to run, as the test for a swap assumes; binomial spread
  // of a rate near 0.5 is 1.1 %. Found in 4000 others: 49, 98 and 100 % seen, 0.8, 0.05 and 0 % wrongly.
  test.each([
    { apart_K: 1, seenAtLeast: 0.45, wrongAtMost: 0.015 },
    { apart_K: 2, seenAtLeast: 0.96, wrongAtMost: 0.005 },
    { apart_K: 4, seenAtLeast: 0.995, wrongAtMost: 0.002 },
  ])(
    '$apart_K K apart are seen in $seenAtLeast of cases, and seen wrongly in at most $wrongAtMost',
    (row) => {
      const noise = makeNoise(20_251);
      const draw = (run: string, isSwapped: boolean) => {
        const [hot, cold] = [20 + row.apart_K + 0.5 * noise.normal(), 20 + 0.5 * noise.normal()];
        return result(run, { 'load c1': isSwapped ? cold : hot, 'load c2': isSwapped ? hot : cold });
      };
      let seen = 0;
      let wrong = 0;
      const count = 2000;
      for (let i = 0; i < count; i++) {
        const all = [draw('x', true), draw('y', false), draw('z', false)];
        if ((kinds(all, 0) ?? []).length > 0) seen += 1;
        const fair = [draw('x', false), draw('y', false), draw('z', false)];
        if ((kinds(fair, 0) ?? []).length > 0) wrong += 1;
      }
      expect(seen / count).toBeGreaterThan(row.seenAtLeast);
      expect(wrong / count).toBeLessThan(row.wrongAtMost);
    },
  );
});

describe('a load that was another one', () => {
  const runs = (loads: readonly (number | undefined)[]) =>
    crossCheckRuns(
      build(loads),
      loads.map((_, i) => result(`run-${i}`, { 'load c1': 24, 'load c2': 16 })),
    );

  test('is named with what it does to the rise: in proportion, by the law of a linear conductance', () => {
    const flag = runs([5.2, 5.2, 5.72, 5.2])[2]?.flags[0];
    expect(flag).toMatchObject({ kind: 'unequal-load', level: 'look' });
    expect(flag?.effect).toContain('higher by up to 2.4 K'); // a tenth of 24 K
    expect(runs([5.2, 5.2, 5.72, 5.2])[0]?.flags).toEqual([]);
  });

  test('within 2 %, or within the doubt of the power, is none; nor is one nobody noted', () => {
    expect(runs([5.2, 5.2, 5.28, 5.2])[2]?.flags).toEqual([]);
    expect(runs([5.2, 5.2, undefined, 5.2])[2]?.flags).toEqual([]);
    expect(runs([5.2, 5.9])[1]?.flags).toEqual([]);
  });
});

describe('a load that was another one, and nobody noted it', () => {
  // A linear device: so much more heat makes every rise so much larger.
  const warmer = (run: string, share: number, shift_K = 0) =>
    result(run, {
      'load z': 40 * (1 + share),
      'load c1': 24 * (1 + share) + shift_K,
      'load c2': 16 * (1 + share) + shift_K,
    });
  const withZone = { ...build(), probes: [...probes, { id: 'z', name: 'Z', place: 'shell' } as Probe] };
  const flagsOf = (all: readonly RunResult[], at: number) => crossCheckRuns(withZone, all)[at]?.flags ?? [];
  const others = [warmer('one', 0.005), warmer('two', -0.005)];

  test('is named with the share of heat, and the run goes on counting', () => {
    const [flag] = flagsOf([warmer('odd', 0.1), ...others], 0);
    expect(flag).toMatchObject({ kind: 'unequal-load', level: 'look' });
    expect(flag?.detail).toContain('10 % more heat');
    expect(flag?.effect).toContain('higher by up to 4.0 K'); // a tenth of 40 K
    expect(crossCheckRuns(withZone, [warmer('odd', 0.1), ...others])[0]?.counted).toBe(true);
    expect(flagsOf([warmer('odd', 0.1), ...others], 1)).toEqual([]);
  });

  test('is not seen in another mounting, which moves the pack and leaves the rest', () => {
    expect(flagsOf([warmer('odd', 0, 3), ...others], 0)).toEqual([]);
  });

  test('nor where the other runs do not agree, or there is but one', () => {
    expect(flagsOf([warmer('odd', 0.1), warmer('one', 0), warmer('two', 0.2)], 1)).toEqual([]);
    expect(flagsOf([warmer('odd', 0.1), warmer('one', 0)], 0)).toEqual([]);
  });

  test('nor where the power was noted and the rises follow it', () => {
    const noted = {
      ...withZone,
      runs: [4.4, 4, 4].map((load_W, i) => ({ id: `run-${i}`, conditions: { load_W } }) as Run),
    };
    const all = [warmer('run-0', 0.1), warmer('run-1', 0), warmer('run-2', 0)];
    expect(crossCheckRuns(noted, all)[0]?.flags.map(({ title }) => title)).toEqual(['another load']);
  });
});
