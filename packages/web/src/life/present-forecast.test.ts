import {
  forecastLife,
  type LifeInput,
  layOutYear,
  presentLife,
  presentYear,
  risesInOrder,
} from '@soakbench/core/life';
import { expect, test } from 'vitest';
import { bandRows, cellRows, setupRows, yearRows } from './present-forecast.js';

const rise = (value: number) => ({ value, u: 0.4, dof: 9 });
const setup = (id: string, load_K: number) => ({
  setup: id,
  name: id,
  rises: { load: [rise(load_K), rise(load_K - 4)], charging: [rise(6)], docked: [rise(3)] },
});
const input: LifeInput = {
  pack: { chemistry: 'LCO', series: 2, energy_Wh: 38 },
  duty: {
    activities: [{ id: 'load', name: 'under load', h_per_day: 4, use_W: 4 }],
    charging: { habit: 'overnight' },
    room: { monthly_C: [25] },
  },
  setups: [setup('bare', 24), setup('plate', 18)],
  draws: 200,
  seed: 3,
};
const result = forecastLife(input);
if (!result.ok) throw new Error(result.reason.kind);
const forecast = result.value;

test('one row for each set-up, the chosen one marked, the first one as the baseline', () => {
  const rows = setupRows(presentLife(forecast), 'plate');
  expect(rows.map(({ pick }) => pick)).toEqual([false, true]);
  expect(rows[0]?.cells[2]).toBe('1, the baseline');
  expect(rows[1]?.cells[2]).toMatch(/times$/);
  expect(rows[0]?.cells).toHaveLength(6);
  const priced = presentLife(forecast);
  const [first, ...others] = priced.rows;
  if (!first) throw new Error('There is no row.');
  const withPrice = { ...priced, rows: [{ ...first, costPerYear: '9 EUR a year' }, ...others] };
  expect(setupRows(withPrice, null)[0]?.cells.at(-1)).toBe('9 EUR a year');
});

test('bands by whole years, half of the draws within nine in ten', () => {
  const rows = bandRows(forecast);
  expect(rows).toHaveLength(2 * forecast.horizon_years);
  expect(rows[0]?.cells[1]).toBe('1 year');
  const numbers = (cell: unknown) => String(cell).split(' to ').map(Number);
  for (const { cells } of rows) {
    const [half, most] = [numbers(cells[2]), numbers(cells[3])];
    expect(half[0]).toBeGreaterThanOrEqual(most[0] ?? Number.NaN);
    expect(half.at(-1)).toBeLessThanOrEqual(most.at(-1) ?? Number.NaN);
  }
});

test('cells with how often each gives out first: the warmer one more often', () => {
  const rows = cellRows(forecast);
  expect(rows).toHaveLength(2);
  for (const { cells } of rows) {
    const [first, second] = cells.slice(1, 3).map((cell) => Number.parseFloat(String(cell)));
    expect(first).toBeGreaterThan(second ?? 0);
    // Either is rounded to a whole per cent.
    expect(Math.abs((first ?? 0) + (second ?? 0) - 100)).toBeLessThanOrEqual(1);
  }
});

test('the year month by month', () => {
  const year = layOutYear(input.duty, 38);
  const rows = yearRows(presentYear(year, risesInOrder(year, setup('a', 24).rises)));
  expect(rows).toHaveLength(12);
  expect(rows[0]?.cells.slice(0, 2)).toEqual(['January', '25.0']);
  expect(rows[6]?.cells[3]).toBe('49.0');
});
