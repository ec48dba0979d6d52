import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normalCdf, normalPdf, tCdf, tQuantile } from './distributions.js';
import { logGamma } from './gamma-beta.js';
import { gaussLegendre, integrateOver } from './quadrature.js';
import {
  dunnettCdf,
  dunnettQuantile,
  studentizedRangeCdf,
  studentizedRangeQuantile,
} from './simultaneous.js';

const infinite = Number.POSITIVE_INFINITY;
const someDof = fc.double({ min: 1, max: 300, noNaN: true });
const someProbability = fc.double({ min: 0.01, max: 0.999, noNaN: true });
const someLoadings = fc.array(fc.double({ min: -0.95, max: 0.95, noNaN: true }), {
  minLength: 1,
  maxLength: 5,
});
/** Properties that integrate at every trial keep to a number that takes about a second. */
const fewer = { numRuns: 40 };

function equalLoadings(count: number): number[] {
  return new Array<number>(count).fill(Math.SQRT1_2);
}

/** Another way to average over the estimated standard deviation: Gauss-Legendre panels in s itself. */
function averageOverScale(dof: number, level: (scale: number) => number): number {
  const rule = gaussLegendre(40);
  const logConstant = Math.log(2) + (dof / 2) * Math.log(dof / 2) - logGamma(dof / 2);
  const weighted = (scale: number) =>
    Math.exp(logConstant + (dof - 1) * Math.log(scale) - (dof * scale * scale) / 2) * level(scale);
  const width = 9 / Math.sqrt(2 * dof);
  const from = Math.max(0, 1 - width);
  return integrateOver(from, 1, rule, weighted) + integrateOver(1, 1 + width, rule, weighted);
}

