import { expect, test } from 'vitest';
import type { Contest, Margin } from '../compare/index.js';
import { newBuild } from '../records/index.js';
import { readingsAtDesignAmbient } from './section-readings.js';

const contest = (
  probe: string,
  value: number,
  phase: 'idle' | 'load' = 'load',
  charging = false,
): Contest => ({
  quantity: { probe, phase, charging },
  baseline: 'bare',
  setups: [
    { setup: 'plate', rise_K: { value, u: 0.4, dof: 6 }, interval95_K: [value - 1, value + 1], runs: [] },
  ],
  toBaseline: [],
  pairs: [],
  runToRun: { sd_K: 0.6, dof: 6, assumed: false },
  covariance_K2: [[0.16]],
  blocks: 'none',
  sessions: 'single',
  spread: { session_K: null, mounting_K: 0.6, repeat_K: null },
  noWorse_K: 0.5,
  canShow_K: 1,
  gain_u: 0,
  notes: [],
});

const margin: Margin = {
  setup: 'plate',
  limit: { id: 'd', where: 'cell', state: 'discharging', level: 'stop', limit_C: 60, source: 'made up' },
  use: 'discharging-load',
  title: 'recording',
  probe: 'c1',
  expected_C: { value: 52.9, u: 0.4, dof: 6 },
  margin_K: 7.1,
  atLeast_K: 6.3,
  highestAmbient_C: 38.3,
  level: 'holds',
  lowerBound: false,
  missing: null,
  evidence: [],
};

const build = {
  ...newBuild('b', 'b'),
  designAmbient: { ambient_C: 32 },
  probes: [
    { id: 'c1', name: 'cell 1', place: 'cell' as const },
    { id: 'z1', name: 'processor', place: 'zone' as const },
  ],
};

// Derived here: 32 + 20.9 = 52.9 °C, 7.1 K under 60 °C.
test('readings at the design ambient are ambient plus rise under load, cells with their distance to the limit', () => {
  const all = [
    contest('c1', 20.9),
    contest('z1', 31.4),
    contest('c1', 5, 'idle'),
    contest('c1', 9, 'load', true),
  ];
  const readings = readingsAtDesignAmbient(build, [], all, [margin], 'plate');
  expect(readings.map((each) => [each.probe, each.sub])).toEqual([
    ['c1', '7.1 K below limit'],
    ['z1', undefined],
  ]);
  expect(readings[0]?.level_C).toBeCloseTo(52.9, 9);
  // One further mounting: the mean's 0.4 K and the 0.6 K between mountings, in squares; no probe is corrected here.
  expect(readings[0]?.u_K).toBeCloseTo(Math.hypot(0.4, 0.6), 9);
  expect(readingsAtDesignAmbient(build, [], [contest('c1', 30)], [margin], 'plate')[0]?.sub).toBe(
    '2.0 K above limit',
  );
});

test('without a design ambient there are none', () => {
  expect(
    readingsAtDesignAmbient(
      { ...build, designAmbient: undefined },
      [],
      [contest('c1', 20.9)],
      [margin],
      'plate',
    ),
  ).toEqual([]);
});
