import { expect, test } from 'vitest';
import { chanceOfLeast } from './chance-of-least.js';

const diagonal = (sds: readonly number[], shared = 0) =>
  Float64Array.from({ length: sds.length ** 2 }, (_, at) => {
    const [i, j] = [Math.floor(at / sds.length), at % sds.length];
    return (i === j ? (sds[i] ?? Number.NaN) ** 2 : 0) + shared;
  });

// SciPy 1.17: the double integral over one estimate and the scale, by adaptive quadrature; the lattice errs by some 0.002.
test.each([
  {
    values: [1, 1.3, 2],
    sds: [0.4, 0.5, 0.3],
    dof: Number.POSITIVE_INFINITY,
    expected: [0.67556, 0.31734, 0.00711],
  },
  { values: [1, 1.3, 2], sds: [0.4, 0.5, 0.3], dof: 5, expected: [0.65743, 0.32207, 0.02051] },
  {
    values: [1, 1.2, 1.1, 3],
    sds: [0.3, 0.3, 0.5, 0.4],
    dof: 8,
    expected: [0.43543, 0.19448, 0.36976, 0.00034],
  },
])('$values with $dof degrees of freedom', ({ values, sds, dof, expected }) => {
  const chances = chanceOfLeast(values, diagonal(sds), dof);
  chances.forEach((chance, i) => {
    expect(Math.abs(chance - (expected[i] ?? Number.NaN))).toBeLessThan(0.003);
  });
  expect(chances.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 12);
});

// Exact: what all share shifts all; equals are equally likely; two are one t variable.
test('what is shared does not matter, and equals share the chance', () => {
  const alike = chanceOfLeast([2, 2, 2, 2], diagonal([0.5, 0.5, 0.5, 0.5], 4), 6);
  for (const chance of alike) expect(Math.abs(chance - 0.25)).toBeLessThan(0.01);
  const [first] = chanceOfLeast([1, 2], diagonal([0.6, 0.8], 9), 1);
  expect(first).toBeCloseTo(0.75, 12); // Cauchy: a quarter lies above one unit
  expect(chanceOfLeast([3], diagonal([1]), 4)).toEqual([1]);
});
