import { describe, expect, test } from 'vitest';
import { normalCdf, tCdf, tQuantile } from './distributions.js';
import { noncentralTCdf, tTestPower } from './noncentral-t.js';

describe('noncentral t', () => {
  // SciPy 1.17 (Boost); those with 2 to 300 degrees of freedom also by mpmath 1.3 from the definition, to 14 digits.
  test.each([
    [2, 10, 1, 0.8076115625303752],
    [2.5, 3, 4, 0.11443624696579495],
    [0.3, 1, -2, 0.9863463466532643],
    [-1.2, 5, 0.7, 0.04155975476625957],
    [4, 2, 6, 0.1275953286835506],
    [12.7, 1, 9, 0.4798929650365692],
    [2.1, 38, 3.1622776601683795, 0.14771338654815397],
    [1.97, 300, 5, 0.0012561199218017996],
  ])('cdf(%d) with %d degrees of freedom and shift %d', (value, dof, shift, expected) => {
    expect(Math.abs(noncentralTCdf(value, dof, shift) - expected)).toBeLessThan(1e-11);
  });

  test('without a shift it is t, with infinite degrees of freedom normal', () => {
    for (const value of [-3, -0.4, 0.1, 2.2]) {
      expect(noncentralTCdf(value, 4.5, 0)).toBeCloseTo(tCdf(value, 4.5), 11);
      expect(noncentralTCdf(value, Number.POSITIVE_INFINITY, 1)).toBeCloseTo(normalCdf(value - 1), 14);
    }
    expect(noncentralTCdf(0, 3, 1)).toBeCloseTo(normalCdf(-1), 14);
    expect(() => noncentralTCdf(1, 0, 1)).toThrow(/dof/);
  });
});

/** Runs per group as a fraction: where the power of the two-sample test reaches the wanted one. */
function findCount(power: number, powerOf: (count: number) => number): number {
  let [low, high] = [1.5, 100];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (powerOf(middle) < power) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

describe('power of t tests', () => {
  const twoSample = (sd: number) => (count: number) => tTestPower(Math.sqrt(count / 2) / sd, 2 * (count - 1));
  const paired = (sd: number) => (count: number) => tTestPower(Math.sqrt(count) / sd, count - 1);
  const oneSided = (count: number) =>
    tTestPower(Math.sqrt(count / 2), 2 * (count - 1), tQuantile(0.95, 2 * (count - 1)));

  // [CRAN-DOC] help page of power.t.test: its examples, printed to six or seven figures.
  test('the examples of the help page', () => {
    expect(twoSample(1)(20)).toBeCloseTo(0.868952801692, 10);
    expect(findCount(0.9, twoSample(1))).toBeCloseTo(22.0211, 4);
    expect(findCount(0.9, oneSided)).toBeCloseTo(17.84712, 4); // printed 17.84713: its search ends at 1e-4
  });

  test('a difference is as easily shown whichever way it points', () => {
    expect(tTestPower(-2.4, 7)).toBe(tTestPower(2.4, 7));
    expect(tTestPower(-2.4, 7)).toBeGreaterThan(0.5);
  });

  // SciPy 1.17, noncentral t with a root search to 1e-12; R 4.2.2 agrees to the 1e-4 at which its own search ends.
  test.each([
    [0.3, 2.780998, 3.227856],
    [0.5, 5.090001, 6.386756],
    [0.8, 11.094209, 14.480983],
    [1, 16.71476, 22.021096],
    [1.5, 36.305773, 48.26429],
  ])('runs per set-up for 1 K at a spread of %d K', (sd, at80, at90) => {
    expect(Math.abs(findCount(0.8, twoSample(sd)) - at80)).toBeLessThan(1e-6);
    expect(Math.abs(findCount(0.9, twoSample(sd)) - at90)).toBeLessThan(1e-6);
  });

  test.each([
    [0.3, 2.967007, 3.281021],
    [0.5, 4.220719, 4.912417],
    [0.8, 7.171643, 8.86634],
    [1, 9.937864, 12.585463],
    [1.5, 19.666989, 25.639879],
  ])('pairs for 1 K where differences scatter by %d K', (sd, at80, at90) => {
    expect(Math.abs(findCount(0.8, paired(sd)) - at80)).toBeLessThan(1e-6);
    expect(Math.abs(findCount(0.9, paired(sd)) - at90)).toBeLessThan(1e-6);
  });

  test.each([
    [2, 0.218004, 0.175664],
    [3, 0.462608, 0.470748],
    [4, 0.656871, 0.754984],
    [5, 0.790542, 0.908885],
    [6, 0.876418, 0.970504],
  ])('power of %d runs each at 0.5 K, apart and in pairs', (count, apart, inPairs) => {
    expect(twoSample(0.5)(count)).toBeCloseTo(apart, 6);
    expect(paired(0.5)(count)).toBeCloseTo(inPairs, 6);
  });
});
