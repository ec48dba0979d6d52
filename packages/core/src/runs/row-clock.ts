import type { Recipe } from '../records/index.js';
import { NumberReader } from './read-number.js';
import { day_s, StampReader } from './read-stamp.js';
import type { RowCells } from './split-row.js';

/** Tells the time of one row after the other. */
export interface RowClock {
  /** Seconds on the log's own clock; NaN where the row has no readable stamp. */
  time_s(text: string, cells: RowCells): number;
  /** Whether the clock counts from 1970 in UTC, so that the run's start has a date. */
  readonly isWallClock: boolean;
}

const elapsedUnits_s = { ms: 1e-3, s: 1, min: 60, h: 3600 } as const;

/** The largest time a date can be made from, s. */
const latest_s = 8.64e12;

/** How far back across midnight a row may be late. @assumed one minute: loggers that write late are late by a row or two */
const late_s = 60;

/** Date, time of day and AM/PM, or year, month, day, hour, minute and second, written as one stamp. */
function joinStamp(parts: readonly string[]): string {
  if (parts.length < 5) return parts.join(' ');
  const [year = '', month = '', day = '', ...clock] = parts;
  const padded = clock.map((part) => part.replace(/^\d(?!\d)/, '0$&'));
  return `${year}-${month}-${day} ${padded.join(':')}`;
}

/**
 * The clock that a recipe's time style describes.
 *
 * A time of day that steps back by more than half a turn of its dial has passed midnight (or noon); a smaller step back is
 * left as it is, for the caller to judge. The style `interval` has no clock: every row it is asked about is one interval later.
 */
export function rowClock(
  time: Recipe['time'],
  decimal: Recipe['decimal'],
  thousands?: Recipe['thousands'],
): RowClock {
  const stamps = new StampReader();
  if (time.style === 'interval') {
    let rows = -1;
    return { isWallClock: false, time_s: () => ++rows * time.interval_s };
  }
  const [column, second] = time.columns as [number, number | undefined];
  const has = (cells: RowCells, index: number) => index < cells.count && index < cells.capacity;

  if (time.style === 'iso' || time.style === 'date') {
    const order = time.style === 'iso' ? 'year-first' : time.order;
    // What the stamp itself says of its offset goes before what was said of the log.
    const ahead_s = 60 * (time.utcOffset_min ?? 0);
    const inUtc_s = (stamp_s: number) => (stamps.hasOffset ? stamp_s : stamp_s - ahead_s);
    if (time.columns.length > 2) {
      return {
        isWallClock: true,
        time_s: (text, cells) => {
          if (!time.columns.every((part) => has(cells, part))) return Number.NaN;
          const stamp = joinStamp(time.columns.map((part) => cells.cell(text, part)));
          return inUtc_s(stamps.dateTime_s(stamp, 0, stamp.length, order));
        },
      };
    }
    if (second === undefined) {
      return {
        isWallClock: true,
        time_s: (text, cells) =>
          has(cells, column)
            ? inUtc_s(stamps.dateTime_s(text, cells.start(column), cells.end(column), order))
            : Number.NaN,
      };
    }
    return {
      isWallClock: true,
      time_s: (text, cells) =>
        has(cells, column) && has(cells, second)
          ? inUtc_s(
              stamps.dateAndTime_s(
                text,
                cells.start(column),
                cells.end(column),
                cells.start(second),
                cells.end(second),
                order,
              ),
            )
          : Number.NaN,
    };
  }

  if (time.style === 'clock') {
    const turn_s = time.dial_h === 12 ? day_s / 2 : day_s;
    let previous_s = Number.NaN;
    let turns_s = 0;
    return {
      isWallClock: false,
      time_s: (text, cells) => {
        if (!has(cells, column)) return Number.NaN;
        const read_s = stamps.clock_s(text, cells.start(column), cells.end(column));
        if (Number.isNaN(read_s) || stamps.at !== cells.end(column)) return Number.NaN;
        const clock_s = time.dial_h === 12 ? read_s % turn_s : read_s;
        if (previous_s - clock_s > turn_s / 2) turns_s += turn_s;
        // A row that is late by a little across midnight belongs to the turn before.
        else if (clock_s - previous_s > turn_s - late_s && turns_s > 0) return clock_s + turns_s - turn_s;
        previous_s = clock_s;
        return clock_s + turns_s;
      },
    };
  }

  if (time.style === 'elapsed' && time.unit === 'h:m:s') {
    return {
      isWallClock: false,
      time_s: (text, cells) => {
        if (!has(cells, column)) return Number.NaN;
        const elapsed_s = stamps.hms_s(text, cells.start(column), cells.end(column));
        return stamps.at === cells.end(column) ? elapsed_s : Number.NaN;
      },
    };
  }

  const numbers = new NumberReader(decimal, thousands);
  const unit_s = elapsedUnits_s[time.unit as keyof typeof elapsedUnits_s];
  return {
    isWallClock: time.style === 'epoch',
    time_s: (text, cells) => {
      if (!has(cells, column)) return Number.NaN;
      const value = numbers.read(text, cells.start(column), cells.end(column));
      // A unit of temperature behind the number means that this is not the time.
      if (numbers.unit !== undefined) return Number.NaN;
      const time_s = unit_s === 1e-3 ? value / 1000 : value * unit_s;
      return Math.abs(time_s) <= latest_s ? time_s : Number.NaN;
    },
  };
}
