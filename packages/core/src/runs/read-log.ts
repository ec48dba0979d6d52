import { formatCount, formatDuration } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import { headerRows, refuseMisfit, usualWidth } from './check-recipe.js';
import { decodeText } from './decode-text.js';
import { describeDoubt } from './describe-doubts.js';
import { describeRecipe } from './describe-recipe.js';
import {
  gapText,
  lateText,
  repeatText,
  restartText,
  spacingText,
  usualSpacing_s,
} from './describe-spacing.js';
import { findDoubts } from './find-doubts.js';
import { clockFault, refuseBarren } from './log-faults.js';
import { orderRows } from './order-rows.js';
import { CellReader } from './read-cell.js';
import { NumberReader } from './read-number.js';
import { day_s } from './read-stamp.js';
import { rowClock } from './row-clock.js';
import type { ImportReport } from './run-result.js';
import { LineWalker, RowCells } from './split-row.js';
import { UnreadTally } from './unread-tally.js';
import { lineSplitter, walkRows } from './walk-rows.js';

/** A log as its recipe reads it: one time axis, every column named in the recipe, and what could not be read. */
export interface LogReading {
  /** Seconds since the first row; strictly rising. */
  readonly after_s: Float64Array;
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
  /** °C; NaN where there was no reading. */
  readonly reading_C: Float64Array;
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
 * A row that comes a little late is sorted into its place; a damaged stamp costs its row.
 *
 * @param bytes the file as it came
 * @param recipe how to read it, from `sniffLog` or as a person corrected it
 * @param file what the faults call the file
 * @throws BadInputError for an empty or binary file, a recipe that does not fit it, a clock that was set back or leaps ahead
 *   by more than a week, and a log with fewer than two usable rows
 */
export function readLog(bytes: Uint8Array, recipe: Recipe, file: string): LogReading {
  const text = decodeText(bytes, recipe.encoding, file);
  const width = usualWidth(text, recipe);
  refuseMisfit(text, recipe, width, file);

  const tally = new UnreadTally();
  const walker = walkRows(text, recipe, tally);
  const { cells } = walker;
  const clock = rowClock(recipe.time, recipe.decimal, recipe.thousands);
  const reader = new CellReader(recipe, tally);
  const numbers = new NumberReader(recipe.decimal);
  const anyProbe = recipe.channels.some((channel) => channel.probe !== undefined);
  const headerText = headerStarts(text, recipe);
  const mayRestart = recipe.time.style === 'elapsed' && recipe.time.restart === 'join';
  const mayShift = recipe.layout === undefined;

  let times_s: Float64Array = new Float64Array(firstCapacity);
  let lineOf: Float64Array = new Float64Array(firstCapacity);
  const readings = recipe.channels.map((channel) => ({
    channel,
    counted: !anyProbe || channel.probe !== undefined,
    reading_C: new Float64Array(firstCapacity) as Float64Array,
    outside_C: new Map<number, number>(),
  }));

  let rows = 0;
  let start_s = 0;
  let last_s = 0;
  let step_s = 1;
  let skipped_s = 0;
  let isRising = true;
  let repeats = 0;
  const restarts: number[] = [];
  // Only in long form does a row stand on several lines.
  const spans: number[] | null = recipe.layout?.form === 'long' ? [] : null;
  let lostLines = 0;

  while (walker.step()) {
    const { line } = walker;
    const time_s = clock.time_s(text, cells);
    if (Number.isNaN(time_s)) {
      tally.leaveOut(headerText.has(cells.cell(text, 0)) ? 'the header again' : 'no readable time', line);
      lostLines += walker.span;
      continue;
    }
    // Rounded to the microsecond: what is finer is the noise of counting from 1970.
    if (rows === 0) start_s = time_s;
    let now_s = Math.round((time_s - start_s + skipped_s) * 1e6) / 1e6;
    if (rows > 0) {
      if (now_s === last_s) {
        repeats++;
        tally.leaveOut('same time as the row before it', line);
        lostLines += walker.span;
        continue;
      }
      if (mayRestart && now_s < last_s) {
        restarts.push(line);
        skipped_s += last_s + step_s - now_s;
        now_s = last_s + step_s;
      } else if (now_s < last_s || now_s - last_s > longestGap_s) isRising = false;
      if (now_s > last_s) step_s = now_s - last_s;
    }
    if (rows === times_s.length) {
      times_s = doubled(times_s);
      lineOf = doubled(lineOf);
      for (const reading of readings) reading.reading_C = doubled(reading.reading_C);
    }

    const shifted = mayShift && cells.count > width && hasNumberBeyond(text, cells, width, numbers);
    if (shifted) tally.count('more cells than the other rows, so its columns cannot be told', line);
    for (const { channel, counted, reading_C, outside_C } of readings) {
      reading_C[rows] = shifted ? Number.NaN : reader.read_C(text, cells, channel, line, counted);
      if (!Number.isNaN(reader.outside_C)) outside_C.set(line, reader.outside_C);
    }
    spans?.push(walker.span);
    times_s[rows] = now_s;
    lineOf[rows] = line;
    last_s = now_s;
    rows++;
  }

  let order: readonly number[] | null = null;
  let late: readonly number[] = [];
  if (!isRising) {
    const ordered = orderRows(times_s, rows, longestGap_s);
    if (!ordered.ok) {
      const stamped = (row: number) => ({
        line: lineOf[row] as number,
        stamp: stampInLine(text, recipe, lineOf[row] as number),
      });
      throw clockFault(file, stamped(ordered.before), stamped(ordered.row), ordered.isBack, recipe);
    }
    for (const { row, reason } of ordered.strays) {
      tally.leaveOut(reason, lineOf[row] as number);
      lostLines += spans?.[row] ?? 1;
    }
    order = ordered.order;
    late = ordered.late;
    rows = order.length;
  }
  const zero_s = order === null || rows === 0 ? 0 : (times_s[order[0] as number] as number);
  const after_s = arrange(times_s, order, rows, zero_s);
  const lines = arrange(lineOf, order, rows, 0);
  const columns = readings.map(({ channel, counted, reading_C, outside_C }) => ({
    column: channel.column,
    header: channel.header,
    probe: channel.probe,
    counted,
    unit: channel.unit,
    outside_C,
    reading_C: arrange(reading_C, order, rows, 0),
  }));
  const anyReading = columns.some(({ counted, reading_C }) => counted && !reading_C.every(Number.isNaN));
  refuseBarren(rows, anyReading, tally, recipe, file);

  const leaveOut = recipe.doubtful === 'leave-out';
  const doubts = findDoubts(
    columns.filter(({ counted }) => counted),
    lines,
    leaveOut,
  );
  const interval_s = usualSpacing_s(after_s);
  const leftOutLines = walker.count.leftOut + lostLines;
  return {
    after_s,
    startedAt: clock.isWallClock ? new Date(Math.round((start_s + zero_s) * 1000)).toISOString() : null,
    channels: columns.map(({ column, header, probe, reading_C }) => ({ column, header, probe, reading_C })),
    report: {
      rows,
      unread: tally.list(),
      lines: {
        header: walker.count.header,
        blank: walker.count.blank,
        read: walker.count.row - lostLines,
        leftOut: leftOutLines,
      },
      recipe,
      conclusions: [
        ...describeRecipe(recipe),
        `${formatCount(rows, 'row')}, usually ${spacingText(interval_s)} apart, over ${formatDuration(after_s.at(-1) ?? 0)}.`,
        ...gapText(longestGap(after_s, lines), interval_s),
        ...repeatText(repeats, rows),
        ...lateText(late.map((row) => lineOf[row] as number)),
        ...restartText(restarts),
        ...doubts.map(describeDoubt),
      ],
      interval_s,
      doubts,
      late: late.map((row) => lineOf[row] as number),
      restarts,
    },
  };
}

function doubled(values: Float64Array): Float64Array {
  const longer = new Float64Array(2 * values.length);
  longer.set(values);
  return longer;
}

/** The values of the rows kept, in their order, less a zero. */
function arrange(
  values: Float64Array,
  order: readonly number[] | null,
  rows: number,
  zero: number,
): Float64Array {
  if (order === null) return values.slice(0, rows);
  if (zero === 0) return Float64Array.from(order, (row) => values[row] as number);
  // The difference of two times that are whole microseconds is one too.
  return Float64Array.from(order, (row) => Math.round(((values[row] as number) - zero) * 1e6) / 1e6);
}

function longestGap(after_s: Float64Array, lines: Float64Array): { gap_s: number; line: number } {
  let longest = { gap_s: 0, line: 0 };
  for (let row = 1; row < after_s.length; row++) {
    const gap_s = (after_s[row] as number) - (after_s[row - 1] as number);
    if (gap_s > longest.gap_s) longest = { gap_s, line: lines[row] as number };
  }
  return longest;
}

/** The first cell of each header line, by which a header that stands again between the rows is known. */
function headerStarts(text: string, recipe: Recipe): Set<string> {
  const starts = new Set(headerRows(text, recipe).map(([first = '']) => first));
  starts.delete('');
  return starts;
}

/** The stamp as it stands in the file, for a message a person compares with the file. */
function stampInLine(text: string, recipe: Recipe, line: number): string {
  if (recipe.time.style === 'interval') return '';
  const lines = new LineWalker(text);
  while (lines.line < line && lines.step());
  const cells = new RowCells(recipe.delimiter);
  lineSplitter(recipe)(text, lines.from, lines.to, cells);
  return recipe.time.columns.map((column) => cells.cell(text, column).slice(0, 40)).join(' ');
}

function hasNumberBeyond(text: string, cells: RowCells, width: number, numbers: NumberReader): boolean {
  for (let column = width; column < Math.min(cells.count, cells.capacity); column++) {
    if (!Number.isNaN(numbers.read(text, cells.start(column), cells.end(column)))) return true;
  }
  return false;
}
