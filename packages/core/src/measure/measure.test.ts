import { describe, expect, test } from 'vitest';
import { tQuantile } from '../numerics/index.js';
import {
  celsiusFromFahrenheit,
  effectiveDof,
  formatDurationEstimate,
  formatElapsed,
  formatEstimate,
  formatList,
  formatNumber,
  formatPercent,
} from './index.js';

describe('effective degrees of freedom', () => {
  // [JCGM-100] H.1 end gauge, Table H.1: 16.7 printed; G.4.1: 19.0 printed for three relative uncertainties.
  test('of the guide’s end gauge', () => {
    const dof = effectiveDof([
      { u: 25, dof: 18 },
      { u: 9.68194195, dof: 25.4472508 },
      { u: 2.88678731, dof: 50 },
      { u: 16.59902706, dof: 2 },
    ]);
    expect(Math.abs(dof - 16.7)).toBeLessThanOrEqual(0.06);
    expect(dof).toBeCloseTo(16.7518557, 6);
  });

  test('of the guide’s product of three means', () => {
    const dof = effectiveDof([
      { u: 0.25, dof: 9 },
      { u: 0.57, dof: 4 },
      { u: 0.82, dof: 14 },
    ]);
    expect(Math.abs(dof - 19)).toBeLessThanOrEqual(0.05);
  });

  // The expanded uncertainties that the guide prints beside them, 93 nm at 99 % and 2.2 % at 95 %: its own rule cuts the degrees of
  // freedom down to a whole number, and it multiplies the rounded 32 nm. Both sums are those of the parts above.
  test('give the coverage factors that the guide prints', () => {
    expect(tQuantile(0.995, 16)).toBeCloseTo(2.92, 2);
    expect(Math.abs(tQuantile(0.995, 16) * 32 - 93)).toBeLessThanOrEqual(0.5);
    expect(Math.abs(Math.hypot(25, 9.68194195, 2.88678731, 16.59902706) - 32)).toBeLessThanOrEqual(0.5);
    const third = Math.hypot(0.25, 0.57, 0.82);
    expect(Math.abs(third - 1.03)).toBeLessThanOrEqual(5e-3);
    expect(Math.abs(tQuantile(0.975, 19) * third - 2.2)).toBeLessThanOrEqual(0.05);
  });

  test('are endless where every part is known exactly', () => {
    expect(effectiveDof([{ u: 1, dof: null }])).toBe(Number.POSITIVE_INFINITY);
  });
});

// [NIST-SP811] appendix B.9: 212 °F is 100 °C, -40 is the same on both.
test.each([
  { f: 212, c: 100 },
  { f: 32, c: 0 },
  { f: -40, c: -40 },
])('$f °F is $c °C', ({ f, c }) => expect(celsiusFromFahrenheit(f)).toBeCloseTo(c, 12));

describe('numbers in words', () => {
  test('show digits no finer than their doubt', () => {
    expect(formatEstimate({ value: 52.914, u: 0.41 }, '°C')).toBe('52.9 ± 0.4 °C');
    expect(formatEstimate({ value: -0.123, u: 0.034 }, 'K')).toBe('−0.12 ± 0.03 K');
    expect(formatEstimate({ value: 21, u: 3.2 }, 'K')).toBe('21 ± 3 K');
  });

  test('never show a doubt of zero', () => {
    expect(formatEstimate({ value: 1, u: 0.001 }, 'K')).toBe('1.00 ± under 0.01 K');
  });

  test('carry a true minus, and none at zero', () => {
    expect(formatNumber(-9.6)).toBe('−9.6');
    expect(formatNumber(-0.01)).toBe('0.0');
    expect(formatNumber(Number.NaN)).toBe('not known');
  });

  test('tell time, shares and lists', () => {
    expect(formatElapsed(3 * 3600 + 59)).toBe('3:01');
    expect(formatDurationEstimate(1500, 36)).toBe('25.0 ± 0.6 min');
    expect(formatDurationEstimate(1620, 17)).toBe('27.0 ± 0.3 min');
    expect(formatDurationEstimate(6480, 360)).toBe('1.8 ± 0.1 h');
    expect(formatDurationEstimate(45, 3)).toBe('45 ± 3 s');
    expect(formatPercent(0.004)).toBe('< 1 %');
    expect(formatPercent(0.964)).toBe('96 %');
    expect(formatList(['bare', 'film', 'plate'])).toBe('bare, film and plate');
  });
});
