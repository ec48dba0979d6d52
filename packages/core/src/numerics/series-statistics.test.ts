import { describe, expect, test } from 'vitest';
import { makeNoise, makeRedNoise } from './noise.js';
import {
  correlationTime,
  lagOneCorrelation,
  mean,
  meanInflation,
  median,
  standardDeviation,
} from './series-statistics.js';

/** Generated series; each starts its generator afresh. */
const series = {
  steady: generate(12345, 200, (z) => 45 + 0.1 * z()),
  heating: generate(2024, 360, (z, i) => 25 + 20 * (1 - Math.exp((-10 * i) / 600)) + 0.1 * z()),
  red: (() => {
    const red = makeRedNoise(makeNoise(777), 0.9);
    return Float64Array.from({ length: 300 }, () => 45 + 0.15 * red());
  })(),
  drift: generate(99, 300, (z, i) => 45 + 0.001 * i + 0.1 * z()),
};

function generate(seed: number, count: number, level: (z: () => number, i: number) => number): Float64Array {
  const noise = makeNoise(seed);
  return Float64Array.from({ length: count }, (_, i) => level(noise.normal, i));
}

describe('noise', () => {
  // [PARK-MILLER-88] p. 1195: from seed 1, the 10 000th number is 1043618065.
  test('the minimal standard generator reaches the published number', () => {
    const noise = makeNoise(1);
    let last = 0;
    for (let i = 0; i < 10_000; i++) last = noise.uniform();
    expect(Math.round(last * 2147483647)).toBe(1043618065);
  });

  // Recomputed outside the project with NumPy 2.4 from the definition above.
  test('normal deviates follow the stated construction', () => {
    const noise = makeNoise(12345);
    const z = Array.from({ length: 1000 }, () => noise.normal());
    expect(z[0]).toBeCloseTo(-0.44619953699698733, 12);
    expect(z[4]).toBeCloseTo(-0.7475105387845584, 12);
    expect(mean(z)).toBeCloseTo(0.01449498975626, 11);
    expect(standardDeviation(z)).toBeCloseTo(1.01664512585, 9);
  });

  test.each([
    { name: 'steady', mean_C: 45.000991873, sd_K: 0.094370347, last: 44.953020827 },
    { name: 'heating', mean_C: 41.652476958, sd_K: 4.777563181, last: 45.131632845 },
    { name: 'red', mean_C: 45.00843545, sd_K: 0.164083036, last: 44.874192977 },
    { name: 'drift', mean_C: 45.150619902, sd_K: 0.142252098, last: 45.298259779 },
  ] as const)('the $name series has the mean and spread computed outside', ({ name, mean_C, sd_K, last }) => {
    expect(Math.abs(mean(series[name]) - mean_C)).toBeLessThan(1e-8);
    expect(Math.abs(standardDeviation(series[name]) - sd_K)).toBeLessThan(1e-8);
    expect(Math.abs((series[name].at(-1) as number) - last)).toBeLessThan(1e-8);
  });
});

describe('correlation in time', () => {
  // Computed outside the project with NumPy 2.4 from the definition in [GEYER-92].
  test.each([
    { name: 'steady', r1: 0.0187924592, tau: 1.03758492 },
    { name: 'red', r1: 0.9199647922, tau: 19.52694104 },
  ] as const)('of the $name series', ({ name, r1, tau }) => {
    expect(Math.abs(lagOneCorrelation(series[name]) / r1 - 1)).toBeLessThan(1e-7);
    expect(Math.abs(correlationTime(series[name]) / tau - 1)).toBeLessThan(1e-7);
  });

  // [NIST-STRD] Michelso, certified mean, standard deviation and lag-1 autocorrelation.
  test('of the certified speed-of-light series', () => {
    const v = [
      850, 740, 900, 1070, 930, 850, 950, 980, 980, 880, 1000, 980, 930, 650, 760, 810, 1000, 1000, 960, 960,
      960, 940, 960, 940, 880, 800, 850, 880, 900, 840, 830, 790, 810, 880, 880, 830, 800, 790, 760, 800, 880,
      880, 880, 860, 720, 720, 620, 860, 970, 950, 880, 910, 850, 870, 840, 840, 850, 840, 840, 840, 890, 810,
      810, 820, 800, 770, 760, 740, 750, 760, 910, 920, 890, 860, 880, 720, 840, 850, 850, 780, 890, 840, 780,
      810, 760, 810, 790, 810, 820, 850, 870, 870, 810, 740, 810, 940, 950, 800, 810, 870,
    ];
    const y = v.map((value) => 299 + value / 1000);
    expect(mean(y)).toBeCloseTo(299.8524, 10);
    expect(standardDeviation(y)).toBeCloseTo(0.0790105478190518, 12);
    expect(lagOneCorrelation(y)).toBeCloseTo(0.535199668621283, 11);
  });

  // Exact sums of the stated formula; 18.4 for n = 300, φ = 0.9 is also (19 - 2·0.9(1-0.9^300)/(300·0.01)).
  test.each([
    { n: 60, phi: 0.5, factor: 2.9333333333 },
    { n: 60, phi: 0.9, factor: 16.0053910309 },
    { n: 300, phi: 0.9, factor: 18.4 },
    { n: 120, phi: 0.8, factor: 8.6666666667 },
    { n: 360, phi: 0.95, factor: 36.8888889091 },
  ])('widens a mean of $n samples at φ = $phi by $factor', ({ n, phi, factor }) => {
    expect(Math.abs(meanInflation(n, phi) - factor)).toBeLessThan(1e-9);
    const closed = (1 + phi) / (1 - phi) - (2 * phi * (1 - phi ** n)) / (n * (1 - phi) ** 2);
    expect(meanInflation(n, phi)).toBeCloseTo(closed, 10);
  });
});

// [NIST-STRD] NumAcc4: numbers alike to seven digits, certified standard deviation 0.1 and correlation -0.999. The textbook
// formula, sum of squares less square of the sum, gives no number at all.
test('a standard deviation survives a large mean', () => {
  const values = [10000000.2, ...Array.from({ length: 1000 }, (_, i) => 10000000.1 + (i % 2) * 0.2)];
  expect(Math.abs(mean(values) - 10000000.2)).toBeLessThan(1e-6); // a thousand sums of 1e10, each rounded to 1e-6
  expect(Math.abs(standardDeviation(values) - 0.1)).toBeLessThan(1e-8);
  expect(Math.abs(lagOneCorrelation(values) + 0.999)).toBeLessThan(1e-7);
});

// R 4.2.2, median and sd.
test('median and standard deviation of eight numbers', () => {
  const values = [2.1, 3.5, 1.0, 4.8, 9.9, 7.2, 6.6, 5.0];
  expect(median(values)).toBeCloseTo(4.9, 14);
  expect(standardDeviation(values)).toBeCloseTo(2.88118899067729, 13);
});
