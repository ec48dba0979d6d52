import { describe, expect, test } from 'vitest';
import { fitMixedModel, type Grouping } from './mixed-model.js';

const indicator = (levels: Grouping, level: string | number) =>
  Float64Array.from(levels, (each) => (each === level ? 1 : 0));
const single = (count: number): Grouping => Array.from({ length: count }, (_, i) => i);
const ones = (count: number) => new Float64Array(count).fill(1);
const within = (value: number, printed: number, half: number) =>
  expect(Math.abs(value - printed)).toBeLessThanOrEqual(half);

function mustFit(model: Parameters<typeof fitMixedModel>[0]) {
  const fit = fitMixedModel(model);
  if (fit === null) throw new Error('The model did not fit.');
  return fit;
}

// [CRAN-DATA] Dyestuff, six batches of five; balanced, so that REML is the analysis of variance (MS 11271.5 and 2451.25)
// and the mean has the five degrees of freedom of the batches.
test('batches of dyestuff: components and mean are those of the analysis of variance', () => {
  const yields = [
    [1545, 1440, 1440, 1520, 1580],
    [1540, 1555, 1490, 1560, 1495],
    [1595, 1550, 1605, 1510, 1560],
    [1445, 1440, 1595, 1465, 1545],
    [1595, 1630, 1515, 1635, 1625],
    [1520, 1455, 1450, 1480, 1445],
  ];
  const fit = mustFit({
    columns: [ones(30)],
    observations: Float64Array.from(yields.flat()),
    groupings: [yields.flatMap((batch, i) => batch.map(() => i)), single(30)],
    known: new Float64Array(30),
  });
  expect(fit.components[0]).toBeCloseTo((11271.5 - 2451.25) / 5, 5);
  expect(fit.components[1]).toBeCloseTo(2451.25, 5);
  const mean = fit.contrast([1]);
  expect(mean.value).toBeCloseTo(1527.5, 9);
  expect(mean.u).toBeCloseTo(Math.sqrt(11271.5 / 30), 8);
  expect(mean.dof).toBeCloseTo(5, 7);
});

// [BATES-15] section 5.2 of the LME4 manuscript, model 1 | batch/cask; printed to four decimals, mean 60.0533 ± 0.6769.
test('casks within batches of paste: the printed standard deviations come out', () => {
  // [CRAN-DATA] Pastes: ten batches, three casks each, two assays each.
  const strength = [
    62.8, 62.6, 60.1, 62.3, 62.7, 63.1, 60, 61.4, 57.5, 56.9, 61.1, 58.9, 58.7, 57.5, 63.9, 63.1, 65.4, 63.7,
    57.1, 56.4, 56.9, 58.6, 64.7, 64.5, 55.1, 55.1, 54.7, 54.2, 58.8, 57.5, 63.4, 64.9, 59.3, 58.1, 60.5, 60,
    62.5, 62.6, 61, 58.7, 56.9, 57.7, 59.2, 59.4, 65.2, 66, 64.8, 64.1, 54.8, 54.8, 64, 64, 57.7, 56.8, 58.3,
    59.3, 59.2, 59.2, 58.9, 56.6,
  ];
  const fit = mustFit({
    columns: [ones(60)],
    observations: Float64Array.from(strength),
    groupings: [
      strength.map((_, i) => Math.floor(i / 6)),
      strength.map((_, i) => Math.floor(i / 2)),
      single(60),
    ],
    known: new Float64Array(60),
  });
  [1.2874, 2.9041, 0.8234].forEach((printed, i) => {
    within(Math.sqrt(fit.components[i] ?? Number.NaN), printed, 5e-5);
  });
  const mean = fit.contrast([1]);
  within(mean.value, 60.0533, 5e-5);
  within(mean.u, 0.6769, 5e-5);
});

