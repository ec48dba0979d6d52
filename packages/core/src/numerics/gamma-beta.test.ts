import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  inverseBeta,
  inverseGammaLower,
  logGamma,
  regularizedBeta,
  regularizedGammaLower,
  regularizedGammaUpper,
} from './gamma-beta.js';

function relativeError(value: number, expected: number): number {
  return Math.abs(value / expected - 1);
}

// Computed to 30 digits with mpmath 1.3, an independent program, and rounded to doubles.
test.each([
  { argument: 1e-8, expected: 18.4206807381804 },
  { argument: 0.5, expected: 0.5723649429247001 },
  { argument: 10.3, expected: 13.482036786138357 },
  { argument: 100, expected: 359.1342053695754 },
])('ln Gamma($argument)', ({ argument, expected }) => {
  expect(relativeError(logGamma(argument), expected)).toBeLessThan(1e-13);
});

// Stated law: Gamma(n) = (n - 1)!.
test('ln Gamma of a whole number is the logarithm of a factorial', () => {
  let factorial = 1;
  for (let whole = 2; whole <= 20; whole++) {
    factorial *= whole - 1;
    expect(Math.abs(logGamma(whole) - Math.log(factorial))).toBeLessThan(1e-13);
  }
});

describe('regularised incomplete gamma function', () => {
  // [DLMF] 8.4.5 gives the closed form for shape 1: Q = e^-x.
  test.each([1e-8, 0.3, 1, 2.5, 40])('shape 1 is exponential at %d', (x) => {
    expect(relativeError(regularizedGammaLower(1, x), -Math.expm1(-x))).toBeLessThan(1e-13);
    expect(relativeError(regularizedGammaUpper(1, x), Math.exp(-x))).toBeLessThan(1e-13);
  });

  // [DLMF] 8.8.5: P(a + 1, x) = P(a, x) - x^a e^-x / Gamma(a + 1).
  test('obeys its recurrence for any shape', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 200, noNaN: true }),
        fc.double({ min: 0.01, max: 3, noNaN: true }),
        (shape, ratio) => {
          const x = shape * ratio;
          const step = Math.exp(shape * Math.log(x) - x - logGamma(shape + 1));
          const gap = regularizedGammaLower(shape, x) - regularizedGammaLower(shape + 1, x) - step;
          expect(Math.abs(gap)).toBeLessThan(1e-12);
        },
      ),
    );
  });

  test('is undone by its inverse', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 1e4, noNaN: true }),
        fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true }),
        (shape, probability) => {
          const back = regularizedGammaLower(shape, inverseGammaLower(shape, probability));
          expect(relativeError(back, probability)).toBeLessThan(1e-11);
        },
      ),
    );
  });
});

describe('regularised incomplete beta function', () => {
  // Computed with SciPy 1.17 (Boost) and to 30 digits with mpmath 1.3.
  test.each([
    { x: 0.3, alpha: 2.5, beta: 4, expected: 0.3521975859067672 },
    { x: 1e-6, alpha: 0.5, beta: 8, expected: 0.00314208251222023 },
  ])('I_$x($alpha, $beta)', ({ x, alpha, beta, expected }) => {
    expect(relativeError(regularizedBeta(x, alpha, beta), expected)).toBeLessThan(1e-12);
  });

  test('its inverse at 0.95 for (2, 5)', () => {
    expect(relativeError(inverseBeta(0.95, 2, 5), 0.5818034092520259)).toBeLessThan(1e-12);
  });

  // [DLMF] 8.17.4: I_x(a, b) = 1 - I_{1-x}(b, a); 8.17.5: a binomial sum for whole parameters.
  test('mirrors, and equals the binomial sum', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 1, max: 63 }),
        (alpha, beta, sixtyFourths) => {
          const x = sixtyFourths / 64;
          const trials = alpha + beta - 1;
          let sum = 0;
          for (let hits = alpha; hits <= trials; hits++) {
            const ways = Math.exp(logGamma(trials + 1) - logGamma(hits + 1) - logGamma(trials - hits + 1));
            sum += ways * x ** hits * (1 - x) ** (trials - hits);
          }
          expect(relativeError(regularizedBeta(x, alpha, beta), sum)).toBeLessThan(1e-11);
          expect(Math.abs(1 - regularizedBeta(1 - x, beta, alpha) - sum)).toBeLessThan(1e-12);
        },
      ),
    );
  });

  test('is undone by its inverse', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 500, noNaN: true }),
        fc.double({ min: 1, max: 500, noNaN: true }),
        fc.double({ min: 1e-6, max: 0.999, noNaN: true }),
        (alpha, beta, probability) => {
          const back = regularizedBeta(inverseBeta(probability, alpha, beta), alpha, beta);
          // Below beta = 1 the density is infinite at x = 1, where the last digit of x would decide.
          expect(relativeError(back, probability)).toBeLessThan(1e-11);
        },
      ),
    );
  });
});

test('parameters outside their range are refused by name', () => {
  expect(() => logGamma(0)).toThrow(/argument/);
  expect(() => regularizedGammaLower(-1, 2)).toThrow(/shape/);
  expect(() => regularizedBeta(0.5, Number.NaN, 1)).toThrow(/alpha/);
  expect(() => inverseBeta(95, 1, 1)).toThrow(/per cent/);
});
