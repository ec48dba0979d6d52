import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type DateOrder, StampReader } from './read-stamp.js';

const dateTime_s = (cell: string, order: DateOrder = 'year-first') =>
  new StampReader().dateTime_s(cell, 0, cell.length, order);
const clock_s = (cell: string) => {
  const stamps = new StampReader();
  const value = stamps.clock_s(cell, 0, cell.length);
  return stamps.at === cell.length ? value : Number.NaN;
};

describe('dates with a time of day, as seconds since 1970 in UTC', () => {
  // 10^9 s and 2^31 - 1 s after 1970 are well-known dates: derived here from days of 86 400 s (POSIX time).
  test.each([
    ['2001-09-09T01:46:40Z', 'year-first', 1e9],
    ['2038-01-19 03:14:07', 'year-first', 2 ** 31 - 1],
    ['2001-09-09T03:46:40+02:00', 'year-first', 1e9],
    ['2001-09-08T20:16:40-0530', 'year-first', 1e9],
    ['2001/09/09 01:46:40.25', 'year-first', 1e9 + 0.25],
    ['2001.09.09 01:46:40,25', 'year-first', 1e9 + 0.25],
    ['2001-09-09 01:46:40:250', 'year-first', 1e9 + 0.25],
    ['20010909T014640Z', 'year-first', 1e9],
    ['09.09.2001 01:46:40', 'day-month', 1e9],
    ['9/9/01 1:46:40 AM', 'month-day', 1e9],
    ['19/01/2038 03:14:07', 'day-month', 2 ** 31 - 1],
    ['1/19/2038 3:14:07 a.m.', 'month-day', 2 ** 31 - 1],
    ['19-Jan-2038 03:14:07', 'month-day', 2 ** 31 - 1],
    ['19 January 38 03:14:07', 'day-month', 2 ** 31 - 1],
    ['1970-01-01 00:01', 'year-first', 60],
    ['2024-02-29 00:00:00', 'day-month', 1_709_164_800],
  ] as const)('%s (%s)', (cell, order, expected_s) => {
    expect(dateTime_s(cell, order)).toBeCloseTo(expected_s, 6);
  });

  test.each([
    ['2023-02-29 00:00:00', 'year-first'],
    ['2024-13-01 00:00', 'year-first'],
    ['2024-05-01', 'year-first'],
    ['2024-05-01 24:00:00', 'year-first'],
    ['2024-05-01 10:60:00', 'year-first'],
    ['2024-05/01 10:00', 'year-first'],
    ['01.05.2024 10:00', 'year-first'],
    ['2024-05-01 10:00x', 'year-first'],
    ['31/04/2024 10:00', 'day-month'],
    ['4/31/2024 10:00', 'month-day'],
    ['13/13/2024 10:00', 'day-month'],
    ['time', 'day-month'],
    ['', 'day-month'],
    ['21.5', 'day-month'],
    ['2024-05-01 13:00 PM', 'year-first'],
  ] as const)('"%s" is no date (%s)', (cell, order) => {
    expect(dateTime_s(cell, order)).toBeNaN();
  });
});

// Noon and midnight are where twelve-hour clocks are misread: 12 AM is 0 h. Common practice, no source.
test.each([
  ['00:00:00', 0],
  ['12:00:00 AM', 0],
  ['12:00:00 PM', 43_200],
  ['1:30 pm', 48_600],
  ['11:59:59 p.m.', 86_399],
  ['23:59', 86_340],
  ['9:05:03.5', 32_703.5],
])('the time of day %s is %d s after midnight', (cell, expected_s) => {
  expect(clock_s(cell)).toBe(expected_s);
});

test('every instant the language writes in ISO 8601 is read back', () => {
  const range = { min: new Date('1950-01-01'), max: new Date('2200-01-01'), noInvalidDate: true };
  fc.assert(
    fc.property(fc.date(range), (date) => {
      expect(dateTime_s(date.toISOString())).toBeCloseTo(date.getTime() / 1000, 5);
    }),
  );
});
