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

const lanczos3y = [
  2.5134, 2.0443, 1.6684, 1.3664, 1.1232, 0.9269, 0.7679, 0.6389, 0.5338, 0.4479, 0.3776, 0.3197, 0.272,
  0.2325, 0.1997, 0.1723, 0.1493, 0.1301, 0.1138, 0.1, 0.0883, 0.0783, 0.0698, 0.0624,
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

/** y = b1 (1 - (1 + b2 x / 2)^-2) */
function saturatingAsSquare(x: readonly number[]): SeparableModel {
  return {
    columns: ([rate]) => [Float64Array.from(x, (at) => 1 - (1 + ((rate as number) * at) / 2) ** -2)],
    slopes: ([rate]) => [[Float64Array.from(x, (at) => at * (1 + ((rate as number) * at) / 2) ** -3)]],
  };
}

/** y = Σ b exp(-rate x), without a plateau */
function decaying(x: readonly number[]): SeparableModel {
  const { columns, slopes } = twoStage(x);
  return {
    columns: (rates) => columns(rates).slice(1),
    slopes: (rates) => slopes(rates).map((bySlope) => bySlope.slice(1)),
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

  // The same readings as Misra1a. The sum of squares is smaller, the plateau 338 and not 239: a good fit proves no plateau.
  test.each([1e-4, 2e-4])('Misra1b, another saturating curve, from the rate %d', (start) => {
    const fit = fitSeparable(saturatingAsSquare(misra1a.x), Float64Array.from(misra1a.y), [start]);
    if (fit === null) throw new Error('no fit');
    expectRelative(fit.linear[0] as number, 3.3799746163e2, 1e-8);
    expectRelative(fit.shape[0] as number, 3.9039091287e-4, 1e-8);
    expectRelative(fit.rss, 7.5464681533e-2, 1e-8);
    const s2 = fit.rss / fit.dof;
    expectRelative(Math.sqrt(s2 * (fit.unscaled[0] as number)), 3.1643950207, 1e-7);
    expectRelative(Math.sqrt(s2 * (fit.unscaled[3] as number)), 4.2547321834e-6, 1e-7);
  });

  // Three exponentials on data of five digits: double precision carries five to six digits of the parameters.
  test.each([{ start: [0.3, 5.5, 7.6] }, { start: [0.7, 4.2, 6.3] }])(
    'Lanczos3, three decays, from the rates $start',
    ({ start }) => {
      const x = lanczos3y.map((_, i) => 0.05 * i);
      const fit = fitSeparable(decaying(x), Float64Array.from(lanczos3y), start);
      if (fit === null) throw new Error('no fit');
      const order = [0, 1, 2].sort((a, b) => (fit.shape[a] as number) - (fit.shape[b] as number));
      const certified = [
        { size: 8.6816414977e-2, rate: 9.5498101505e-1, size_sd: 1.7197908859e-2, rate_sd: 9.7041624475e-2 },
        { size: 8.4400777463e-1, rate: 2.9515951832, size_sd: 4.1488663282e-2, rate_sd: 1.0766312506e-1 },
        { size: 1.5825685901, rate: 4.9863565084, size_sd: 5.8371576281e-2, rate_sd: 3.4436403035e-2 },
      ];
      const s2 = fit.rss / fit.dof;
      const sd = (index: number) => Math.sqrt(s2 * (fit.unscaled[index * 7] as number));
      for (const [i, { size, rate, size_sd, rate_sd }] of certified.entries()) {
        const at = order[i] as number;
        expectRelative(fit.linear[at] as number, size, i === 0 ? 1e-4 : 1e-5);
        expectRelative(fit.shape[at] as number, rate, 1e-5);
        expectRelative(sd(at), size_sd, 1e-4);
        expectRelative(sd(3 + at), rate_sd, 1e-4);
      }
      expectRelative(fit.rss, 1.6117193594e-8, 1e-8);
      expect(fit.dof).toBe(18);
    },
  );

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
    const sd = (index: number) => Math.sqrt(s2 * (fit.unscaled[index * 6] as number));
    expectRelative(sd(0), 2.0723153551e-3, 1e-6);
    expectRelative(sd(1 + slow), 2.2031669222e-1, 1e-5);
    expectRelative(sd(1 + fast), 2.2175707739e-1, 1e-5);
    expectRelative(sd(3 + slow), 4.4861358114e-4, 1e-5);
    expectRelative(sd(3 + fast), 8.9471996575e-4, 1e-5);
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
