import fc from 'fast-check';
import { expect, test } from 'vitest';
import { timeOfPowers } from './ageing.kernel.js';

// K sqrt(t) + M t = q is a quadratic in sqrt(t); the root by the school formula, in the form that loses no digits.
test('a loss by the root of time and by time itself reaches a fifth when the quadratic formula says', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1e-4, max: 0.5, noNaN: true }),
      fc.double({ min: 1e-5, max: 0.5, noNaN: true }),
      (root, linear) => {
        const exact = ((2 * 0.2) / (root + Math.sqrt(root * root + 4 * linear * 0.2))) ** 2;
        const found = timeOfPowers(
          0.2,
          1 / 365,
          100,
          Float64Array.of(9, root, linear),
          1,
          2,
          Float64Array.of(0.5, 1),
        );
        expect(Math.abs(found / Math.max(1 / 365, Math.min(100, exact)) - 1)).toBeLessThan(1e-12);
      },
    ),
  );
});

test('one law is answered in closed form, and what never wears out lasts to the end of the range', () => {
  const at = (factor: number) =>
    timeOfPowers(0.2, 1 / 365, 100, Float64Array.of(factor), 0, 1, Float64Array.of(0.75));
  expect(at(0.05)).toBeCloseTo(4 ** (1 / 0.75), 12);
  expect(at(0)).toBe(100);
  expect(at(1e6)).toBe(1 / 365);
});

test('a mechanism that does nothing changes nothing', () => {
  const both = timeOfPowers(0.2, 1 / 365, 100, Float64Array.of(0.1, 0), 0, 2, Float64Array.of(0.5, 1));
  expect(both).toBeCloseTo(4, 12);
});
