/** The three ways to state an NTC, held against one printed table and one printed curve. */
import { describe, expect, test } from 'vitest';
import type { SensorFacts } from '../../records/index.js';
import type { Sensor } from './sensor.js';
import { makeSensor } from './sensor-types.js';

function make(facts: SensorFacts): Sensor {
  const made = makeSensor(facts);
  if (!made.ok) throw new Error(made.reason.what);
  return made.value;
}
function tempOf_C(sensor: Sensor, signal_ohm: number): number {
  const answer = sensor.temperature_C(signal_ohm);
  return answer.ok ? answer.value : Number.NaN;
}

// [NTC-3435] table of resistance, printed to four digits.
const table = [
  [-50, 329500],
  [-40, 188500],
  [-30, 111300],
  [-20, 67770],
  [-10, 42470],
  [0, 27280],
  [10, 17960],
  [20, 12090],
  [25, 10000],
  [30, 8313],
  [40, 5827],
  [50, 4160],
  [60, 3020],
  [70, 2228],
  [80, 1668],
  [85, 1451],
  [90, 1266],
  [100, 973.1],
  [110, 757.6],
] as const;
const rows = table.map(([at_C, resistance_ohm]) => ({ at_C, resistance_ohm }));

describe('an NTC by R25 and beta', () => {
  const ntc = make({ kind: 'ntc-beta', r25_ohm: 10_000, beta_K: 3435 });

  // The formula itself outside the project with 40 digits (mpmath 1.3); derived here.
  test.each([
    { beta_K: 3435, ohms: [77522.549793, 28704.29039, 4101.1899011, 987.03676846] },
    { beta_K: 3950, ohms: [105384.69021, 33620.603721, 3588.1825819, 697.51977299] },
  ])('of beta $beta_K K follows the formula', ({ beta_K, ohms }) => {
    const sensor = make({ kind: 'ntc-beta', r25_ohm: 10_000, beta_K });
    for (const [i, temp_C] of [-20, 0, 50, 100].entries()) {
      expect(Math.abs(sensor.signalAt(temp_C) / (ohms[i] as number) - 1)).toBeLessThan(1e-9);
    }
  });

  test('reads back what the formula says', () => {
    expect(tempOf_C(ntc, 10_000)).toBeCloseTo(25, 10);
    expect(tempOf_C(ntc, 10_000 / 3)).toBeCloseTo(56.4275195888, 8); // mpmath 1.3
    expect(tempOf_C(ntc, 30_000)).toBeCloseTo(-0.955634820898, 8); // mpmath 1.3
  });

  // [NTC-3435] one number bends away from the printed table: by a kelvin at both ends of the bench.
  test('is off by what its description says', () => {
    expect(tempOf_C(ntc, 4160) - 50).toBeCloseTo(-0.4323, 3);
    expect(tempOf_C(ntc, 27280)).toBeCloseTo(1.1099, 3);
    expect(tempOf_C(ntc, 757.6) - 110).toBeCloseTo(1.0412, 3);
  });
});

