import { describe, expect, test } from 'vitest';
import { solveWeighted, solveWithCovariance } from './least-squares.js';

// [NIST-STRD] Norris, linear regression, certified to fifteen digits.
describe('the straight line of Norris', () => {
  const x = [
    0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, 775.5, 666.9, 338,
    447.5, 11.6, 556, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2,
    669.1, 448.9, 0.5,
  ];
  const y = [
    0.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3,
    448.9, 10.8, 557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6,
    228.9, 668.4, 449.2, 0.2,
  ];
  const columns = [new Float64Array(36).fill(1), Float64Array.from(x)];
  const relative = (value: number | undefined, certified: number) =>
    Math.abs((value ?? Number.NaN) / certified - 1);

  test('parameters, their standard deviations and the residual one', () => {
    const fit = solveWithCovariance(columns, Float64Array.from(y));
    if (fit === null) throw new Error('no fit');
    expect(relative(fit.x[0], -0.262323073774029)).toBeLessThan(1e-10);
    expect(relative(fit.x[1], 1.00211681802045)).toBeLessThan(1e-12);
    const residual = Math.sqrt(fit.rss / 34);
    expect(relative(residual, 0.884796396144373)).toBeLessThan(1e-12);
    expect(relative(residual * Math.sqrt(fit.unscaled[0] ?? 0), 0.232818234301152)).toBeLessThan(1e-10);
    expect(relative(residual * Math.sqrt(fit.unscaled[3] ?? 0), 0.000429796848199937)).toBeLessThan(1e-10);
  });

  test('equal weights change nothing but the scale', () => {
    const fit = solveWeighted(columns, Float64Array.from(y), new Float64Array(36).fill(4));
    expect(relative(fit?.x[1], 1.00211681802045)).toBeLessThan(1e-12);
    expect(relative(fit?.rss, 4 * 34 * 0.884796396144373 ** 2)).toBeLessThan(1e-11);
  });
});
