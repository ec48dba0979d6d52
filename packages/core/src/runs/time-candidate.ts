import type { Recipe } from '../records/index.js';
import type { ImportQuestion } from './import-question.js';
import { day_s, StampReader } from './read-stamp.js';
import { rowClock } from './row-clock.js';
import type { SampleTable } from './sniff-table.js';
import { RowCells } from './split-row.js';

/** Every time style that reads columns. */
export type ClockTime = Exclude<Recipe['time'], { style: 'interval' }>;

/** One way in which the log may tell time. */
export interface TimeCandidate {
  readonly time: ClockTime;
  readonly why: string;
  readonly questions?: readonly ImportQuestion[];
  /** Neither its header nor its form says that it is time; only its even steps do. */
  readonly isGuess?: boolean;
}

export interface TimeQuality {
  /** The readable times, in order. */
  readonly times_s: readonly number[];
  readonly falls: number;
  /** Steps of more than a week. */
  readonly leaps: number;
  /** Share of the steps that are none. */
  readonly repeats: number;
  /** Share of the rows without a readable time. */
  readonly unread: number;
}

/** The times of the sample's rows under a time style, NaN where unreadable. */
export function timesOf(time: Recipe['time'], table: SampleTable): number[] {
  const clock = rowClock(time, table.decimal, table.thousands);
  const laid = new RowCells(table.delimiter);
  return table.rows.map(({ cells }) => clock.time_s(laid.lay(cells), laid));
}

/** How a time style does on the sample: a good one reads every row and never falls, repeats or leaps. */
export function judgeTime(time: Recipe['time'], table: SampleTable): TimeQuality {
  const times_s = timesOf(time, table);
  const read_s = times_s.filter((time_s) => !Number.isNaN(time_s));
  let falls = 0;
  let repeats = 0;
  let leaps = 0;
  for (let row = 1; row < read_s.length; row++) {
    const step_s = (read_s[row] as number) - (read_s[row - 1] as number);
    if (step_s < 0) falls++;
    if (step_s === 0) repeats++;
    if (step_s > 7 * day_s) leaps++;
  }
  const pairs = Math.max(1, read_s.length - 1);
  return {
    times_s: read_s,
    falls,
    leaps,
    repeats: repeats / pairs,
    unread: 1 - read_s.length / Math.max(1, times_s.length),
  };
}

/** The share of a column's cells that pass a test; 0 where most cells are empty. */
export function share(table: SampleTable, column: number, test: (cell: string) => boolean): number {
  let hits = 0;
  let filled = 0;
  for (const { cells } of table.rows) {
    const cell = cells[column] ?? '';
    if (cell === '') continue;
    filled++;
    if (test(cell)) hits++;
  }
  return filled < 0.5 * table.rows.length ? 0 : hits / filled;
}

/** The mean spacing of the rows between the first and the last change of the stamp. */
export function evenSpacing_s(times_s: readonly number[]): number | undefined {
  const firstChange = times_s.findIndex((time_s, row) => row > 0 && time_s !== times_s[row - 1]);
  const lastChange = times_s.findLastIndex((time_s, row) => row > 0 && time_s !== times_s[row - 1]);
  if (firstChange < 0 || lastChange <= firstChange) return undefined;
  const spacing_s =
    ((times_s[lastChange] as number) - (times_s[firstChange] as number)) / (lastChange - firstChange);
  const rounded_s = Number(spacing_s.toPrecision(3));
  return rounded_s > 0 && rounded_s <= day_s ? rounded_s : undefined;
}

const stamps = new StampReader();

export const isClock = (cell: string): boolean =>
  cell.includes(':') && !Number.isNaN(stamps.clock_s(cell, 0, cell.length)) && stamps.at === cell.length;
export const isHms = (cell: string): boolean =>
  !Number.isNaN(stamps.hms_s(cell, 0, cell.length)) && stamps.at === cell.length;