describe('an NTC by its coefficients', () => {
  // Through the printed table [NTC-3435] at 0, 40 and 80 °C; the coefficients were solved outside with 40 digits (mpmath 1.3).
  const ntc = make({
    kind: 'ntc-coefficients',
    k0_per_K: 0.000880369796775,
    k1_per_K: 0.000252676752229,
    k3_per_K: 1.87512522685e-7,
  });

  test('meets the table where it was put through it, and nearly meets it elsewhere', () => {
    for (const [at_C, resistance_ohm] of table) {
      if (at_C < -20) continue;
      const off_K = Math.abs(tempOf_C(ntc, resistance_ohm) - at_C);
      // 0.065 K is its error at −20 °C and 0.053 K at 110 °C; from 0 to 100 °C it stays below 0.015 K.
      expect(off_K).toBeLessThan(
        [0, 40, 80].includes(at_C) ? 1e-7 : at_C >= 0 && at_C <= 100 ? 0.015 : 0.066,
      );
    }
  });

  test('agrees with the same equation solved outside', () => {
    expect(ntc.signalAt(25)).toBeCloseTo(9996.70831219, 4);
    expect(ntc.signalAt(45)).toBeCloseTo(4912.97866854, 4);
    expect(ntc.signalAt(60)).toBeCloseTo(3021.08349456, 4);
    expect(tempOf_C(ntc, 10_000 / 3)).toBeCloseTo(56.8720859301, 7);
    expect(tempOf_C(ntc, 10_000)).toBeCloseTo(24.991208963, 7);
    expect(tempOf_C(ntc, 30_000)).toBeCloseTo(-2.19408135519, 7);
  });

  // [NTC-3977] the printed curve with the square: its own printed ratios, inverted with its own printed coefficients.
  const curve = make({
    kind: 'ntc-coefficients',
    k0_per_K: 3.3539438e-3,
    k1_per_K: 2.5646095e-4,
    k2_per_K: 2.5158166e-6,
    k3_per_K: 1.0503069e-7,
    reference_ohm: 10_000,
  });
  test.each([
    { ratio: 33.36, at_C: -40 },
    { ratio: 17.61, at_C: -30 },
    { ratio: 9.681, at_C: -20 },
    { ratio: 5.525, at_C: -10 },
    { ratio: 3.264, at_C: 0 },
    { ratio: 1.99, at_C: 10 },
    { ratio: 1.249, at_C: 20 },
    { ratio: 1, at_C: 25 },
    { ratio: 0.8056, at_C: 30 },
    { ratio: 0.5325, at_C: 40 },
    { ratio: 0.3601, at_C: 50 },
    { ratio: 0.2487, at_C: 60 },
    { ratio: 0.1751, at_C: 70 },
    { ratio: 0.1256, at_C: 80 },
    { ratio: 0.107, at_C: 85 },
    { ratio: 0.09155, at_C: 90 },
    { ratio: 0.06781, at_C: 100 },
    { ratio: 0.05095, at_C: 110 },
    { ratio: 0.03881, at_C: 120 },
    { ratio: 0.02993, at_C: 130 },
  ])('of a sheet that gives four has the printed $at_C °C at $ratio times R25', ({ ratio, at_C }) => {
    // Four printed digits of the ratio are worth 0.014 K at the worst.
    expect(Math.abs(tempOf_C(curve, ratio * 10_000) - at_C)).toBeLessThan(0.014);
  });

  // The third letter of three coefficients is the cube, of four the square: taken for each other they make no NTC.
  test.each([
    { name: 'a wrong power of ten', k0_per_K: 0.88, k1_per_K: 2.5e-4, k3_per_K: 1.9e-7 },
    { name: 'a resistance that rises', k0_per_K: 0.008, k1_per_K: -2.5e-4, k3_per_K: 0 },
    { name: 'kelvins far away', k0_per_K: 1e-5, k1_per_K: 1e-6, k3_per_K: 0 },
  ])('refuses $name', ({ name: _, ...facts }) => {
    expect(makeSensor({ kind: 'ntc-coefficients', ...facts })).toMatchObject({
      ok: false,
      reason: { kind: 'false-facts' },
    });
  });
});

describe('an NTC by a table', () => {
  const ntc = make({ kind: 'ntc-table', rows });

  test('meets every row', () => {
    for (const [at_C, resistance_ohm] of table) {
      expect(tempOf_C(ntc, resistance_ohm)).toBeCloseTo(at_C, 9);
      expect(Math.abs(ntc.signalAt(at_C) / resistance_ohm - 1)).toBeLessThan(1e-10);
    }
  });

  // [NTC-3435] rows that were left out come back: 0.006 K, where straight lines would be off by 0.017 K.
  test('finds rows it was not given', () => {
    const thinned = make({ kind: 'ntc-table', rows: rows.filter(({ at_C }) => at_C !== 25 && at_C !== 85) });
    expect(Math.abs(tempOf_C(thinned, 10_000) - 25)).toBeLessThan(0.006);
    expect(Math.abs(tempOf_C(thinned, 1451) - 85)).toBeLessThan(0.006);
  });

  // Independent program: PchipInterpolator of SciPy 1.17 through the same rows.
  test.each([
    { ohm: 150_000, theirs_C: -35.7358911850817 },
    { ohm: 40_000, theirs_C: -8.677540488988257 },
    { ohm: 9000, theirs_C: 27.83565968993821 },
    { ohm: 5000, theirs_C: 44.477855088741705 },
    { ohm: 2500, theirs_C: 66.15337113352132 },
    { ohm: 1200, theirs_C: 91.99521829446394 },
  ])('makes $ohm ohm the $theirs_C °C of an independent program', ({ ohm, theirs_C }) => {
    expect(tempOf_C(ntc, ohm)).toBeCloseTo(theirs_C, 8);
  });

  test('takes rows in any order, and refuses rows that are no NTC', () => {
    expect(tempOf_C(make({ kind: 'ntc-table', rows: rows.toReversed() }), 9000)).toBe(tempOf_C(ntc, 9000));
    const slipped = rows.map((row) => (row.at_C === 40 ? { ...row, resistance_ohm: 58_270 } : row));
    const refusal = makeSensor({ kind: 'ntc-table', rows: slipped });
    expect(refusal).toMatchObject({ ok: false, reason: { what: expect.stringContaining('40 °C') } });
    expect(makeSensor({ kind: 'ntc-table', rows: [rows[0], rows[0]] as typeof rows })).toMatchObject({
      ok: false,
    });
  });

  test('does not read beyond its rows', () => {
    expect(ntc.temperature_C(700)).toMatchObject({ ok: false, reason: { allowed: [757.6, 329500] } });
  });
});

test('an NTC has the tolerance its sheet states and no other', () => {
  expect(make({ kind: 'ntc-beta', r25_ohm: 1e4, beta_K: 3435 }).tolerance).toBeNull();
  expect(make({ kind: 'ntc-table', rows, tolerance_K: 0.2 }).tolerance?.halfWidth_K(40)).toBe(0.2);
});
