import { formatCount, formatDuration } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import { isRawUnit } from './channel-unit.js';
import { refuseMisfit, usualWidth } from './check-recipe.js';
import { decodeText } from './decode-text.js';
import { describeRecipe } from './describe-recipe.js';
import { gapText, repeatText, spacingText, usualSpacing_s } from './describe-spacing.js';
import { clockFault, refuseBarren } from './log-faults.js';
import { CellReader } from './read-cell.js';
import { NumberReader } from './read-number.js';
import { day_s } from './read-stamp.js';
import { rowClock } from './row-clock.js';
import type { ImportReport } from './run-result.js';
import { LineWalker, RowCells } from './split-row.js';
import { UnreadTally } from './unread-tally.js';

/** A log as its recipe reads it: one time axis, every column named in the recipe, and what could not be read. */
export interface LogReading {
  /** Seconds since the first row; strictly rising. */
  readonly after_s: Float64Array;
  /** Line of each row in the file, counted from 1. */
  readonly lines: Uint32Array;
  /** Wall clock of the first row, ISO 8601 in UTC, where the log has one. */
  readonly startedAt: string | null;
  readonly channels: readonly LogChannel[];
  readonly report: ImportReport;
}

export interface LogChannel {
  /** Counted from 0, as in the recipe. */
  readonly column: number;
  readonly header: string;
  readonly probe: string | undefined;
  /** °C; NaN where there was no reading. Of a raw signal all is NaN until `convertSignals` has made temperatures of it. */
  readonly reading_C: Float64Array;
  /** The numbers as they stand in the file, in the column's own unit, where that is a raw signal. */
  readonly signal?: Float64Array;
}

/** A run lasts hours. A longer leap is a clock that was set while logging. @assumed common practice, no source */
const longestGap_s = 7 * day_s;

/** Arrays grow with the rows that are kept, so that a file of line ends costs no memory. */
const firstCapacity = 4096;

/**
 * Reads a log by its recipe.
 *
 * Every row behind the header is either on the time axis or counted in `report.unread` with a reason that begins with
 * "row left out"; a cell without a reading is NaN and counted too. Where a stamp repeats, the first row is kept: a log
 * whose clock writes whole minutes but has a row each second loses most of its rows so, and `report.conclusions` says it.
 *
 * @param bytes the file as it came
 * @param recipe how to read it, from `sniffLog` or as a person corrected it
 * @param file what the faults call the file
 * @throws BadInputError for an empty or binary file, a recipe that does not fit it, a clock that jumps back or leaps ahead by
 *   more than a week, and a log with fewer than two usable rows
 */
