import { describe, expect, test } from 'vitest';
import { findRoot } from './find-root.js';

describe('the root of a monotone function', () => {
  // Exact solutions.
  test('is found where it is known', () => {
    expect(
      findRoot(
        (x) => x * x - 2,
        (x) => 2 * x,
        1,
        [0.5, 3],
      ),
    ).toBeCloseTo(Math.SQRT2, 14);
    expect(
      findRoot(
        (x) => 5 - Math.exp(x),
        (x) => -Math.exp(x),
        0,
        [-10, 10],
      ),
    ).toBeCloseTo(Math.log(5), 14);
  });

  // Newton alone runs away from the arctangent when it starts beyond 1.39.
  test('is found from a guess from which Newton alone diverges', () => {
    const root = findRoot(
      (x) => Math.atan(x - 3),
      (x) => 1 / (1 + (x - 3) ** 2),
      40,
      [-50, 60],
    );
    expect(root).toBeCloseTo(3, 12);
  });

  test('is the end of the range where the range does not hold it', () => {
    expect(
      findRoot(
        (x) => x - 9,
        () => 1,
        2,
        [0, 5],
      ),
    ).toBeCloseTo(5, 10);
  });

  // Newton's law: the number of right digits doubles with each step, so few evaluations are needed from a near guess.
  test('costs five evaluations or fewer from a guess that is right to three digits', () => {
    let evaluations = 0;
    findRoot(
      (x) => {
        evaluations++;
        return x ** 3 - 10;
      },
      (x) => 3 * x * x,
      2.155,
      [1, 4],
    );
    expect(evaluations).toBeLessThanOrEqual(5);
  });
});