describe('studentized range', () => {
  // SciPy's reference file for this distribution, made with arbitrary precision arithmetic, stated to 1e-11.
  test.each([
    [0.1, 3, 10, 0.0027520560662338336],
    [1, 3, 3, 0.22331624289542043],
    [1, 3, 10, 0.23510918942128056],
    [1, 10, 20, 0.0008732969319364606],
    [4, 3, 3, 0.8711786295203324],
    [4, 3, 10, 0.9566506502400175],
    [4, 10, 10, 0.7573606942645745],
    [4, 20, 20, 0.5970517763141937],
    [10, 3, 10, 0.999908236635449],
    [10, 3, 20, 0.9999978467928313],
  ])('cdf(%d) of %d groups with %d degrees of freedom', (point, groups, dof, expected) => {
    expect(Math.abs(studentizedRangeCdf(point, groups, dof) - expected)).toBeLessThan(1e-11);
  });

  // SciPy 1.17, seven decimals. R 4.2.2 agrees to 1e-6 from five degrees of freedom on, but its search stops early at
  // two and three (6.0796 for two groups, where sqrt 2 times the t quantile is 6.0849). Classical tables print
  // 3.88 for (3, 10), 4.20 for (4, 12), 4.23 for (5, 20), 3.31 for (3, infinity): from memory.
  test.each([
    [2, 6.0848698, 8.3307826, 9.798045, 10.8811135, 11.7342969],
    [3, 4.5006587, 5.9095985, 6.8245265, 7.5016721, 8.0370845],
    [5, 3.6353517, 4.6017261, 5.2183249, 5.6731244, 6.0329027],
    [10, 3.1510642, 3.8767768, 4.3265821, 4.654293, 4.9120157],
    [12, 3.0813067, 3.772929, 4.1986602, 4.5077099, 4.7502314],
    [20, 2.9499978, 3.5779347, 3.9582936, 4.2318567, 4.4452367],
    [30, 2.8882094, 3.4864201, 3.8454014, 4.102079, 4.3014638],
    [60, 2.8288483, 3.3986612, 3.7370892, 3.9774182, 4.1631608],
    [infinite, 2.7718076, 3.3144932, 3.6331596, 3.8576555, 4.0300921],
  ])('upper 0.05 points of 2 to 6 groups with %d degrees of freedom', (dof, ...expected) => {
    expected.forEach((point, index) => {
      expect(Math.abs(studentizedRangeQuantile(0.95, index + 2, dof) - point)).toBeLessThan(1e-7);
    });
  });

  // SciPy 1.17 and R 4.2.2 agree on these.
  test.each([
    [5, 5.702311, 6.975737, 7.804156, 8.421491, 8.913107],
    [10, 4.482028, 5.270162, 5.768591, 6.136093, 6.427536],
    [20, 4.023918, 4.63922, 5.018016, 5.293253, 5.509542],
  ])('upper 0.01 points of 2 to 6 groups with %d degrees of freedom', (dof, ...expected) => {
    expected.forEach((point, index) => {
      expect(Math.abs(studentizedRangeQuantile(0.99, index + 2, dof) - point)).toBeLessThan(1e-6);
    });
  });

  // R 4.2.2: TukeyHSD on its data set PlantGrowth (t, p adj), and Games-Howell with fractional degrees of freedom on
  // PlantGrowth and InsectSprays (rstatix 0.7.2).
  test.each([
    [1.33079080308, 3, 27, 0.3908711442],
    [1.77199637933, 3, 27, 0.1979959913],
    [3.10278718241, 3, 27, 0.012006424],
    [1.19126038185, 3, 16.5235850569, 0.474554922],
    [2.13402045312, 3, 16.7857644826, 0.112889177],
    [3.07821536545, 6, 20.8718543039, 0.0556677695],
  ])('p-value of |t| = %d among %d groups, %d degrees of freedom', (size, groups, dof, expected) => {
    expect(Math.abs(1 - studentizedRangeCdf(Math.SQRT2 * size, groups, dof) - expected)).toBeLessThan(1e-6);
  });

  // Exact: the range of two is sqrt 2 times the size of a t variable.
  test('of two groups is t', () => {
    fc.assert(
      fc.property(someProbability, fc.oneof(someDof, fc.constant(infinite)), (probability, dof) => {
        const fromT = Math.SQRT2 * tQuantile((1 + probability) / 2, dof);
        expect(Math.abs(studentizedRangeQuantile(probability, 2, dof) / fromT - 1)).toBeLessThan(1e-9);
      }),
      fewer,
    );
  });

  // Derived from the definition, by another quadrature: P(range of k < w) = k int phi(z) [Phi(z) - Phi(z - w)]^(k-1) dz.
  test.each([
    [2.1, 3, 4.7],
    [3.4, 5, 9.3],
    [5.2, 12, 31.6],
    [6.5, 100, 80],
  ])('at %d with %d groups equals a Gauss-Legendre integral', (point, groups, dof) => {
    const rule = gaussLegendre(160);
    const level = (w: number) =>
      groups *
      integrateOver(-8.5, 8.5, rule, (z) => normalPdf(z) * (normalCdf(z) - normalCdf(z - w)) ** (groups - 1));
    const expected = averageOverScale(dof, (scale) => level(point * scale));
    expect(Math.abs(studentizedRangeCdf(point, groups, dof) - expected)).toBeLessThan(1e-9);
  });

  test('cdf undoes the quantile; more groups move it up', () => {
    fc.assert(
      fc.property(someProbability, fc.integer({ min: 2, max: 30 }), someDof, (probability, groups, dof) => {
        const point = studentizedRangeQuantile(probability, groups, dof);
        expect(Math.abs(studentizedRangeCdf(point, groups, dof) - probability)).toBeLessThan(1e-11);
        expect(studentizedRangeCdf(point * 1.01, groups, dof)).toBeGreaterThan(probability);
        expect(studentizedRangeCdf(point, groups + 1, dof)).toBeLessThan(probability);
      }),
      fewer,
    );
  });
});

