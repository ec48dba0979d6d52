import { type LifeForecast, type LifeView, presentCells, type YearView } from '@soakbench/core/life';
import { formatNumber, formatPercent } from '@soakbench/core/measure';
import type { Row } from '../parts/table.js';

export function setupRows(view: LifeView, chosen: string | null): Row[] {
  return view.rows.map(({ setup, name, years, ratio, chance, delivered, runTime, costPerYear }) => ({
    key: setup,
    pick: setup === chosen,
    cells: [
      name,
      years,
      ratio === '' ? '1, the baseline' : ratio,
      chance,
      delivered,
      runTime,
      // Without a price of the pack the column would only say so in every row.
      ...(view.rows.some((row) => row.costPerYear !== '') ? [costPerYear] : []),
    ],
  }));
}

const range = (low: number, high: number, decimals = 0) => {
  const [from, to] = [formatNumber(low, decimals), formatNumber(high, decimals)];
  return from === to ? from : `${from} to ${to}`;
};

/** Whole years only: the drawing has the rest. */
export function bandRows({ setups }: LifeForecast): Row[] {
  return setups.flatMap(({ setup, name, bands }) =>
    bands
      .filter(({ year }) => Number.isInteger(year) && year > 0)
      .map(({ year, p05, p25, p75, p95 }) => ({
        key: `${setup} ${year}`,
        cells: [
          name,
          `${year} ${year === 1 ? 'year' : 'years'}`,
          range(100 * p25, 100 * p75),
          range(100 * p05, 100 * p95),
        ],
      })),
  );
}

/** One row for each set-up: which cell ends the pack, how often, and how far apart the cells drift. */
export function cellRows(forecast: LifeForecast): Row[] {
  return presentCells(forecast).map(({ setup, name, cells, ahead }) => ({
    key: setup,
    cells: [name, ...cells.map(({ first, years }) => `${first}; ${years}`), ahead],
  }));
}

const months = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

export function yearRows(year: YearView): Row[] {
  return year.months.map(({ room_C, cell_C, warmest_C, charge }, index) => ({
    key: String(index),
    cells: [
      months[index] ?? '',
      formatNumber(room_C, 1),
      formatNumber(cell_C, 1),
      formatNumber(warmest_C, 1),
      formatPercent(charge),
    ],
  }));
}
