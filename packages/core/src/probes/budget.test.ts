import { describe, expect, test } from 'vitest';
import type { Build, Probe, ProbeCheck } from '../records/index.js';
import { correctedU_K, correctReading_C, differenceU_K } from './apply-correction.js';
import { boilingPoint_C, saltRise_K, waterHead_hPa } from './boiling-point.js';
import { budgetProbe, sumBudget } from './budget.js';
import { referenceTemperature } from './check-reference.js';
import { correctProbes, findDrifts, fitChecks, readCheck, resolutionU_K } from './correct-probes.js';
import type { Correction } from './correction.js';
import { noCorrection } from './fit-correction.js';
import { presentBudget } from './present-budget.js';
import { uncheckedDoubt } from './unchecked-doubt.js';

const probe = (id: string, more: Partial<Probe> = {}): Probe => ({
  id,
  name: id,
  place: 'cell',
  maker_u_K: 0.5,
  attachment_u_K: 0,
  ...more,
});

const check = (id: string, at: string, points: ProbeCheck['points']): ProbeCheck => ({
  id,
  at,
  model: 'offset-gain',
  points,
});

const reference = (reference_C: number, readings: Record<string, number>): ProbeCheck['points'][number] => ({
  reference: { kind: 'reference', reference_C, u_K: 0.1 },
  readings: Object.entries(readings).map(([id, reading_C]) => ({ probe: id, reading_C, u_K: 0.05 })),
});

const build = (probes: Probe[], probeChecks: ProbeCheck[]): Pick<Build, 'probes' | 'probeChecks'> => ({
  probes,
  probeChecks,
});

// [JCGM-100] F.2.2.1: an indication of step d has a standard uncertainty of 0.29 d, a rectangle half a step either way.
test('a step of 0.1 K is in doubt by 0.029 K', () => {
  expect(resolutionU_K(probe('p', { resolution_K: 0.1 }))).toBeCloseTo(0.1 / (2 * Math.sqrt(3)), 15);
  expect(resolutionU_K(probe('p', { resolution_K: 1 }))).toBeCloseTo(0.29, 2);
  expect(resolutionU_K(probe('p'))).toBe(0);
});

describe('a budget', () => {
  const corrections = correctProbes(
    build(
      [probe('p', { resolution_K: 0.1, attachment_u_K: 0.2 }), probe('q', { resolution_K: 0.1 })],
      [
        check('first', '2025-01-10T18:00:00Z', [
          reference(0, { p: 0.3, q: -0.2 }),
          reference(60, { p: 60.5, q: 59.7 }),
        ]),
        check('second', '2025-03-10T18:00:00Z', [
          reference(0, { p: 0.4, q: -0.2 }),
          reference(60, { p: 60.6, q: 59.7 }),
        ]),
      ],
    ),
  );
  const [p, q] = corrections as [Correction, Correction];
  const budget = budgetProbe(p, q, 45);
  const line = (name: string) => budget.lines.find((one) => one.name === name);

  // A law: independent contributions add in squares, so the lines must make up what the whole correction says.
  test('adds up to the doubt of a corrected reading, of a difference and of a swap', () => {
    expect(budget.total.u_K).toBeCloseTo(correctedU_K(p, 45), 12);
    const resolutionOf = ({ gain, reading_u_K }: Correction) => gain * reading_u_K;
    expect(budget.sameProbe.u_K).toBeCloseTo(
      Math.hypot(differenceU_K(p, 45, p, 44), Math.SQRT2 * resolutionOf(p)),
      12,
    );
    expect(budget.otherProbe?.u_K).toBeCloseTo(
      Math.hypot(differenceU_K(p, 45, q, 45), resolutionOf(p), resolutionOf(q)),
      12,
    );
  });

  test('shows what cancels: drift and attachment wholly in the same probe, baths nearly between two from one check', () => {
    expect(line('drift')?.u_K).toBeCloseTo(0.1 / Math.sqrt(3), 3); // moved by 0.1 K at both ends
    expect(line('drift')?.sameProbe_u_K).toBe(0);
    expect(line('attachment')).toMatchObject({ u_K: 0.2, sameProbe_u_K: 0, otherProbe_u_K: 0.2 });
    expect(line('baths')?.u_K).toBeGreaterThan(0.07);
    expect(line('baths')?.otherProbe_u_K).toBeLessThan(0.002);
    expect(line('baths')?.sameProbe_u_K).toBeLessThan(0.003);
  });

  test('in words names what is assumed and what is not known', () => {
    const bare = budgetProbe(noCorrection('r', uncheckedDoubt({ maker_u_K: 0.5 }), 0), null, 45);
    const words = presentBudget(bare, { id: 'r', name: 'R', place: 'cell' }, []).rows.map(({ what }) => what);
    expect(words).toContain('drift: not known, it takes two checks');
    expect(words).toContain('smallest step of a reading: not stated');
    expect(words).toContain('never checked: the maker’s word, or the class of the sensor');
  });
});