describe('comparisons with one control', () => {
  // Recomputed by a double integral, five decimals; the two-decimal tables of [DUNNETT-1955] and [DUNNETT-1964] agree, from memory.
  test.each([
    [5, 2.57058, 3.03024, 3.29315, 3.47589, 3.61512, 3.72711],
    [10, 2.22814, 2.56834, 2.759, 2.89048, 2.99029, 3.07043],
    [12, 2.17881, 2.50237, 2.68287, 2.80708, 2.90126, 2.97681],
    [20, 2.08596, 2.37869, 2.54035, 2.65103, 2.73468, 2.80164],
    [30, 2.04227, 2.32075, 2.47369, 2.5781, 2.65685, 2.71982],
    [60, 2.0003, 2.26527, 2.40994, 2.50839, 2.5825, 2.64165],
    [infinite, 1.95996, 2.21213, 2.34897, 2.44177, 2.51146, 2.567],
  ])('two-sided 0.05 points of 1 to 6 with %d degrees of freedom', (dof, ...expected) => {
    expected.forEach((point, index) => {
      expect(Math.abs(dunnettQuantile(0.95, equalLoadings(index + 1), dof) - point)).toBeLessThan(6e-6);
    });
  });

  test.each([
    [10, 3.16927, 3.5313, 3.73868, 3.88344],
    [20, 2.84534, 3.1267, 3.28541, 3.39538],
  ])('two-sided 0.01 points of 1 to 4 with %d degrees of freedom', (dof, ...expected) => {
    expected.forEach((point, index) => {
      expect(Math.abs(dunnettQuantile(0.99, equalLoadings(index + 1), dof) - point)).toBeLessThan(6e-6);
    });
  });

  test.each([
    [5, 2.01505, 2.44038, 2.68142, 2.84845],
    [10, 1.81246, 2.15061, 2.33756, 2.46557],
    [12, 1.78229, 2.10806, 2.28734, 2.40983],
    [20, 1.72472, 2.02732, 2.19228, 2.30443],
    [30, 1.69726, 1.98903, 2.1473, 2.25461],
    [60, 1.67065, 1.95205, 2.10392, 2.2066],
    [infinite, 1.64485, 1.91633, 2.06208, 2.16033],
  ])('one-sided 0.05 points of 1 to 4 with %d degrees of freedom', (dof, ...expected) => {
    expected.forEach((point, index) => {
      const computed = dunnettQuantile(0.95, equalLoadings(index + 1), dof, { sides: 1 });
      expect(Math.abs(computed - point)).toBeLessThan(6e-6);
    });
  });

  // [DUNNETT-1955] blood counts: 6 controls, 4 and 5 treated, 12 degrees of freedom. The p-values documented by SciPy
  // (0.62004941, 0.0058847) come from a quasi-random routine; the longer ones from the exact double integral.
  describe('blood counts, unequal numbers', () => {
    const loadings = [Math.sqrt(4 / 10), Math.sqrt(5 / 11)];
    test.each([
      { t: 0.857032125934, documented: 0.62004941, two: 0.62010198, one: 0.324977611 },
      { t: 3.69375231124, documented: 0.0058847, two: 0.00582536085, one: 0.00291388304 },
    ])('p-values of t = $t', ({ t, documented, two, one }) => {
      const twoSided = 1 - dunnettCdf(t, loadings, 12);
      expect(Math.abs(twoSided - documented)).toBeLessThan(1e-4);
      expect(Math.abs(twoSided - two)).toBeLessThan(1e-9);
      expect(Math.abs(1 - dunnettCdf(t, loadings, 12, { sides: 1 }) - one)).toBeLessThan(1e-9);
    });

    test('5 % point', () => {
      expect(Math.abs(dunnettQuantile(0.95, loadings, 12) - 2.5134829036)).toBeLessThan(1e-9);
    });
  });

  // R 4.2.2 (multcomp 1.4-22) on PlantGrowth, with its wandering fourth digit replaced by the double integral.
  test('plant growth, equal numbers', () => {
    expect(Math.abs(dunnettQuantile(0.95, equalLoadings(2), 27) - 2.33341155)).toBeLessThan(1e-8);
    expect(Math.abs(1 - dunnettCdf(1.3307908031, equalLoadings(2), 27) - 0.322695685)).toBeLessThan(1e-8);
    expect(Math.abs(1 - dunnettCdf(1.77199637933, equalLoadings(2), 27) - 0.153485861)).toBeLessThan(1e-8);
  });

  // Exact: one comparison is a t test, whatever its loading.
  test('a single one is t', () => {
    fc.assert(
      fc.property(
        someProbability,
        fc.oneof(someDof, fc.constant(infinite)),
        fc.double({ min: -0.99, max: 0.99, noNaN: true }),
        (probability, dof, loading) => {
          const two = dunnettQuantile(probability, [loading], dof);
          expect(Math.abs(two / tQuantile((1 + probability) / 2, dof) - 1)).toBeLessThan(1e-9);
          const one = dunnettQuantile(probability, [loading], dof, { sides: 1 });
          expect(Math.abs(one - tQuantile(probability, dof))).toBeLessThan(1e-9 * (1 + Math.abs(one)));
        },
      ),
      fewer,
    );
  });

  // Exact: without correlation and with a known standard deviation the probabilities multiply.
  test('independent ones multiply', () => {
    for (const point of [0.3, 1, 2.2, 4]) {
      const inside = normalCdf(point) - normalCdf(-point);
      expect(Math.abs(dunnettCdf(point, [0, 0, 0], infinite) - inside ** 3)).toBeLessThan(1e-12);
      expect(
        Math.abs(dunnettCdf(-point, [0, 0], infinite, { sides: 1 }) - normalCdf(-point) ** 2),
      ).toBeLessThan(1e-12);
    }
  });

  // [SHEPPARD-1899]: both of two normals with correlation rho are below 0 with probability 1/4 + asin(rho) / (2 pi).
  test.each([
    [0.3, 0.8],
    [0.9, -0.5],
    [0.98, 0.98],
  ])('loadings %d and %d at zero follow the arcsine law', (first, second) => {
    const expected = 0.25 + Math.asin(first * second) / (2 * Math.PI);
    expect(Math.abs(dunnettCdf(0, [first, second], 7, { sides: 1 }) - expected)).toBeLessThan(1e-11);
  });

  // Derived from the definition, by another quadrature.
  test.each([
    [2.1, [0.3, 0.8], 4.7],
    [2.8, [0.1, 0.5, 0.6, 0.9], 9.3],
    [1.4, [0.7, -0.6, 0.5], 31.6],
  ])('at %d with loadings %j equals a Gauss-Legendre integral', (point, loadings, dof) => {
    const rule = gaussLegendre(120);
    for (const sides of [1, 2] as const) {
      const level = (w: number) =>
        integrateOver(-8.5, 8.5, rule, (z) =>
          loadings.reduce((product, loading) => {
            const spread = Math.sqrt(1 - loading * loading);
            const under = sides === 2 ? normalCdf((-w - loading * z) / spread) : 0;
            return product * (normalCdf((w - loading * z) / spread) - under);
          }, normalPdf(z)),
        );
      const expected = averageOverScale(dof, (scale) => level(point * scale));
      expect(Math.abs(dunnettCdf(point, loadings, dof, { sides }) - expected)).toBeLessThan(1e-9);
    }
  });

  // Bounds that hold for every correlation: one comparison from below, Bonferroni from above ([DUNNETT-1955] uses both).
  test('cdf undoes the quantile, between a single comparison and Bonferroni', () => {
    fc.assert(
      fc.property(
        someProbability,
        someLoadings,
        someDof,
        fc.constantFrom(1, 2),
        (probability, loadings, dof, sides) => {
          const options = { sides: sides === 1 ? 1 : 2 } as const;
          const point = dunnettQuantile(probability, loadings, dof, options);
          expect(Math.abs(dunnettCdf(point, loadings, dof, options) - probability)).toBeLessThan(1e-11);
          expect(dunnettCdf(point + 0.01, loadings, dof, options)).toBeGreaterThan(probability);
          const alone = 1 - options.sides * (1 - tCdf(point, dof));
          expect(alone).toBeGreaterThan(probability - 1e-11);
          expect(1 - loadings.length * (1 - alone)).toBeLessThan(probability + 1e-11);
        },
      ),
      fewer,
    );
  });
});

test('ends and faults', () => {
  expect(studentizedRangeCdf(-1, 3, 10)).toBe(0);
  expect(studentizedRangeCdf(infinite, 3, 10)).toBe(1);
  expect(studentizedRangeQuantile(1, 3, 10)).toBe(infinite);
  expect(dunnettQuantile(0, [0.5], 10)).toBe(0);
  expect(dunnettCdf(-1, [0.5], 10)).toBe(0);
  expect(() => studentizedRangeQuantile(0.95, 1, 10)).toThrow(/groups/);
  expect(() => studentizedRangeQuantile(95, 3, 10)).toThrow(/per cent/);
  expect(() => studentizedRangeCdf(3, 3, Number.NaN)).toThrow(/dof/);
  expect(() => dunnettQuantile(0.95, [], 10)).toThrow(/at least one/);
  expect(() => dunnettQuantile(0.95, [1.2], 10)).toThrow(/loadings/);
});
