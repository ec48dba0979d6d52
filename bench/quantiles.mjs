// @ts-check
/**
 * Microseconds per quantile of the distributions that comparisons use, asked with ever new arguments; what the
 * simultaneous ones keep of their inner curves between calls they keep in a comparison too. Goal: under 1000 each. Run it with: node bench/quantiles.mjs
 */
import {
  chanceOfLeast,
  chiSquareQuantile,
  dunnettQuantile,
  fQuantile,
  inverseBeta,
  noncentralTCdf,
  normalQuantile,
  studentizedRangeQuantile,
  tQuantile,
} from '../packages/core/dist/numerics/index.js';

/** @type {[name: string, ask: (x: number) => unknown][]} x runs through 0 to 1 */
const quantiles = [
  ['normal', (x) => normalQuantile(0.9 + 0.09 * x)],
  ['t', (x) => tQuantile(0.975, 2 + 40 * x)],
  ['chi-square', (x) => chiSquareQuantile(0.95, 1 + 60 * x)],
  ['F', (x) => fQuantile(0.95, 1 + 5 * x, 3 + 40 * x)],
  ['beta', (x) => inverseBeta(0.95, 1 + 4 * x, 3 - x)],
  ['noncentral t, cdf', (x) => noncentralTCdf(2.1, 3 + 40 * x, 2 + x)],
  ['studentized range, 3 groups', (x) => studentizedRangeQuantile(0.95, 3, 2 + 40 * x)],
  ['studentized range, 6 groups', (x) => studentizedRangeQuantile(0.95, 6, 2 + 40 * x)],
  ['Dunnett, 3 comparisons', (x) => dunnettQuantile(0.95, [0.5 + 0.3 * x, 0.6, 0.7], 2 + 40 * x)],
  ['Dunnett, 5 comparisons', (x) => dunnettQuantile(0.95, [0.5 + 0.3 * x, 0.6, 0.7, 0.65, 0.72], 2 + 40 * x)],
  [
    'chances of 4 set-ups',
    (x) =>
      chanceOfLeast(
        [1, 1 + x, 2, 2],
        new Float64Array(16).map((_, i) => (i % 5 ? 0 : 0.2)),
        5 + 9 * x,
      ),
  ],
];

for (const [name, ask] of quantiles) {
  for (let i = 0; i < 200; i++) ask(((i * 0.754877) % 1) + 1e-9 * i);
  const times = [];
  for (let i = 0; i < 300; i++) {
    const before = performance.now();
    ask(((i * 0.618034) % 1) + 1e-8 * i);
    times.push(1000 * (performance.now() - before));
  }
  times.sort((a, b) => a - b);
  const at = (/** @type {number} */ share) =>
    (times[Math.floor(share * times.length)] ?? Number.NaN).toFixed(0);
  console.log(
    `${name.padEnd(30)} ${at(0.5).padStart(5)} µs in the middle, ${at(0.95).padStart(5)} for the slowest twentieth`,
  );
}