// [JCGM-100] H.1, Table H.1: contributions in nm with their degrees of freedom; 32 nm and 16 (16.7 cut down) printed.
// Table G.2: t for 95 % is 2.12 with 16 and 2.11 with 17 degrees of freedom.
test('contributions sum up as the guide’s end gauge does', () => {
  const sum = sumBudget([
    { u: 25, dof: 18 },
    { u: Math.hypot(5.8, 3.9, 6.7), dof: 25.6 },
    { u: 2.9, dof: 50 },
    { u: 16.6, dof: 2 },
  ]);
  expect(Math.round(sum.u_K)).toBe(32);
  expect(Math.abs((sum.dof as number) - 16.7)).toBeLessThan(0.1);
  expect(sum.coverage).toBeGreaterThan(2.11 - 0.005);
  expect(sum.coverage).toBeLessThan(2.12 + 0.005);
});

// [IEC-60584-1] class 1 of type K: ±1.5 K, so u = 0.866 K each and 1.2247 K in the difference of two (by hand).
test('two unchecked class 1 thermocouples cannot tell 1 K apart, and the budget says so', () => {
  const one = noCorrection('p', uncheckedDoubt({}), 0);
  const budget = budgetProbe(one, noCorrection('q', uncheckedDoubt({}), 0), 60);
  expect(budget.total.u_K).toBeCloseTo(0.866025, 6);
  expect(budget.otherProbe?.u_K).toBeCloseTo(1.224745, 6);
  expect(budget.otherProbe?.expanded_K).toBeGreaterThan(2.3);
  expect(budget.sameProbe.u_K).toBe(0);
});

describe('probes side by side in a bath nobody measured', () => {
  const probes = [probe('p'), probe('q', { maker_u_K: 0.8 }), probe('r')];
  const together: ProbeCheck = {
    id: 'pan',
    model: 'offset',
    points: [
      {
        reference: { kind: 'together' },
        readings: [
          { probe: 'p', reading_C: 41.0, u_K: 0.05 },
          { probe: 'q', reading_C: 41.9, u_K: 0.05 },
          { probe: 'r', reading_C: 41.3, u_K: 0.05 },
        ],
      },
    ],
  };
  const corrections = correctProbes(build(probes, [together])) as [Correction, Correction, Correction];
  const [p, q] = corrections;

  test('agree afterwards, at their mean', () => {
    expect(correctReading_C(p, 41)).toBeCloseTo(41.4, 10); // (41.0 + 41.9 + 41.3) / 3
    expect(correctReading_C(q, 41.9)).toBeCloseTo(41.4, 10);
    expect(readCheck(together, probes)[0]).toMatchObject({ reference_C: expect.closeTo(41.4, 10), u_K: 0.8 });
  });

  test('do not push aside a check in known baths, however much later', () => {
    const ice = check('ice', '2025-01-01T00:00:00Z', [reference(0, { p: 0.3 })]);
    const [known] = correctProbes(build(probes, [ice, { ...together, at: '2025-06-01T00:00:00Z' }]));
    expect(known?.check).toBe('ice');
    expect(known?.offset_K).toBeCloseTo(-0.3, 10);
  });

  test('are no better in themselves than the least certain of them, and good between each other', () => {
    expect(correctedU_K(p, 41)).toBeCloseTo(Math.hypot(0.8, 0.05), 6);
    expect(differenceU_K(p, 41, q, 41.9)).toBeCloseTo(Math.SQRT2 * 0.05, 6);
  });
});

describe('drift between two checks', () => {
  const twice = (later: Record<string, number>) =>
    build(
      [probe('p')],
      [
        // Stored in the wrong order and with offsets: the later one counts all the same.
        check('later', '2025-03-01T00:30:00+02:00', [reference(45, later)]),
        check('earlier', '2025-02-28T23:00:00Z', [reference(45, { p: 45.2 })]),
      ],
    );

  test('is read in the order of time, offsets from UTC included', () => {
    const [drift] = findDrifts(fitChecks(twice({ p: 45.2 })), 45);
    // 00:30 at +02:00 is 22:30 UTC, half an hour before the other.
    expect(drift?.from.check).toBe('later');
    expect(drift?.to.check).toBe('earlier');
  });

  test('is the difference of the two corrections, in doubt by both', () => {
    const [drift] = findDrifts(fitChecks(twice({ p: 46.2 })), 45);
    expect(drift?.change_K).toBeCloseTo(1, 10); // from -1.2 to -0.2
    expect(drift?.change_u_K).toBeCloseTo(Math.SQRT2 * Math.hypot(0.1, 0.05), 6);
    expect(drift?.isShown).toBe(true);
    expect(drift?.u_K).toBeCloseTo(1 / Math.sqrt(3), 10);
    expect(correctProbes(twice({ p: 46.2 }))[0]?.drift_u_K).toBeCloseTo(1 / Math.sqrt(3), 10);
  });

  test('within the doubt of the checks is not called a drift, and widens all the same', () => {
    const [drift] = findDrifts(fitChecks(twice({ p: 45.3 })), 45);
    expect(drift?.isShown).toBe(false);
    expect(drift?.u_K).toBeCloseTo(0.1 / Math.sqrt(3), 8);
  });

  test('takes two checks', () => {
    const once = build([probe('p')], [check('only', '2025-03-01T00:00:00Z', [reference(45, { p: 45 })])]);
    expect(findDrifts(fitChecks(once), 45)).toEqual([]);
    expect(correctProbes(once)[0]?.drift_u_K).toBe(0);
  });
});

