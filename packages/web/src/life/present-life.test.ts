import type { LifeBracket } from '@soakbench/core/life';
import { plainText } from '@soakbench/core/measure';
import { describe, expect, test } from 'vitest';
import { bracketRows, bracketWords, lifeAnswer, modelRows } from './present-life.js';

const build = {
  setups: [
    { id: 'bare', name: 'bare', layers: [] },
    { id: 'film', name: 'film', layers: [] },
    { id: 'plate', name: 'plate', layers: [] },
  ],
};

const row = (setup: string, factor: readonly [number, number], factor95: readonly [number, number]) => ({
  setup,
  factor,
  factor95,
  load_C: 46,
  idle_C: 31,
  byModel: [
    { model: 'NMC pouch, calendar', activation_kJ_per_mol: 70.8, factor: factor[0] },
    { model: 'NMC/graphite, calendar', activation_kJ_per_mol: 77.3, factor: factor[1] },
  ],
});

const life: LifeBracket = {
  baseline: 'bare',
  rows: [
    row('bare', [1, 1], [1, 1]),
    row('film', [1, 1.01], [0.95, 1.08]),
    row('plate', [1.05, 1.2], [1.03, 1.28]),
  ],
  conditions: '4 h under load a day',
  missing: [],
};

describe('what the heat costs, in words', () => {
  test('a range, and plainly no year count', () => {
    const answer = plainText(lifeAnswer(build, life, 'plate'));
    expect(answer).toContain('1.05 to 1.20 times as long as with bare');
    expect(answer).toContain('No year count');
    expect(answer).not.toMatch(/\d\s*years?/);
  });
  test('where the doubt spans one, it says that there may be no difference', () => {
    expect(plainText(lifeAnswer(build, life, 'film'))).toContain('it may make no difference');
  });
  test('without a chosen set-up it speaks of the one that gains most for certain', () => {
    expect(bracketWords(build, life, null)).toContain('With plate');
  });
  test('with the baseline alone there is nothing to compare', () => {
    const alone = { ...life, rows: life.rows.slice(0, 1) };
    expect(plainText(lifeAnswer(build, alone, null))).toMatch(/^Only bare was measured/);
  });
});

test('the table gives the baseline as the baseline and no factor of its own', () => {
  expect(bracketRows(build, life, 'plate').map(({ cells }) => cells[1])).toEqual([
    '1, the baseline',
    '1.00 to 1.01 ×',
    '1.05 to 1.20 ×',
  ]);
});

test('each model stands in a row with its source and the factor of every set-up but the baseline', () => {
  expect(modelRows(life)[0]?.cells).toEqual(['NMC pouch, calendar', 'SMITH-17', '70.8', '1.00 ×', '1.05 ×']);
});
