import { describe, expect, test } from 'vitest';
import { tQuantile } from '../numerics/index.js';
import type { Correction } from '../probes/index.js';
import { defaultLimits, type Probe } from '../records/index.js';
import { compareSetups } from './compare-setups.js';
import type { Contest } from './contest.js';
import { judgeMargins } from './judge-margins.js';

const probes: Probe[] = [
  { id: 'c1', name: 'C1', place: 'cell' },
  { id: 'a', name: 'A', place: 'ambient' },
];
const exact = (probe: string): Correction => ({
  probe,
  check: 'c',
  model: 'offset',
  pivot_C: 0,
  offset_K: 0,
  gain: 1,
  own: { offset: 0, cross: 0, gain: 0 },
  shared: [],
  reading_u_K: 0,
  drift_u_K: 0,
  attachment_u_K: 0,
  unknownGain_u: 0,
  coldJunction: null,
  dof: null,
  checked_C: [0, 100],
});
const corrections = [exact('c1'), exact('a')];

function contest(
  charging: boolean,
  rises: Record<string, number[]>,
  phase: 'idle' | 'load' = 'load',
): Contest {
  const observations = Object.entries(rises).flatMap(([setup, values]) =>
    values.map((rise_K, i) => ({
      run: `${setup}-${i}`,
      setup,
      session: 's',
      mounting: `${i}`,
      rise_K,
      u_K: 0,
    })),
  );
  return compareSetups({ probe: 'c1', phase, charging }, observations, 'bare');
}

const build = { limits: [...defaultLimits], probes, designAmbient: { ambient_C: 32 } };

function marginOf(contests: Contest[], setup: string, use: string, limit: string) {
  const found = judgeMargins(build, contests, corrections).find(
    (m) => m.setup === setup && m.use === use && m.limit.id === limit,
  );
  if (found === undefined) throw new Error('no such margin');
  return found;
}

describe('a measured use', () => {
  const load = contest(false, { bare: [23.5, 24.3, 23.9], plate: [20.3, 21.5, 20.9] });

  // Worked by hand: means 23.9 and 20.9; squares about them 0.32 and 0.72, s² = 1.04/4 = 0.26; one further mounting has
  // variance s²/3 + s². Welch-Satterthwaite over s²/3 (4) and s² (4) gives (4/3)² / (1/9/4 + 1/4) = 6.4 degrees of freedom.
  test('has the margin, its least value and the highest ambient worked by hand', () => {
    const margin = marginOf([load], 'plate', 'discharging-load', 'discharging');
    const u_K = Math.sqrt((0.26 * 4) / 3);
    expect(margin.expected_C?.value).toBeCloseTo(52.9, 10);
    expect(margin.expected_C?.u).toBeCloseTo(u_K, 10);
    expect(margin.expected_C?.dof).toBeCloseTo(6.4, 10);
    expect(margin.margin_K).toBeCloseTo(7.1, 10);
    expect(margin.atLeast_K).toBeCloseTo(7.1 - tQuantile(0.95, 6.4) * u_K, 10);
    expect(margin.highestAmbient_C).toBeCloseTo(32 + (margin.atLeast_K ?? 0), 10);
    expect(margin.level).toBe('holds');
    expect(margin.evidence).toHaveLength(3);
  });

  test('a hair below its highest ambient the limit is only just held', () => {
    const margin = marginOf([load], 'plate', 'discharging-load', 'discharging');
    const hot = judgeMargins(
      { ...build, designAmbient: { ambient_C: (margin.highestAmbient_C ?? 0) - 1e-6 } },
      [load],
      corrections,
    );
    const again = hot.find(
      (m) => m.setup === 'plate' && m.use === 'discharging-load' && m.limit.id === 'discharging',
    );
    expect(again?.atLeast_K).toBeCloseTo(1e-6, 10);
    expect(again?.level).toBe('look');
  });

  test('a preferred level passed wants a look and stops nothing', () => {
    expect(marginOf([load], 'plate', 'discharging-load', 'prefer').level).toBe('look');
  });
});

describe('a use that was not measured', () => {
  test('is named, not guessed', () => {
    const idle = contest(false, { bare: [5, 5.2], plate: [4.8, 5] }, 'idle');
    const margin = marginOf([idle], 'plate', 'charging-idle', 'charging');
    expect(margin.level).toBe('unknown');
    expect(margin.missing).toMatch(/was not measured/);
    expect(margin.margin_K).toBeNull();
    expect(margin.highestAmbient_C).toBeNull();
  });

  test('passes its limit for certain where the load alone does', () => {
    const load = contest(false, { bare: [23.5, 24.3, 23.9], plate: [20.3, 21.5, 20.9] });
    const margin = marginOf([load], 'plate', 'charging-load', 'charging');
    expect(margin.level).toBe('stop');
    expect(margin.lowerBound).toBe(true);
    expect(margin.margin_K).toBeCloseTo(45 - 52.9, 10);
  });

  test('without a design ambient nothing is judged', () => {
    expect(judgeMargins({ limits: build.limits, probes }, [], corrections)).toEqual([]);
  });
});
