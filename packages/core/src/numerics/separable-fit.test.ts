import { describe, expect, test } from 'vitest';
import { describeSeparable, fitSeparable, type SeparableModel } from './separable-fit.js';

// [NIST-STRD] nonlinear regression: certified to eleven digits. A sum of squares is flat to rounding within
// about the square root of the machine precision, 1.5e-8, of its minimum: so parameters are held to 1e-8 relative
// where the problem is well conditioned, and the sum itself to 1e-8 or better.
const boxBod = { x: [1, 2, 3, 5, 7, 10], y: [109, 149, 149, 191, 213, 224] };
const misra1a = {
  x: [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760],
  y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
};
const mgh17y = [
  0.844, 0.908, 0.932, 0.936, 0.925, 0.908, 0.881, 0.85, 0.818, 0.784, 0.751, 0.718, 0.685, 0.658, 0.628,
  0.603, 0.58, 0.558, 0.538, 0.522, 0.506, 0.49, 0.478, 0.467, 0.457, 0.448, 0.438, 0.431, 0.424, 0.42, 0.414,
  0.411, 0.406,
];

/** y = b1 (1 - exp(-b2 x)) */
function saturating(x: readonly number[]): SeparableModel {
  return {
    columns: ([rate]) => [Float64Array.from(x, (at) => -Math.expm1(-(rate as number) * at))],
    slopes: ([rate]) => [[Float64Array.from(x, (at) => at * Math.exp(-(rate as number) * at))]],
  };
}

/** y = b1 + b2 exp(-b4 x) + b3 exp(-b5 x) */
function twoStage(x: readonly number[]): SeparableModel {
  return {
    columns: (rates) => [
      new Float64Array(x.length).fill(1),
      ...rates.map((rate) => Float64Array.from(x, (at) => Math.exp(-rate * at))),
    ],
    slopes: (rates) =>
      rates.map((rate, p) => [
        null,
        ...rates.map((_, k) => (k === p ? Float64Array.from(x, (at) => -at * Math.exp(-rate * at)) : null)),
      ]),
  };
}

function expectRelative(actual: number, certified: number, tolerance: number): void {
  expect(Math.abs(actual / certified - 1)).toBeLessThan(tolerance);
}

describe('certified fits', () => {
  test.each([1, 0.75])('BoxBOD, a heating curve, from the rate %d', (start) => {
    const fit = fitSeparable(saturating(boxBod.x), Float64Array.from(boxBod.y), [start]);
    if (fit === null) throw new Error('no fit');
    expectRelative(fit.linear[0] as number, 2.1380940889e2, 1e-8);
    expectRelative(fit.shape[0] as number, 5.4723748542e-1, 1e-8);
    expectRelative(fit.rss, 1.1680088766e3, 1e-9);
    const s2 = fit.rss / fit.dof;
    expectRelative(Math.sqrt(s2 * (fit.unscaled[0] as number)), 1.2354515176e1, 1e-8);
    expectRelative(Math.sqrt(s2 * (fit.unscaled[3] as number)), 1.0455993237e-1, 1e-8);
  });

  test.each([1e-4, 5e-4])('Misra1a, a plateau far outside the data, from the rate %d', (start) => {
    const fit = fitSeparable(saturating(misra1a.x), Float64Array.from(misra1a.y), [start]);
    if (fit === null) throw new Error('no fit');
    expectRelative(fit.linear[0] as number, 2.3894212918e2, 1e-8);
    expectRelative(fit.shape[0] as number, 5.5015643181e-4, 1e-8);
    expectRelative(fit.rss, 1.2455138894e-1, 1e-8);
    const s2 = fit.rss / fit.dof;
    expectRelative(Math.sqrt(s2 * (fit.unscaled[0] as number)), 2.7070075241, 1e-7);
    expectRelative(Math.sqrt(s2 * (fit.unscaled[3] as number)), 7.2668688436e-6, 1e-7);
  });

  test.each([
    { start: [0.01, 0.02] },
    { start: [1, 2] }, // the hard one of the two published starts
  ])('MGH17, heating in two stages, from the rates $start', ({ start }) => {
    const x = mgh17y.map((_, i) => 10 * i);
    const fit = fitSeparable(twoStage(x), Float64Array.from(mgh17y), start);
    if (fit === null) throw new Error('no fit');
    const [slow, fast] = (fit.shape[0] as number) < (fit.shape[1] as number) ? [0, 1] : [1, 0];
    expectRelative(fit.linear[0] as number, 3.7541005211e-1, 1e-7);
    expectRelative(fit.linear[1 + slow] as number, 1.9358469127, 1e-6);
    expectRelative(fit.linear[1 + fast] as number, -1.4646871366, 1e-6);
    expectRelative(fit.shape[slow] as number, 1.286753464e-2, 1e-7);
    expectRelative(fit.shape[fast] as number, 2.2122699662e-2, 1e-7);
    expectRelative(fit.rss, 5.4648946975e-5, 1e-8);
    const s2 = fit.rss / fit.dof;
    expectRelative(Math.sqrt(s2 * (fit.unscaled[0] as number)), 2.0723153551e-3, 1e-6);
  });

  test('two equal rates cannot be told apart and are refused', () => {
    const x = [0, 1, 2, 3, 4, 5];
    expect(fitSeparable(twoStage(x), Float64Array.from([1, 2, 3, 4, 5, 6]), [0.3, 0.3])).toBeNull();
  });
});

test('described at the certified rate, BoxBOD has its certified level, residuals and doubts', () => {
  const fit = describeSeparable(saturating(boxBod.x), Float64Array.from(boxBod.y), [5.4723748542e-1]);
  if (fit === null) throw new Error('no fit');
  expectRelative(fit.linear[0] as number, 2.1380940889e2, 1e-8);
  expectRelative(fit.rss, 1.1680088766e3, 1e-9);
  const s2 = fit.rss / fit.dof;
  expectRelative(Math.sqrt(s2 * (fit.unscaled[0] as number)), 1.2354515176e1, 1e-8);
  expectRelative(Math.sqrt(s2 * (fit.unscaled[3] as number)), 1.0455993237e-1, 1e-8);
});
