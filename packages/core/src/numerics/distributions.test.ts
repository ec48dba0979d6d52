import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  chiSquareCdf,
  chiSquareQuantile,
  chiSquareUpperTail,
  fCdf,
  fQuantile,
  fUpperTail,
  normalCdf,
  normalPdf,
  normalQuantile,
  tCdf,
  tQuantile,
} from './distributions.js';

// Expected values without another note: SciPy 1.17 (Boost) or mpmath 1.3 to 30 digits, independent programs.
const closeEnough = 1e-12;
const infinite = Number.POSITIVE_INFINITY;
const someProbability = fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true });
const someDof = fc.oneof(
  fc.double({ min: 0.3, max: 60, noNaN: true }),
  fc.double({ min: 60, max: 1e7, noNaN: true }),
);

function relativeError(value: number, expected: number): number {
  return Math.abs(value / expected - 1);
}

describe('normal', () => {
  test.each([
    [1e-10, -6.361340902404056],
    [0.001, -3.090232306167813],
    [0.975, 1.959963984540054],
  ])('quantile of %d', (probability, expected) => {
    expect(relativeError(normalQuantile(probability), expected)).toBeLessThan(closeEnough);
  });

  test.each([
    [-30, 4.906713927148187e-198],
    [-10, 7.619853024160525e-24],
    [-5, 2.866515718791939e-7],
    [-0.3, 0.3820885778110474],
    [3, 0.9986501019683699],
  ])('cdf of %d', (value, expected) => {
    expect(relativeError(normalCdf(value), expected)).toBeLessThan(closeEnough);
  });

  // The density is the derivative of the cdf; a central difference with step h errs by about h²/6 of its curvature.
  test('density is the slope of the cdf', () => {
    fc.assert(
      fc.property(fc.double({ min: -6, max: 6, noNaN: true }), (value) => {
        const slope = (normalCdf(value + 1e-4) - normalCdf(value - 1e-4)) / 2e-4;
        expect(Math.abs(slope - normalPdf(value))).toBeLessThan(1e-8);
      }),
    );
  });
});