// [EMMEANS-DOC] "Sophisticated models": oats in split plots with nine rows left out, Kenward-Roger, printed to three or
// four figures.
describe('oats in split plots, unbalanced', () => {
  // [CRAN-DATA] Oats: six blocks, three varieties (Victory, Golden Rain, Marvellous) in each, four doses in each.
  const grown = [
    111, 130, 157, 174, 117, 114, 161, 141, 105, 140, 118, 156, 61, 91, 97, 100, 70, 108, 126, 149, 96, 124,
    121, 144, 68, 64, 112, 86, 60, 102, 89, 96, 89, 129, 132, 124, 74, 89, 81, 122, 64, 103, 132, 133, 70, 89,
    104, 117, 62, 90, 100, 116, 80, 82, 94, 126, 63, 70, 109, 99, 53, 74, 118, 113, 89, 82, 86, 104, 97, 99,
    119, 121,
  ];
  const left = new Set([1, 2, 3, 5, 8, 13, 21, 34, 55]);
  const rows = grown
    .map((yielded, i) => ({
      yielded,
      block: Math.floor(i / 12),
      plot: Math.floor(i / 4),
      variety: Math.floor(i / 4) % 3,
      dose: i % 4,
    }))
    .filter((_, i) => !left.has(i + 1));
  const varieties = rows.map(({ variety }) => variety);
  const doses = rows.map(({ dose }) => dose);
  const fit = mustFit({
    columns: [
      ...[0, 1, 2].map((variety) => indicator(varieties, variety)),
      ...[1, 2, 3].map((dose) => indicator(doses, dose)),
    ],
    observations: Float64Array.from(rows, ({ yielded }) => yielded),
    groupings: [rows.map(({ block }) => block), rows.map(({ plot }) => plot), single(rows.length)],
    known: new Float64Array(rows.length),
  });

  test.each([
    ['no dose', [1 / 3, 1 / 3, 1 / 3, 0, 0, 0], 78.9, 7.29, 7.78],
    ['dose 0.2', [1 / 3, 1 / 3, 1 / 3, 1, 0, 0], 97.0, 7.14, 7.19],
    ['dose 0.4', [1 / 3, 1 / 3, 1 / 3, 0, 1, 0], 114.2, 7.14, 7.19],
    ['dose 0.6', [1 / 3, 1 / 3, 1 / 3, 0, 0, 1], 124.1, 7.07, 6.95],
    ['Golden Rain', [0, 1, 0, 0.25, 0.25, 0.25], 105.2, 7.53, 8.46],
    ['Golden Rain less Marvellous', [0, 1, -1, 0, 0, 0], -3.2, 6.55, 9.56],
    ['Golden Rain less Victory', [-1, 1, 0, 0, 0, 0], 8.3, 6.71, 9.8],
    ['Marvellous less Victory', [-1, 0, 1, 0, 0, 0], 11.5, 6.67, 9.8],
  ])('%s', (_, weights, value, u, dof) => {
    const contrast = fit.contrast(weights);
    within(contrast.value, value, 0.05);
    within(contrast.u, u, 0.005);
    within(contrast.dof, dof, 0.005);
  });
});

// Runs invented for this check; expected figures from a separate program (NumPy, likelihood searched by simplex, the formulas
// of [KENWARD-ROGER-97] with full matrices). Its search ends at about 1e-7.
test('known variances beside two components, unbalanced', () => {
  const session = [0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2, 2];
  const setup = [0, 1, 2, 1, 0, 2, 2, 0, 1, 2, 1, 0];
  const u = [0.1, 0.2, 0.15, 0.1, 0.3, 0.1, 0.2, 0.1, 0.1, 0.4, 0.1, 0.2];
  const fit = mustFit({
    columns: [0, 1, 2].map((level) => indicator(setup, level)),
    observations: Float64Array.from([24.9, 21.2, 22.8, 21.9, 26.1, 23.5, 23.2, 25.0, 21.4, 22.9, 20.9, 25.3]),
    groupings: [session, single(12)],
    known: Float64Array.from(u, (each) => each * each),
  });
  expect(fit.components[0]).toBeCloseTo(0.1147954, 6);
  expect(fit.components[1]).toBeCloseTo(0.09744651, 6);
  const difference = fit.contrast([1, -1, 0]);
  expect(difference.value).toBeCloseTo(3.795292736, 6);
  expect(difference.u).toBeCloseTo(0.255434028, 6);
  expect(difference.dof).toBeCloseTo(6.1292041, 5);
  expect(fit.contrast([0, 1, -1]).u).toBeCloseTo(0.321877996, 6);
  expect(fit.contrast([0, 1, -1]).dof).toBeCloseTo(9.2436671, 5);
  expect(fit.contrast([1, 0, 0]).dof).toBeCloseTo(3.60980506, 5);
});

