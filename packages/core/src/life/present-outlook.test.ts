import { expect, test } from 'vitest';
import { plainText } from '../measure/index.js';
import type { LifeOutlook } from './forecast/forecast-life.js';
import { presentOutlook } from './present-outlook.js';

const spread = (p50: number) => ({ p05: 0.5 * p50, p25: 0.8 * p50, p50, p75: 1.2 * p50, p95: 2 * p50 });
const setup = (name: string, chanceLongest: number, isPredicted = false) => ({
  setup: name,
  name,
  isPredicted,
  years: { ...spread(2), beyond: 0 },
  ratio: name === 'bare' ? null : spread(1.1),
  chanceLongest,
});
const outlook = (best: ReturnType<typeof setup>) =>
  ({
    setups: [setup('bare', 1 - best.chanceLongest), best],
    differ: { models: 5, setups: 1.1 },
  }) as unknown as LifeOutlook;

test.each([
  [0.97, /^The pack almost certainly lasts longest in plate \(chance 97 %\)/],
  [0.85, /^The pack probably lasts longest/],
  [0.65, /^The pack perhaps lasts longest/],
  [0.52, /^Which set-up the pack lasts longest in is open; plate leads/],
])('a chance of %d is called no firmer than it is', (chance, words) => {
  expect(plainText(presentOutlook(outlook(setup('plate', chance))).answer)).toMatch(words);
});

test('a prediction that leads is to be soaked first, a measured set-up is not told so', () => {
  const words = (isPredicted: boolean) =>
    plainText(presentOutlook(outlook(setup('plate', 0.9, isPredicted))).answer);
  expect(words(true)).toMatch(/Soak it before you believe it\.$/);
  expect(words(false)).not.toMatch(/Soak/);
});

test('each set-up that was never soaked has a sentence of its own, and no other has', () => {
  const told = ({ predicted }: ReturnType<typeof presentOutlook>) => predicted.map(plainText).join();
  const words = told(presentOutlook(outlook(setup('sheet, predicted', 0.3, true)))).replace(/\s/g, ' ');
  expect(words).toBe(
    'In sheet, predicted, never soaked: 0.55 to 2.20 times as long as in bare, and longest of all in 30 % of the draws.',
  );
  expect(told(presentOutlook(outlook(setup('plate', 0.9))))).toBe('');
});

test('a few words hold the order, its chance and the years', () => {
  expect(presentOutlook(outlook(setup('plate', 0.9))).short.replace(/\s/g, ' ')).toBe(
    'plate 90 %, 1.0 to 4.0 y',
  );
});