describe('Student t', () => {
  test.each([
    [1, 6.313751514675037, 12.706204736174694, 63.656741162871526],
    [2, 2.9199855803537242, 4.302652729749462, 9.924843200918287],
    [3, 2.3533634348018233, 3.1824463052837078, 5.840909309733355],
    [4, 2.1318467863266495, 2.7764451051977934, 4.604094871349992],
    [7.5, 1.8757474792112878, 2.333039626864974, 3.421422688124044],
    [17.7764735162, 1.735245653785073, 2.1028172415696176, 2.8826508233220705],
    [120, 1.6576508993552352, 1.9799304050824402, 2.6174211451068654],
  ])('quantiles at 0.95, 0.975, 0.995 with %d degrees of freedom', (dof, ...expected) => {
    [0.95, 0.975, 0.995].forEach((probability, index) => {
      expect(relativeError(tQuantile(probability, dof), expected[index] ?? Number.NaN)).toBeLessThan(
        closeEnough,
      );
    });
  });

  // [JCGM-100] Table G.2, extract from memory, printed to two decimals (three for infinity); tolerance half of the last.
  test.each([
    [1, 1.84, 6.31, 12.71, 13.97, 63.66, 235.78],
    [2, 1.32, 2.92, 4.3, 4.53, 9.92, 19.21],
    [3, 1.2, 2.35, 3.18, 3.31, 5.84, 9.22],
    [4, 1.14, 2.13, 2.78, 2.87, 4.6, 6.62],
    [5, 1.11, 2.02, 2.57, 2.65, 4.03, 5.51],
    [7, 1.08, 1.89, 2.36, 2.43, 3.5, 4.53],
    [10, 1.05, 1.81, 2.23, 2.28, 3.17, 3.96],
    [20, 1.03, 1.72, 2.09, 2.13, 2.85, 3.42],
    [50, 1.01, 1.68, 2.01, 2.05, 2.68, 3.16],
    [infinite, 1.0, 1.645, 1.96, 2.0, 2.576, 3.0],
  ])('coverage factors for %d degrees of freedom', (dof, ...printed) => {
    [0.6827, 0.9, 0.95, 0.9545, 0.99, 0.9973].forEach((coverage, index) => {
      const factor = tQuantile((1 + coverage) / 2, dof);
      const half = dof === infinite ? 0.0005 : 0.005;
      expect(Math.abs(factor - (printed[index] ?? Number.NaN))).toBeLessThanOrEqual(half);
    });
  });

  test.each([
    [2, 3, 0.9303370157205785],
    [-40, 5, 9.205981085886477e-8],
    [1.5, 0.5, 0.7460491046759459],
    [-40, 120, 1.5668241993082683e-71],
  ])('cdf of %d with %d degrees of freedom', (value, dof, expected) => {
    expect(relativeError(tCdf(value, dof), expected)).toBeLessThan(closeEnough);
  });

  // Exact: with one degree of freedom t is Cauchy; with two, p(1 - p) = 1 / (8 + 4 t²).
  test('agrees with the closed forms for one and two degrees of freedom', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 0.49, noNaN: true }), (probability) => {
        const cauchy = -1 / Math.tan(Math.PI * probability);
        const two = (2 * probability - 1) / Math.sqrt(2 * probability * (1 - probability));
        expect(relativeError(tQuantile(probability, 1), cauchy)).toBeLessThan(closeEnough);
        expect(relativeError(tQuantile(probability, 2), two)).toBeLessThan(closeEnough);
      }),
    );
  });

  // [ABRAMOWITZ-STEGUN] 26.7.5: t = z + (z³ + z) / (4 n) + (5 z^5 + 16 z³ + 3 z) / (96 n²) + ...
  test.each([1e5, 1e7, 1e10, 1e12])('approaches the normal as it must with %d degrees of freedom', (dof) => {
    const z = normalQuantile(0.975);
    const expected = z + (z ** 3 + z) / (4 * dof) + (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * dof ** 2);
    expect(relativeError(tQuantile(0.975, dof), expected)).toBeLessThan(closeEnough);
  });

  test('cdf undoes the quantile, and is odd about one half', () => {
    fc.assert(
      fc.property(someProbability, someDof, (probability, dof) => {
        const value = tQuantile(probability, dof);
        expect(relativeError(tCdf(value, dof), probability)).toBeLessThan(1e-11);
        expect(Math.abs(tCdf(-value, dof) + tCdf(value, dof) - 1)).toBeLessThan(1e-14);
      }),
    );
  });

  test('more degrees of freedom narrow an interval', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.6, max: 0.9999, noNaN: true }), someDof, (probability, dof) => {
        expect(tQuantile(probability, dof * 1.1)).toBeLessThan(tQuantile(probability, dof));
        expect(tQuantile(probability, dof)).toBeGreaterThan(tQuantile(probability, infinite));
      }),
    );
  });
});

describe('chi-square', () => {
  test.each([
    [1, 0.0009820691171752555, 0.454936423119572, 3.841458820694124, 5.023886187314888],
    [2, 0.05063561596857975, 1.386294361119891, 5.991464547107979, 7.377758908227871],
    [5, 0.8312116134866625, 4.351460191095526, 11.070497693516351, 12.832501994030027],
    [10, 3.2469727802368413, 9.34181776559197, 18.307038053275146, 20.483177350807388],
    [12, 4.4037885069817015, 11.34032237742414, 21.02606981748307, 23.33666415864534],
    [30, 16.79077226556663, 29.336031516661585, 43.77297182574218, 46.97924224367115],
    [100, 74.22192747492373, 99.33412923598846, 124.34211340400407, 129.5611971858366],
  ])('quantiles at 0.025, 0.5, 0.95, 0.975 with %d degrees of freedom', (dof, ...expected) => {
    [0.025, 0.5, 0.95, 0.975].forEach((probability, index) => {
      const value = chiSquareQuantile(probability, dof);
      expect(relativeError(value, expected[index] ?? Number.NaN)).toBeLessThan(closeEnough);
    });
  });

  test('keeps the digits of a far tail', () => {
    expect(relativeError(chiSquareUpperTail(152.233008082, 12), 1.9967645911945116e-26)).toBeLessThan(
      closeEnough,
    );
  });

  test('cdf undoes the quantile', () => {
    fc.assert(
      fc.property(someProbability, someDof, (probability, dof) => {
        expect(
          relativeError(chiSquareCdf(chiSquareQuantile(probability, dof), dof), probability),
        ).toBeLessThan(2e-11);
      }),
    );
  });
});

