import type { Difference, Margin } from '@soakbench/core/compare';
import { type Build, newBuild } from '@soakbench/core/records';
import { describe, expect, test } from 'vitest';
import { differenceRows, findingsWords, marginGroups, spreadWords } from './present-compare.js';

const build: Build = {
  ...newBuild('b', 'B'),
  probes: [{ id: 'c1', name: 'cell 1', place: 'cell' }],
  setups: [
    { id: 'bare', name: 'bare', layers: [] },
    { id: 'plate', name: 'plate', layers: [] },
  ],
};

const difference = (finding: Difference['finding'], value = 3): Difference => ({
  setup: 'plate',
  other: 'bare',
  cooler_K: { value, u: 0.4, dof: 6 },
  simultaneous95_K: [value - 1, value + 1],
  p: 0.0004,
  finding,
  noWorse: { setup: { p: 0.001, finding: 'shown' }, other: { p: 0.4, finding: 'not-shown' } },
});

const margin = (part: Partial<Margin>): Margin => ({
  setup: 'plate',
  limit: build.limits[1] as Margin['limit'],
  use: 'charging-load',
  title: 'charging at full load',
  probe: 'c1',
  expected_C: { value: 56, u: 0.6, dof: 5 },
  margin_K: -11,
  atLeast_K: -12.2,
  highestAmbient_C: 19.7,
  level: 'stop',
  lowerBound: false,
  missing: null,
  evidence: [],
  ...part,
});

describe('findings in a sentence', () => {
  test('what is shown is counted, and a refused verdict is no finding', () => {
    expect(findingsWords([difference('shown'), difference('not-shown')])).toBe(
      '1 of 2 differences is shown.',
    );
    expect(findingsWords([difference('shown'), difference('shown'), difference('no-verdict')])).toBe(
      '2 of 3 differences are shown; on 1 there is no verdict.',
    );
  });
  test('single runs get no verdict, and the reason is said', () => {
    expect(findingsWords([difference('no-verdict')])).toContain('one run per set-up');
  });
  test('an assumed spread is called assumed', () => {
    const assumed = { runToRun: { sd_K: 0.6, dof: null, assumed: true }, blocks: 'none' } as const;
    expect(spreadWords(assumed)).toContain('is taken to scatter');
    expect(spreadWords({ runToRun: { sd_K: 0.61, dof: 6, assumed: false }, blocks: 'none' })).toContain(
      '6 degrees of freedom',
    );
  });
  test('a tiny p is bounded and never printed as zero; without a verdict there is none', () => {
    expect(differenceRows(build, [difference('shown')])[0]?.cells[3]).toBe('under 0.001');
    expect(differenceRows(build, [difference('no-verdict')])[0]?.cells[3]).toBe('none');
  });
  test('a set-up that is warmer is not called cooler', () => {
    expect(differenceRows(build, [difference('not-shown', -0.5)])[0]?.cells[0]).toBe('plate against bare');
  });
});

describe('margins by state', () => {
  test('set-ups of one state and limit stand together', () => {
    const groups = marginGroups(build, [
      margin({}),
      margin({ setup: 'bare' }),
      margin({ use: 'charging-idle', title: 'charging, device idle' }),
    ]);
    expect(groups.map(({ rows }) => rows.length)).toEqual([2, 1]);
    expect(groups[0]?.limit).toBe('cell, limit 45 °C');
  });
  test('a bound is printed as a bound, and gets no coverage', () => {
    const row = marginGroups(build, [margin({ lowerBound: true })])[0]?.rows[0];
    expect(row).toMatchObject({ expected: '≥ 56.0', margin: '≤ −11.0', atLeast: '–' });
  });
  test('a preferred level judges a temperature: prefer or wear, never stop', () => {
    const prefer = { limit: build.limits[0] as Margin['limit'] };
    const words = (['holds', 'look', 'stop'] as const).map(
      (level) => marginGroups(build, [margin({ ...prefer, level })])[0]?.rows[0]?.word,
    );
    expect(words).toEqual(['prefer', 'wear', 'wear']);
  });
  test('what was not measured says so and shows no figure', () => {
    const unknown = {
      level: 'unknown',
      expected_C: null,
      margin_K: null,
      atLeast_K: null,
      highestAmbient_C: null,
      missing: 'was not measured',
    } as const;
    expect(marginGroups(build, [margin(unknown)])[0]?.rows[0]).toMatchObject({
      word: 'not measured',
      margin: '–',
      missing: 'was not measured',
    });
  });
});
