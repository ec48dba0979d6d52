import { describe, expect, test } from 'vitest';
import type { Build } from '../records/index.js';
import type { Contest, Difference } from './contest.js';
import { interval95, presentContest } from './present-contest.js';

const build: Pick<Build, 'setups' | 'probes'> = {
  setups: [
    { id: 'bare', name: 'bare', layers: [] },
    { id: 'plate', name: 'plate', layers: [] },
    { id: 'gap', name: 'plate + gap', layers: [] },
  ],
  probes: [{ id: 'c1', name: 'cell 1', place: 'cell' }],
};

const difference = (
  setup: string,
  other: string,
  value: number,
  finding: Difference['finding'],
): Difference => ({
  setup,
  other,
  cooler_K: { value, u: 0.6, dof: 6 },
  simultaneous95_K: [value - 2, value + 2],
  p: 0.02,
  finding,
  noWorse: { setup: { p: 0.001, finding: 'shown' }, other: { p: 0.4, finding: 'not-shown' } },
});

const contest: Contest = {
  quantity: { probe: 'c1', phase: 'load', charging: false },
  baseline: 'bare',
  setups: [
    {
      setup: 'bare',
      rise_K: { value: 23.9, u: 0.5, dof: 6 },
      interval95_K: [22.7, 25.1],
      runs: [
        { run: 'r1', session: 's1', mounting: 'm1', rise_K: 23.5, u_K: 0.1 },
        { run: 'r2', session: 's2', mounting: 'm2', rise_K: 24.3, u_K: 0.1 },
      ],
    },
    {
      setup: 'plate',
      rise_K: { value: 20.9, u: 0.4, dof: 6 },
      interval95_K: [19.9, 21.9],
      runs: [{ run: 'r3', session: 's1', mounting: 'm1', rise_K: 20.9, u_K: 0.1 }],
    },
  ],
  toBaseline: [difference('plate', 'bare', 3, 'shown')],
  pairs: [
    difference('gap', 'plate', 1.1, 'not-shown'),
    difference('plate', 'bare', 3, 'shown'),
    difference('gap', 'bare', -0.4, 'no-verdict'),
  ],
  runToRun: { sd_K: 0.6, dof: 6, assumed: false },
  covariance_K2: [
    [0.25, 0],
    [0, 0.16],
  ],
  blocks: 'session',
  sessions: 'shifts',
  spread: { session_K: null, mounting_K: 0.6, repeat_K: null },
  noWorse_K: 0.5,
  canShow_K: 1.7,
  gain_u: 0,
  notes: [],
};

describe('a contest in intervals', () => {
  const view = presentContest(build, contest, 'plate');

  test('shows each mean with its own u, its interval and its single runs', () => {
    const [bare, plate] = view.rises.rows;
    expect(bare?.mark).toEqual({ value: 23.9, thick: [23.4, 24.4], thin: [22.7, 25.1] });
    expect(bare?.runs).toEqual([23.5, 24.3]);
    expect(bare?.note).toBe('2 runs');
    expect(plate?.note).toBe('1 run');
    expect([bare?.isChosen, plate?.isChosen]).toEqual([false, true]);
    expect(view.rises.label).toContain('bare 23.9 ± 0.5 K from 2 runs');
  });

  test('puts first, and draws firmly, only what is shown', () => {
    expect(view.pairs.rows.map((row) => [row.isFirm, row.look, row.note])).toEqual([
      [true, 'shown', 'shown'],
      [false, 'not-shown', 'not shown'],
      [false, 'not-shown', 'no verdict'],
    ]);
    expect(view.pairs.zero?.at).toBe(0);
    expect(view.toBaseline.rows).toHaveLength(1);
  });

  test('says warmer where the difference is negative', () => {
    expect(view.pairs.label).toContain('plate + gap 0.4 K warmer than bare, no verdict');
    expect(view.pairs.rows[2]?.name.map((run) => run.words)).toEqual(['plate + gap', 'against', 'bare']);
  });
});

// [JCGM-100] Table G.2: t for 95 % and 6 degrees of freedom is 2.45, for infinitely many 1.960.
test.each([
  [6, 2.45, 0.005],
  [null, 1.96, 0.0005],
])('an interval with %s degrees of freedom reaches %d u to each side', (dof, factor, printed) => {
  const [low, high] = interval95({ value: 10, u: 1, dof });
  expect(Math.abs(high - 10 - factor)).toBeLessThanOrEqual(printed);
  expect(10 - low).toBeCloseTo(high - 10, 12);
});
