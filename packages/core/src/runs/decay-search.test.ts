import { expect, test } from 'vitest';
import { fitSeparable, makeNoise, type SeparableModel } from '../numerics/index.js';
import { searchDecays } from './decay-search.kernel.js';

/** The same model for the general fit, which is held against certified data in `numerics`. */
function model(t: Float64Array): SeparableModel {
  return {
    columns: (taus) => [
      new Float64Array(t.length).fill(1),
      ...taus.map((tau) => t.map((at) => Math.exp(-at / tau))),
    ],
    slopes: (taus) =>
      taus.map((tau, p) => [
        null,
        ...taus.map((_, k) => (k === p ? t.map((at) => (at / tau ** 2) * Math.exp(-at / tau)) : null)),
      ]),
  };
}

test.each([1, 2, 3, 4, 5, 6, 7, 8])('finds what the general fit finds, noise %d', (seed) => {
  const noise = makeNoise(7919 * seed);
  const t = Float64Array.from({ length: 200 }, (_, i) => 36 * i);
  const y = t.map((at) => 21 - 4 * Math.exp(-at / 300) - 14 * Math.exp(-at / 1500) + 0.03 * noise.normal());
  const mean = y.reduce((sum, value) => sum + value, 0) / y.length;
  const ones = new Float64Array(t.length).fill(1 / Math.sqrt(t.length));
  for (const start of [[900], [200, 2000]]) {
    const taus = [...start];
    const settled = searchDecays(
      t,
      y.map((value) => value - mean),
      [ones],
      taus,
      10,
      1e6,
      { closeness: 1e-8, flatness: 0 },
    );
    const general = fitSeparable(model(t), y, start);
    expect(Math.abs((settled?.rss ?? Number.NaN) / (general?.rss ?? 0) - 1)).toBeLessThan(1e-9);
    for (const [i, left] of (general?.residuals ?? []).entries()) {
      expect(Math.abs((settled?.residuals[i] as number) - left)).toBeLessThan(1e-5);
    }
    const expected = [...(general?.shape ?? [])].sort((a, b) => a - b);
    for (const [i, tau] of taus.sort((a, b) => a - b).entries()) {
      expect(Math.abs(tau / (expected[i] as number) - 1)).toBeLessThan(1e-5);
    }
  }
});

test('gives up where the data ask for no time constant in range', () => {
  const t = Float64Array.from({ length: 60 }, (_, i) => 10 * i);
  const ramp = t.map((at) => at - 295);
  const ones = new Float64Array(t.length).fill(1 / Math.sqrt(t.length));
  expect(searchDecays(t, ramp, [ones], [600], 1, 5000, { closeness: 1e-6, flatness: 0 })).toBeNull();
});
