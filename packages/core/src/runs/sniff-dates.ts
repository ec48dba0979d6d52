import { type DateOrder, StampReader } from './read-stamp.js';
import type { SampleTable } from './sniff-table.js';
import {
  type ClockTime,
  isClock,
  judgeTime,
  share,
  type TimeCandidate,
  type TimeQuality,
} from './time-candidate.js';

const stamps = new StampReader();

const isDateTime = (order: DateOrder) => (cell: string) =>
  !Number.isNaN(stamps.dateTime_s(cell, 0, cell.length, order));
const isDate = (order: DateOrder) => (cell: string) =>
  !Number.isNaN(stamps.date_days(cell, 0, cell.length, order)) && stamps.at === cell.length;

const isWhole = (least: number, most: number) => (cell: string) => {
  const value = Number(cell);
  return /^\d{1,4}(\.\d+)?$/.test(cell) && value >= least && value <= most;
};

/** Year, month, day, hour, minute and perhaps second in columns of their own, side by side in that order. */
function splitCandidates(table: SampleTable): TimeCandidate[] {
  const parts = [
    isWhole(1990, 2100),
    isWhole(1, 12),
    isWhole(1, 31),
    isWhole(0, 23),
    isWhole(0, 59),
    isWhole(0, 59.999_999),
  ];
  for (let column = 0; column + 5 <= table.width; column++) {
    const fits = parts.map(
      (test, part) => column + part < table.width && share(table, column + part, test) === 1,
    );
    if (!fits.slice(0, 5).every(Boolean)) continue;
    // A sixth column is the second only where the rows differ by it: whole numbers below 60 may be temperatures.
    const count = fits[5] && judgeTime(splitTime(column, 6), table).falls === 0 ? 6 : 5;
    return [
      {
        time: splitTime(column, count),
        why: `Columns ${column + 1} to ${column + count} hold year, month, day, hour and minute${count === 6 ? ' and second' : ''}.`,
      },
    ];
  }
  return [];
}

function splitTime(column: number, count: 5 | 6): ClockTime {
  return { style: 'iso', columns: Array.from({ length: count }, (_, part) => column + part) };
}

const isHalf = (cell: string) => /^[ap]\.?m\.?$/i.test(cell);

/** Columns of dates with a time of day, or of dates beside a column of times of day. */
export function datedCandidates(table: SampleTable): TimeCandidate[] {
  const candidates: TimeCandidate[] = splitCandidates(table);
  const half = Array.from({ length: table.width }, (_, column) => column).find(
    (column) => share(table, column, isHalf) >= 0.8,
  );
  const andHalf = (column: number) => (half === undefined ? [column] : [column, half]);
  const clocks = Array.from({ length: table.width }, (_, column) => share(table, column, isClock) >= 0.8);
  for (let column = 0; column < table.width; column++) {
    // The time of day usually follows its date; some loggers put it in front.
    const clock = clocks[column + 1] ? column + 1 : clocks.indexOf(true);
    if (share(table, column, isDateTime('year-first')) >= 0.8) {
      candidates.push({
        time: { style: 'iso', columns: [column] },
        why: `Column ${column + 1} holds dates, year first, with a time of day.`,
      });
    } else if (clock >= 0 && share(table, column, isDate('year-first')) >= 0.8) {
      candidates.push({
        time: { style: 'iso', columns: [column, ...andHalf(clock)] },
        why: `Column ${column + 1} holds dates, year first, and column ${clock + 1} the time of day${half === undefined ? '' : `, with AM or PM in column ${half + 1}`}.`,
      });
    } else {
      const whole =
        share(table, column, (cell) => isDateTime('day-month')(cell) || isDateTime('month-day')(cell)) >= 0.8;
      const parted =
        clock >= 0 &&
        share(table, column, (cell) => isDate('day-month')(cell) || isDate('month-day')(cell)) >= 0.8;
      if (whole) candidates.push(orderDates(table, [column]));
      else if (parted) candidates.push(orderDates(table, [column, ...andHalf(clock)]));
    }
  }
  return candidates;
}

/** Day or month first: settled by a number above 12, by a named month, or by a clock that only one order keeps in step. */
function orderDates(table: SampleTable, columns: number[]): TimeCandidate {
  const style = (order: 'day-month' | 'month-day'): ClockTime => ({ style: 'date', columns, order });
  const place =
    columns.length === 1
      ? `Column ${(columns[0] ?? 0) + 1} holds`
      : `Columns ${columns.map((column) => column + 1).join(' and ')} hold`;
  const dayFirst = judgeTime(style('day-month'), table);
  const monthFirst = judgeTime(style('month-day'), table);
  const settled = (order: 'day-month' | 'month-day', reason: string): TimeCandidate => ({
    time: style(order),
    why: `${place} dates, ${order === 'day-month' ? 'day before month' : 'month before day'}: ${reason}.`,
  });
  const sample = table.rows[0]?.cells[columns[0] ?? 0] ?? '';
  if (dayFirst.unread < monthFirst.unread) return settled('day-month', 'no month has a number above 12');
  if (monthFirst.unread < dayFirst.unread) return settled('month-day', 'no month has a number above 12');
  if (/[a-z]{3}/i.test(sample.replace(/[ap]\.?m\.?$/i, '')))
    return settled('day-month', 'the month is named');
  const faults = (seen: TimeQuality) => seen.falls + seen.leaps;
  if (faults(dayFirst) < faults(monthFirst))
    return settled('day-month', 'the other order would make the clock leap');
  if (faults(monthFirst) < faults(dayFirst))
    return settled('month-day', 'the other order would make the clock leap');
  if (dayFirst.times_s[0] === monthFirst.times_s[0])
    return settled('day-month', 'day and month are the same number');

  const isAmerican =
    sample.includes('/') &&
    table.rows.some(({ cells }) => cells.some((cell) => /\d\s*[ap]\.?m\.?$/i.test(cell)));
  const order = isAmerican ? 'month-day' : 'day-month';
  return {
    time: style(order),
    why: `${place} dates; whether day or month comes first is not certain, ${order === 'day-month' ? 'day first' : 'month first'} is taken for now.`,
    questions: [
      {
        field: 'time.order',
        question: `Does "${sample}" begin with the day or with the month?`,
        options: [
          { label: `Day first: ${dateText(dayFirst.times_s[0])}`, set: { 'time.order': 'day-month' } },
          { label: `Month first: ${dateText(monthFirst.times_s[0])}`, set: { 'time.order': 'month-day' } },
        ],
        chosen: isAmerican ? 1 : 0,
      },
    ],
  };
}

function dateText(time_s: number | undefined): string {
  return time_s === undefined ? 'no date' : new Date(time_s * 1000).toISOString().slice(0, 10);
}
