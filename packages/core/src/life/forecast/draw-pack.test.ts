import { expect, test } from 'vitest';
import { makeNoise } from '../../numerics/index.js';
import { redraw, typicalDraw } from './draw-pack.js';
import { modelSpread } from './draw-spread.js';

test('wear by time and by cycles are drawn apart, each as widely as it is in doubt', () => {
  const noise = makeNoise(11);
  const draw = typicalDraw(2);
  const draws = 4000;
  const pairs = Array.from({ length: draws }, () => {
    redraw(draw, noise, {
      spread: modelSpread,
      isLent: true,
      doubt: undefined,
      mostHours: 4,
      shift_J_per_mol: 20_000,
    });
    return [Math.log(draw.calendarLevel), Math.log(draw.cycleLevel)] as const;
  });
  const mean = (of: (pair: readonly [number, number]) => number) =>
    pairs.reduce((sum, pair) => sum + of(pair), 0) / draws;
  const [one, other] = [Math.sqrt(mean(([a]) => a * a)), Math.sqrt(mean(([, b]) => b * b))];
  // The standard error of a standard deviation is 1/sqrt(2n) of it, 1.1 %; of a correlation of none, 1/sqrt(n), 0.016. Four of each.
  expect(Math.abs(one / modelSpread.level - 1)).toBeLessThan(0.045);
  expect(Math.abs(other / modelSpread.lentLevel - 1)).toBeLessThan(0.045);
  expect(Math.abs(mean(([a, b]) => a * b) / (one * other))).toBeLessThan(0.064);
});