describe('F', () => {
  test.each([
    [1, 1, 161.4476387975882, 4052.1806954768217],
    [2, 10, 4.1028210151304, 7.559432157547899],
    [3, 20, 3.098391212140781, 4.938193382310538],
    [5, 29.95, 2.5341260572469317, 3.700291195958371],
    [10, 3, 8.785524710524003, 27.228734121474282],
  ])('quantiles at 0.95 and 0.99 with %d and %d degrees of freedom', (dofAbove, dofBelow, first, second) => {
    expect(relativeError(fQuantile(0.95, dofAbove, dofBelow), first)).toBeLessThan(closeEnough);
    expect(relativeError(fQuantile(0.99, dofAbove, dofBelow), second)).toBeLessThan(closeEnough);
  });

  // R 4.2.2: analysis of variance of its data set chickwts (six feeds), F and p as R prints them.
  test('keeps the digits of a small p-value', () => {
    expect(relativeError(fUpperTail(15.3647997747, 5, 65), 5.93641985347e-10)).toBeLessThan(1e-8);
  });

  // Stated law: t² with n degrees of freedom is F with 1 and n.
  test('is the square of t', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.9999, noNaN: true }), someDof, (probability, dof) => {
        const squared = tQuantile((1 + probability) / 2, dof) ** 2;
        expect(relativeError(fQuantile(probability, 1, dof), squared)).toBeLessThan(1e-11);
      }),
    );
  });

  test('becomes chi-square over its degrees of freedom when one of them is infinite', () => {
    expect(relativeError(fQuantile(0.95, 4, infinite), chiSquareQuantile(0.95, 4) / 4)).toBeLessThan(
      closeEnough,
    );
    expect(relativeError(fQuantile(0.95, infinite, 4), 4 / chiSquareQuantile(0.05, 4))).toBeLessThan(
      closeEnough,
    );
    expect(relativeError(fQuantile(0.95, 4, 1e12), fQuantile(0.95, 4, infinite))).toBeLessThan(1e-10);
    expect(relativeError(fQuantile(0.95, 1e12, 4), fQuantile(0.95, infinite, 4))).toBeLessThan(1e-10);
    expect(relativeError(fCdf(1.7, infinite, 5), 0.7090543867470164)).toBeLessThan(closeEnough);
    expect(relativeError(fUpperTail(1.7, infinite, 5), 0.2909456132529836)).toBeLessThan(closeEnough);
    expect(relativeError(fCdf(1.7, 5, infinite), chiSquareCdf(8.5, 5))).toBeLessThan(closeEnough);
    expect(fQuantile(0.95, infinite, infinite)).toBe(1);
  });

  test('cdf undoes the quantile, and the tails add up', () => {
    fc.assert(
      fc.property(someProbability, someDof, someDof, (probability, dofAbove, dofBelow) => {
        const value = fQuantile(probability, dofAbove, dofBelow);
        const below = fCdf(value, dofAbove, dofBelow);
        // With millions on both sides F stands so near 1 that its last digit moves the probability by 1e-12.
        expect(relativeError(below, probability)).toBeLessThan(1e-10);
        expect(Math.abs(below + fUpperTail(value, dofAbove, dofBelow) - 1)).toBeLessThan(1e-13);
      }),
    );
  });
});

test('ends and faults', () => {
  expect(tQuantile(0, 3)).toBe(-infinite);
  expect(tQuantile(1, 3)).toBe(infinite);
  expect(tQuantile(0.5, 3)).toBe(0);
  expect(chiSquareCdf(-1, 3)).toBe(0);
  expect(fCdf(infinite, 2, 3)).toBe(1);
  expect(() => tQuantile(97.5, 3)).toThrow(/per cent/);
  expect(() => tQuantile(0.975, 0)).toThrow(/dof/);
  expect(() => tCdf(Number.NaN, 3)).toThrow(/value/);
  expect(() => chiSquareQuantile(0.5, infinite)).toThrow(/dof/);
  expect(() => fCdf(1, -1, 3)).toThrow(/dofAbove/);
});