export function readLog(bytes: Uint8Array, recipe: Recipe, file: string): LogReading {
  const text = decodeText(bytes, recipe.encoding, file);
  const width = usualWidth(text, recipe);
  refuseMisfit(text, recipe, width, file);

  const lines = new LineWalker(text);
  for (let skipped = 0; skipped < recipe.headerLines; skipped++) lines.step();

  const tally = new UnreadTally();
  const cells = new RowCells(recipe.delimiter);
  const clock = rowClock(recipe.time, recipe.decimal);
  const reader = new CellReader(recipe, tally);
  const numbers = new NumberReader(recipe.decimal);
  const anyProbe = recipe.channels.some((channel) => channel.probe !== undefined);

  let after_s: Float64Array = new Float64Array(firstCapacity);
  let rowLines: Uint32Array = new Uint32Array(firstCapacity);
  const readings = recipe.channels.map((channel) => ({
    channel,
    counted: !anyProbe || channel.probe !== undefined || channel.coldJunction === true,
    // Of a raw signal the number as written; it is handed out as `signal`.
    reading_C: new Float64Array(firstCapacity) as Float64Array,
  }));

  let rows = 0;
  let start_s = 0;
  let last_s = 0;
  let lastLine = 0;
  let lastFrom = 0;
  let lastTo = 0;
  let anyReading = false;
  let longest = { gap_s: 0, line: 0 };
  let repeats = 0;

  while (lines.step()) {
    if (lines.isBlank()) continue;
    const line = lines.line;
    if (lines.isComment()) {
      tally.leaveOut('a note, not a row', line);
      continue;
    }
    cells.split(text, lines.from, lines.to);
    const time_s = clock.time_s(text, cells);
    if (Number.isNaN(time_s)) {
      tally.leaveOut('no readable time', line);
      continue;
    }
    // Rounded to the microsecond: what is finer is the noise of counting from 1970.
    const now_s = rows === 0 ? 0 : Math.round((time_s - start_s) * 1e6) / 1e6;
    if (rows === 0) start_s = time_s;
    else if (now_s === last_s) {
      repeats++;
      tally.leaveOut('same time as the row before it', line);
      continue;
    } else if (now_s < last_s || now_s - last_s > longestGap_s) {
      const stamp = stampOf(text, cells, recipe);
      cells.split(text, lastFrom, lastTo);
      const lastStamp = stampOf(text, cells, recipe);
      throw clockFault(file, { line: lastLine, stamp: lastStamp }, { line, stamp }, now_s < last_s, recipe);
    }
    if (now_s - last_s > longest.gap_s) longest = { gap_s: now_s - last_s, line };
    if (rows === after_s.length) {
      after_s = doubled(after_s);
      rowLines = doubled(rowLines);
      for (const reading of readings) reading.reading_C = doubled(reading.reading_C);
    }

    const shifted = cells.count > width && hasNumberBeyond(text, cells, width, numbers);
    if (shifted) tally.count('more cells than the other rows, so its columns cannot be told', line);
    for (const { channel, counted, reading_C } of readings) {
      const reading = shifted
        ? Number.NaN
        : reader.read_C(text, cells, channel.column, channel.unit, line, counted);
      reading_C[rows] = reading;
      if (counted && !Number.isNaN(reading)) anyReading = true;
    }
    after_s[rows] = now_s;
    rowLines[rows] = line;
    last_s = now_s;
    lastLine = line;
    lastFrom = lines.from;
    lastTo = lines.to;
    rows++;
  }

  refuseBarren(rows, anyReading, tally, recipe, file);
  const used_s = after_s.slice(0, rows);
  const interval_s = usualSpacing_s(used_s);
  return {
    after_s: used_s,
    lines: rowLines.slice(0, rows),
    startedAt: clock.isWallClock ? new Date(Math.round(start_s * 1000)).toISOString() : null,
    channels: readings.map(({ channel, reading_C }) => ({
      column: channel.column,
      header: channel.header,
      probe: channel.probe,
      ...(isRawUnit(channel.unit)
        ? { reading_C: new Float64Array(rows).fill(Number.NaN), signal: reading_C.slice(0, rows) }
        : { reading_C: reading_C.slice(0, rows) }),
    })),
    report: {
      rows,
      unread: tally.list(),
      recipe,
      conclusions: [
        ...describeRecipe(recipe),
        `${formatCount(rows, 'row')}, usually ${spacingText(interval_s)} apart, over ${formatDuration(last_s)}.`,
        ...gapText(longest, interval_s),
        ...repeatText(repeats, rows),
      ],
      interval_s,
    },
  };
}

function doubled<Values extends Float64Array | Uint32Array>(values: Values): Values {
  const longer = new (values.constructor as new (length: number) => Values)(2 * values.length);
  longer.set(values);
  return longer;
}

/** The stamp as it stands in the file, for a message a person compares with the file. */
function stampOf(text: string, cells: RowCells, recipe: Recipe): string {
  if (recipe.time.style === 'interval') return '';
  return recipe.time.columns.map((column) => cells.cell(text, column).slice(0, 40)).join(' ');
}

function hasNumberBeyond(text: string, cells: RowCells, width: number, numbers: NumberReader): boolean {
  for (let column = width; column < Math.min(cells.count, cells.capacity); column++) {
    if (!Number.isNaN(numbers.read(text, cells.start(column), cells.end(column)))) return true;
  }
  return false;
}