describe('boiling water', () => {
  // derived here: ρ g h over the slope of the saturation line [IAPWS-R7-97], 27.65 mK/hPa at 1013.25 hPa.
  test.each([
    { depth_mm: 20, rise_K: 0.0519 },
    { depth_mm: 50, rise_K: 0.1297 },
    { depth_mm: 100, rise_K: 0.2589 },
  ])('is $rise_K K warmer $depth_mm mm down', ({ depth_mm, rise_K }) => {
    const rise = boilingPoint_C(1013.25 + waterHead_hPa(depth_mm)) - boilingPoint_C(1013.25);
    expect(Math.abs(rise - rise_K)).toBeLessThanOrEqual(5e-5);
    const bath = { kind: 'boiling', station_hPa: 1013.25, depth_mm } as const;
    expect(referenceTemperature(bath, 'here').reference_C).toBeCloseTo(boilingPoint_C(1013.25) + rise, 10);
  });

  // [CRC-HANDBOOK] 0.512 K·kg/mol times two ions times 10/58.443 mol/kg, by hand.
  test('is 0.1752 K warmer with 10 g of salt in a kilogram', () => {
    expect(Math.abs(saltRise_K(10) - 0.1752)).toBeLessThanOrEqual(5e-5);
  });

  test('is known better from an altimeter setting than from a report of unknown kind', () => {
    const report = { kind: 'boiling', seaLevel_hPa: 1020, altitude_m: 500 } as const;
    const u = (reduction?: 'altimeter' | 'weather') =>
      referenceTemperature({ ...report, reduction }, 'here').u_K;
    // [IAPWS-R7-97] 27.7 mK per hPa, rounded to 0.028, beside 0.1 K of the boil itself.
    expect(u('altimeter')).toBeCloseTo(Math.hypot(0.1, 0.028), 6);
    expect(u('weather')).toBeCloseTo(Math.hypot(0.1, 0.084), 6);
    expect(u()).toBe(u('weather'));
  });

  test.each([-1, 501, Number.NaN])('refuses a depth of %d mm', (depth_mm) => {
    expect(() => waterHead_hPa(depth_mm)).toThrow(/depth_mm/);
  });
});

describe('a thermocouple’s cold junction', () => {
  const thermocouple = (kind: 'logged' | 'fixed'): Probe =>
    probe('p', {
      sensor: {
        kind: 'thermocouple',
        type: 'K',
        class: '1',
        coldJunction: kind === 'logged' ? { kind, u_K: 0.5 } : { kind, fixed_C: 25, u_K: 0.5 },
      },
    });
  const points = [reference(0, { p: 0.3 }), reference(60, { p: 60.5 })];
  const lineOf = (kind: 'logged' | 'fixed', checks: ProbeCheck[]) => {
    const [correction] = correctProbes(build([thermocouple(kind)], checks)) as [Correction];
    return budgetProbe(correction, null, 45).lines.find(({ name }) => name === 'cold-junction');
  };
  const checked = [check('only', '2025-01-10T18:00:00Z', points)];

  // A law: what is the same in every run shifts two readings of one probe alike; what is another each time adds twice.
  test('that is logged is taken out by a check, and cancels in a difference without one', () => {
    expect(lineOf('logged', checked)).toBeUndefined();
    expect(lineOf('logged', [])?.u_K).toBeGreaterThan(0.4);
    expect(lineOf('logged', [])?.sameProbe_u_K).toBe(0);
  });

  test('that was only stated does neither', () => {
    const line = lineOf('fixed', checked);
    expect(line?.u_K).toBeGreaterThan(0.4);
    expect(line?.sameProbe_u_K).toBeCloseTo(Math.SQRT2 * (line?.u_K ?? 0), 12);
  });
});