/** Independent estimates with known variances: a mean and a spread between them. */
function pool(estimates: readonly number[], variances: readonly number[]) {
  const fit = mustFit({
    columns: [ones(estimates.length)],
    observations: Float64Array.from(estimates),
    groupings: [single(estimates.length)],
    known: Float64Array.from(variances),
  });
  const spread2 = fit.components[0] ?? Number.NaN;
  const weight = variances.reduce((sum, variance) => sum + 1 / (variance + spread2), 0);
  return { spread2, value: fit.contrast([1]).value, plainU: 1 / Math.sqrt(weight), u: fit.contrast([1]).u };
}

describe('trials that report one effect', () => {
  // [COLDITZ-94] vaccine trials, log risk ratios from the counts; REML by R's metafor 3.8-1, as in its documentation.
  test('thirteen vaccine trials', () => {
    const counts = [
      [4, 119, 11, 128],
      [6, 300, 29, 274],
      [3, 228, 11, 209],
      [62, 13536, 248, 12619],
      [33, 5036, 47, 5761],
      [180, 1361, 372, 1079],
      [8, 2537, 10, 619],
      [505, 87886, 499, 87892],
      [29, 7470, 45, 7232],
      [17, 1699, 65, 1600],
      [186, 50448, 141, 27197],
      [5, 2493, 3, 2338],
      [27, 16886, 29, 17825],
    ] as const;
    const effects = counts.map(([a, b, c, d]) => Math.log(a / (a + b) / (c / (c + d))));
    const variances = counts.map(([a, b, c, d]) => 1 / a - 1 / (a + b) + 1 / c - 1 / (c + d));
    const pooled = pool(effects, variances);
    expect(pooled.spread2).toBeCloseTo(0.313243258136, 8);
    expect(pooled.value).toBeCloseTo(-0.714532342158, 9);
    expect(pooled.plainU).toBeCloseTo(0.179781516105, 9);
    expect(pooled.u).toBeGreaterThan(pooled.plainU); // the correction only widens
  });

  // Effects invented for this check; REML by R's metafor 3.8-1.
  test('four that differ, and three that agree better than they should', () => {
    const four = pool([-1.04, -0.62, -1.55, -0.9], [0.1 ** 2, 0.15 ** 2, 0.2 ** 2, 0.12 ** 2]);
    expect(four.spread2).toBeCloseTo(0.107180194821, 7); // metafor's own search ends at 1e-5 of it
    expect(four.value).toBeCloseTo(-1.0104105903, 7);
    expect(four.plainU).toBeCloseTo(0.178843781582, 7);
    const three = pool([-1, -1.05, -0.97], [0.01, 0.01, 0.01]);
    expect(three.spread2).toBe(0);
    expect(three.value).toBeCloseTo(-1.00666666667, 10);
    expect(three.plainU).toBeCloseTo(0.057735026919, 11);
  });
});

test('what cannot be estimated is refused', () => {
  const three = { observations: Float64Array.from([1, 2, 4]), known: new Float64Array(3) };
  const spread = { ...three, groupings: [single(3)] };
  expect(fitMixedModel({ ...spread, columns: [0, 1, 2].map((i) => indicator([0, 1, 2], i)) })).toBeNull();
  expect(fitMixedModel({ ...spread, columns: [ones(3), ones(3)] })).toBeNull();
  expect(fitMixedModel({ ...three, columns: [ones(3)], groupings: [single(3), single(3)] })).toBeNull();
});
