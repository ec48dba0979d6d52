import { describe, expect, test } from 'vitest';
import type { SensorFacts } from '../../records/index.js';
import { platinum } from './platinum.js';
import type { Sensor } from './sensor.js';

type Facts = Extract<SensorFacts, { kind: 'platinum' }>;

function make(facts: Omit<Facts, 'kind'>): Sensor {
  const made = platinum.make({ kind: 'platinum', ...facts } as Facts);
  if (!made.ok) throw new Error(made.reason.what);
  return made.value;
}
const pt100 = make({ element: 'Pt100' });
function tempOf_C(sensor: Sensor, signal_ohm: number): number {
  const answer = sensor.temperature_C(signal_ohm);
  return answer.ok ? answer.value : Number.NaN;
}

describe('a platinum resistor', () => {
  // [IEC-60751] table of Pt100, printed to 0.01 ohm, the tolerance half of that; the fine value and the temperature that the
  // printed resistance stands for were computed outside the project with 40 digits (mpmath 1.3).
  test.each([
    { at_C: -200, printed_ohm: 18.52, fine_ohm: 18.52008, back_C: -200.000185 },
    { at_C: -100, printed_ohm: 60.26, fine_ohm: 60.25584, back_C: -99.98973618 },
    { at_C: -40, printed_ohm: 84.27, fine_ohm: 84.270652032 },
    { at_C: -20, printed_ohm: 92.16, fine_ohm: 92.159898432, back_C: -19.99974169 },
    { at_C: 0, printed_ohm: 100, fine_ohm: 100, back_C: 0 },
    { at_C: 20, printed_ohm: 107.79, fine_ohm: 107.7935, back_C: 19.99099147 },
    { at_C: 40, printed_ohm: 115.54, fine_ohm: 115.5408 },
    { at_C: 60, printed_ohm: 123.24, fine_ohm: 123.2419 },
    { at_C: 80, printed_ohm: 130.9, fine_ohm: 130.8968 },
    { at_C: 100, printed_ohm: 138.51, fine_ohm: 138.5055 },
    { at_C: 150, printed_ohm: 157.33, fine_ohm: 157.325125 },
    { at_C: 200, printed_ohm: 175.86, fine_ohm: 175.856, back_C: 200.0108776 },
  ])('has the printed $printed_ohm ohm at $at_C °C', ({ at_C, printed_ohm, fine_ohm, back_C }) => {
    expect(Math.abs(pt100.signalAt(at_C) - printed_ohm)).toBeLessThanOrEqual(0.005);
    expect(pt100.signalAt(at_C)).toBeCloseTo(fine_ohm, 8);
    expect(make({ element: 'Pt1000' }).signalAt(at_C)).toBeCloseTo(10 * fine_ohm, 7);
    if (back_C !== undefined) expect(tempOf_C(pt100, printed_ohm)).toBeCloseTo(back_C, 6);
  });

  // Below 0 °C the quadratic alone would make −202.4247 °C of 18.52 ohm.
  test('is not inverted by the quadratic below 0 °C', () => {
    expect(Math.abs(tempOf_C(pt100, 18.52) - -202.4247)).toBeGreaterThan(2.4);
  });

  // [IEC-60751] the relation itself, solved outside with 40 digits: 1 ohm of leads at 40 °C.
  test('reads high through two wires unless their resistance is stated', () => {
    const pt1000 = make({ element: 'Pt1000' });
    expect(tempOf_C(pt100, pt100.signalAt(40) + 1) - 40).toBeCloseTo(2.590268178, 8);
    expect(tempOf_C(pt1000, pt1000.signalAt(40) + 1) - 40).toBeCloseTo(0.2589365165, 8);
    const wired = make({ element: 'Pt100', lead_ohm: 1 });
    expect(tempOf_C(wired, pt100.signalAt(40) + 1)).toBeCloseTo(40, 10);
  });

  test.each([Number.NaN, 0, 18.4, 391, 1e9])('refuses %d ohm', (signal) => {
    expect(pt100.temperature_C(signal)).toMatchObject({ ok: false, reason: { kind: 'out-of-range' } });
  });

  // [IEC-60751] class A at 100 °C is printed as 0.35 K, class B as 0.80 K; the others by hand from ± (a + b |t|).
  test.each([
    { class: 'AA', at_C: 100, half_K: 0.27 },
    { class: 'A', at_C: 100, half_K: 0.35 },
    { class: 'B', at_C: 100, half_K: 0.8 },
    { class: 'B', at_C: -40, half_K: 0.5 },
    { class: 'C', at_C: 60, half_K: 1.2 },
  ] as const)('class $class allows $half_K K at $at_C °C', ({ class: stated, at_C, half_K }) => {
    const { tolerance } = make({ element: 'Pt100', class: stated });
    expect(tolerance?.halfWidth_K(at_C)).toBeCloseTo(half_K, 12);
  });

  test('without a stated class is taken for class B, and says so', () => {
    expect(pt100.tolerance).toMatchObject({ words: 'class B', isAssumed: true });
  });
});
