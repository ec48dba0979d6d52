import { describe, expect, test } from 'vitest';
import { exactCorrection } from '../../test/corrections.js';
import { effectiveDof } from '../measure/index.js';
import { standardDeviation, tQuantile } from '../numerics/index.js';
import { defaultLimits, type Probe } from '../records/index.js';
import { compareSetups } from './compare-setups.js';
import type { Contest } from './contest.js';
import { judgeMargins, judgePredicted, levelOf, type ModelledRise } from './judge-margins.js';

const probes: Probe[] = [
  { id: 'c1', name: 'C1', place: 'cell' },
  { id: 'a', name: 'A', place: 'ambient' },
];
const corrections = ['c1', 'a'].map((probe) => exactCorrection(probe));

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

// Set by decision: a stop limit wants a second look below 2 K of margin and stops below none; other limits are passed or not.
test.each([
  { level: 'stop', atLeast_K: 2, becomes: 'holds' },
  { level: 'stop', atLeast_K: 2.1, becomes: 'holds' },
  { level: 'stop', atLeast_K: 1.999, becomes: 'look' },
  { level: 'stop', atLeast_K: 0, becomes: 'look' },
  { level: 'stop', atLeast_K: -1e-9, becomes: 'stop' },
  { level: 'prefer', atLeast_K: 0, becomes: 'holds' },
  { level: 'prefer', atLeast_K: 1, becomes: 'holds' },
  { level: 'prefer', atLeast_K: -1e-9, becomes: 'look' },
] as const)('a $level limit with $atLeast_K K left: $becomes', ({ level, atLeast_K, becomes }) => {
  expect(levelOf({ level }, atLeast_K)).toBe(becomes);
});

describe('what one further mounting adds', () => {
  const expected = (contests: Contest[], setup: string, use = 'discharging-load') => {
    const { expected_C } = marginOf(contests, setup, use, 'discharging');
    if (expected_C === null) throw new Error('nothing expected');
    return expected_C;
  };
  const riseOf = ({ setups }: Contest, id: string) => {
    const found = setups.find(({ setup }) => setup === id);
    if (found === undefined) throw new Error(`no ${id}`);
    return found.rise_K;
  };

  // By hand: about their set-up's mean both scatter alike, since the days move both; pooled, that is the spread of one set-up, with
  // twice its degrees of freedom. Taking the days out leaves hardly any.
  test('is the spread with the days in it, though the comparison takes them out', () => {
    const bare = [24.1, 26, 21.9, 25.1, 22.9];
    const observations = [bare, bare.map((rise_K, i) => rise_K - 3 + (i % 2) * 0.1)].flatMap((values, s) =>
      values.map((rise_K, i) => ({
        run: `${s}-${i}`,
        setup: s === 0 ? 'bare' : 'plate',
        session: `day ${i}`,
        mounting: `${i}`,
        rise_K,
        u_K: 0,
      })),
    );
    const blocked = compareSetups({ probe: 'c1', phase: 'load', charging: false }, observations, 'bare');
    expect(blocked.runToRun.sd_K).toBeLessThan(0.1);
    const [one, two] = blocked.setups.map(({ runs }) => standardDeviation(runs.map(({ rise_K }) => rise_K)));
    const raw_K = Math.sqrt(((one ?? 0) ** 2 + (two ?? 0) ** 2) / 2);
    const rise = riseOf(blocked, 'plate');
    const { u, dof } = expected([blocked], 'plate');
    expect(u).toBeCloseTo(Math.hypot(rise.u, raw_K), 10);
    expect(dof).toBeCloseTo(
      effectiveDof([
        { u: rise.u, dof: rise.dof },
        { u: raw_K, dof: 8 },
      ]),
      8,
    );
  });

  test('comes from the load where idle was hardly repeated', () => {
    const load = contest(false, { bare: [23.5, 24.3, 23.9], plate: [20.3, 21.5, 20.9] });
    const idle = contest(false, { bare: [5, 5.001], plate: [4.8] }, 'idle');
    const { u } = expected([idle, load], 'plate', 'discharging-idle');
    expect(u).toBeCloseTo(Math.hypot(riseOf(idle, 'plate').u, Math.sqrt(0.26)), 10);
  });
});

test('of several probes at one place the warmest counts, whatever their order', () => {
  const at = (probe: string, rise_K: number) =>
    compareSetups(
      { probe, phase: 'load', charging: false },
      [0, 0.3, 0.6].map((more, i) => ({
        run: `${probe}-${i}`,
        setup: 'bare',
        session: 's',
        mounting: `${i}`,
        rise_K: rise_K + more,
        u_K: 0,
      })),
      'bare',
    );
  const two = { ...build, probes: [...probes, { id: 'c2', name: 'C2', place: 'cell' } as const] };
  const contests = [at('c1', 20), at('c2', 22)];
  for (const order of [contests, contests.toReversed()]) {
    const margin = judgeMargins(two, order, [...corrections, exactCorrection('c2')]).find(
      ({ use, limit }) => use === 'discharging-load' && limit.id === 'discharging',
    );
    expect(margin?.probe).toBe('c2');
    expect(margin?.expected_C?.value).toBeCloseTo(32 + 22.3, 10);
    expect(margin?.evidence).toEqual(['c2-0', 'c2-1', 'c2-2']);
  }
});

test('a charge that was not measured passes its limit only where the doubt does not reach back over it', () => {
  // 45 °C less 32 °C leaves 13 K: at 13.2 K the load alone is over it, but not by its doubt of some 0.5 K.
  const margin = marginOf(
    [contest(false, { bare: [12.7, 13.2, 13.7] })],
    'bare',
    'charging-load',
    'charging',
  );
  expect(margin.level).toBe('unknown');
  expect(margin.margin_K).toBeNull();
  expect(margin.lowerBound).toBe(true);
});

describe('a predicted use', () => {
  const load = contest(false, { bare: [23.5, 24.3, 23.9], plate: [20.3, 21.5, 20.9] });
  const rise = (value: number, u: number): ModelledRise => ({
    setup: 'thought of',
    where: 'cell',
    zone: null,
    phase: 'load',
    charging: false,
    rise_K: { value, u, dof: null },
  });
  const judge = (rises: ModelledRise[]) =>
    judgePredicted(build, rises, [load]).find(
      ({ use, limit }) => use === 'discharging-load' && limit.id === 'discharging',
    );

  // By hand: 60 - 32 - 20 = 8 K; the doubt of the model and the spread from run to run, 0.26 K² as above, add as squares.
  test('carries the spread between mountings beside the model’s doubt, and says that it is predicted', () => {
    const margin = judge([rise(20, 0.7)]);
    const u_K = Math.sqrt(0.7 ** 2 + 0.26);
    expect(margin?.predicted).toBe(true);
    expect(margin?.margin_K).toBeCloseTo(8, 10);
    expect(margin?.expected_C?.u).toBeCloseTo(u_K, 10);
    expect(margin?.atLeast_K).toBeCloseTo(8 - 1.6448536269514722 * u_K, 9); // 95 % point of the normal distribution
  });

  test('is that of the warmest cell', () => {
    for (const rises of [
      [rise(20, 0.7), rise(22, 0.3)],
      [rise(22, 0.3), rise(20, 0.7)],
    ])
      expect(judge(rises)?.expected_C?.value).toBeCloseTo(54, 10);
  });
});
