import { expect, test } from 'vitest';
import type { LifeBracket } from './bracket.js';
import { presentBracket } from './present-bracket.js';

const bracket: LifeBracket = {
  baseline: 'bare',
  conditions: '',
  missing: [],
  rows: [
    { setup: 'bare', factor: [1, 1], factor95: [1, 1], load_C: 56, idle_C: 40, byModel: [] },
    {
      setup: 'plate',
      factor: [1.12, 1.41],
      factor95: [1.05, 1.5],
      load_C: 53,
      idle_C: 39,
      byModel: [
        { model: 'low', activation_kJ_per_mol: 24, factor: 1.12 },
        { model: 'high', activation_kJ_per_mol: 60, factor: 1.41 },
      ],
    },
    { setup: 'film', factor: [1, 1.02], factor95: [0.96, 1.07], load_C: 56, idle_C: 40, byModel: [] },
  ],
};
const build = {
  setups: [
    { id: 'bare', name: 'bare', layers: [] },
    { id: 'plate', name: 'plate', layers: [] },
    { id: 'film', name: 'film', layers: [] },
  ],
};

test('a life bracket is a range without a best value, against the baseline', () => {
  const view = presentBracket(build, bracket, 'plate');
  expect(view.rows.map((row) => row.figure)).toEqual(['1.12 to 1.41 ×', '1.00 to 1.02 ×']);
  expect(view.rows.map((row) => row.mark)).toEqual([
    { value: null, thick: [1.12, 1.41], thin: [1.05, 1.5] },
    { value: null, thick: [1, 1.02], thin: [0.96, 1.07] },
  ]);
  expect(view.rows[0]?.runs).toEqual([1.12, 1.41]);
  // An interval that contains 1 does not show that the life differs.
  expect(view.rows.map((row) => row.isFirm)).toEqual([true, false]);
  expect(view.zero).toEqual({ at: 1, words: 'as bare', toward: 'longer →' });
  expect(view.label).toBe('Life as a multiple of that in bare: plate 1.12 to 1.41; film 1.00 to 1.02.');
});

test('a bracket of the baseline alone says that there is nothing to compare', () => {
  expect(presentBracket(build, { ...bracket, rows: bracket.rows.slice(0, 1) }).label).toContain(
    'no other set-up',
  );
});
