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

/**
 * The clock that a recipe's time style describes.
 *
 * A time of day that steps back by more than half a day has passed midnight; a smaller step back is left as it is, for
 * the caller to refuse. The style `interval` has no clock: every row it is asked about is one interval later.
 */
export function rowClock(time: Recipe['time'], decimal: Recipe['decimal']): RowClock {
  const stamps = new StampReader();
  if (time.style === 'interval') {
    let rows = -1;
    return { isWallClock: false, time_s: () => ++rows * time.interval_s };
  }
  const [column, second] = time.columns as [number, number | undefined];
  const has = (cells: RowCells, index: number) => index < cells.count && index < cells.capacity;

  if (time.style === 'iso' || time.style === 'date') {
    const order = time.style === 'iso' ? 'year-first' : time.order;
    if (second === undefined) {
      return {
        isWallClock: true,
        time_s: (text, cells) =>
          has(cells, column)
            ? stamps.dateTime_s(text, cells.start(column), cells.end(column), order)
            : Number.NaN,
      };
    }
    return {
      isWallClock: true,
      time_s: (text, cells) =>
        has(cells, column) && has(cells, second)
          ? stamps.dateAndTime_s(
              text,
              cells.start(column),
              cells.end(column),
              cells.start(second),
              cells.end(second),
              order,
            )
          : Number.NaN,
    };
  }

  if (time.style === 'clock') {
    let previous_s = Number.NaN;
    let midnights_s = 0;
    return {
      isWallClock: false,
      time_s: (text, cells) => {
        if (!has(cells, column)) return Number.NaN;
        const clock_s = stamps.clock_s(text, cells.start(column), cells.end(column));
        if (Number.isNaN(clock_s) || stamps.at !== cells.end(column)) return Number.NaN;
        if (previous_s - clock_s > day_s / 2) midnights_s += day_s;
        previous_s = clock_s;
        return clock_s + midnights_s;
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

  const numbers = new NumberReader(decimal);
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
