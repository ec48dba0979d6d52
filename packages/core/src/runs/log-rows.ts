import type { Recipe } from '../records/index.js';
import { isRawUnit } from './channel-unit.js';
import { clockFault, refuseBarren, type StampedLine } from './log-faults.js';
import type { LogReading } from './log-reading.js';
import { orderRows } from './order-rows.js';
import { CellReader } from './read-cell.js';
import { NumberReader } from './read-number.js';
import { day_s } from './read-stamp.js';
import { reportLog } from './report-log.js';
import { rowClock } from './row-clock.js';
import { RowLines } from './row-lines.js';
import { RowCells } from './split-row.js';
import { UnreadTally } from './unread-tally.js';
import { lineSplitter, type RowWalker, walkRows } from './walk-rows.js';

/** A run lasts hours. A longer leap is a clock that was set while logging. @assumed common practice, no source */
export const longestGap_s = 7 * day_s;

/** Where nothing is known of the size, arrays grow with the rows that are kept. */
const firstCapacity = 4096;

/** Stamps of rows out of order that are kept for a message, at most: a log written by two clocks has them by the thousand. */
const mostStamps = 64;

/**
 * The rows of a log so far: the time axis, the readings and what could not be read.
 *
 * Text is taken by `takeText`, which understands every row there is. The kernel for plain rows writes to the same fields,
 * so that it may take whatever it understands and leave the rest; between two calls they hold what either of them left.
 * Rows stand in the order of the file until `finish` puts them in that of their times.
 */
export class LogRows {
  after_s: Float64Array;
  /** The line of each row, in long form its first. */
  readonly lines = new RowLines();
  /** One array per channel of the recipe, °C; of a raw signal the number as written, handed out as `signal`. */
  readonly readings_C: Float64Array[];
  /** False for a channel whose unread cells are nobody's loss. */
  readonly counted: readonly boolean[];
  /** Rows kept. */
  rows = 0;
  /** Lines seen, the header's included. */
  line: number;
  start_s = 0;
  /** Of the row kept last, whether its time rose or not. */
  last_s = 0;
  lastLine = 0;
  anyReading = false;
  /** The text of the last row that was kept, for a message that compares it with the next. */
  lastRow: () => string = () => '';

  readonly cells: CellReader;
  private readonly tally = new UnreadTally();
  private readonly walker: RowWalker;
  private readonly split: ReturnType<typeof lineSplitter>;
  private readonly lone: RowCells;
  private readonly clock: ReturnType<typeof rowClock>;
  private readonly numbers: NumberReader;
  /** Readings outside every probe's range, of each counted channel by their line, °C. */
  private readonly outside_C: readonly Map<number, number>[];
  /** Lines of each row; null where a row is a line, which is so but for long form. */
  private readonly spans: number[] | null;
  private readonly mayRestart: boolean;
  private readonly mayShift: boolean;
  private isRising = true;
  private readonly stampOfRow = new Map<number, string>();
  private skipped_s = 0;
  private step_s = 1;
  private readonly restarts: number[] = [];
  private repeats = 0;
  private readonly recipe: Recipe;
  private readonly width: number;
  private readonly file: string;
  private readonly headerStarts: ReadonlySet<string>;

  /**
   * @param width cells most rows have
   * @param headerStarts the first cell of each header line, by which a header that stands again between the rows is known
   */
  constructor(recipe: Recipe, width: number, file: string, headerStarts: ReadonlySet<string>) {
    this.recipe = recipe;
    this.width = width;
    this.file = file;
    this.headerStarts = headerStarts;
    this.line = recipe.headerLines;
    this.walker = walkRows(recipe, this.tally);
    this.split = lineSplitter(recipe);
    this.lone = new RowCells(recipe.delimiter, 1);
    this.clock = rowClock(recipe.time, recipe.decimal, recipe.thousands);
    this.cells = new CellReader(recipe, this.tally);
    this.numbers = new NumberReader(recipe.decimal);
    this.mayRestart = recipe.time.style === 'elapsed' && recipe.time.restart === 'join';
    this.mayShift = recipe.layout === undefined;
    this.spans = recipe.layout?.form === 'long' ? [] : null;
    const anyProbe = recipe.channels.some((channel) => channel.probe !== undefined);
    this.counted = recipe.channels.map(
      (channel) => !anyProbe || channel.probe !== undefined || channel.coldJunction === true,
    );
    this.outside_C = recipe.channels.map(() => new Map());
    this.after_s = new Float64Array(firstCapacity);
    this.readings_C = recipe.channels.map(() => new Float64Array(firstCapacity));
  }

  /** Takes whole lines of the log, whatever they hold. */
  takeText(text: string, lineEnd: '\n' | '\r'): void {
    const { walker } = this;
    walker.begin(text, lineEnd, this.line);
    while (walker.step()) this.takeRow(text);
    this.line = walker.seen;
  }

  private takeRow(text: string): void {
    const { recipe, walker } = this;
    const { cells, line } = walker;
    const time_s = this.clock.time_s(text, cells);
    if (Number.isNaN(time_s)) {
      const isHeader = this.headerStarts.has(cells.cell(text, 0));
      this.tally.leaveOut(isHeader ? 'the header again' : 'no readable time', line);
      return;
    }
    // Rounded to the microsecond: what is finer is the noise of counting from 1970.
    if (this.rows === 0) this.start_s = time_s;
    let now_s = Math.round((time_s - this.start_s + this.skipped_s) * 1e6) / 1e6;
    if (this.rows > 0) {
      if (now_s === this.last_s) {
        this.repeats++;
        this.tally.leaveOut('same time as the row before it', line);
        return;
      }
      if (this.mayRestart && now_s < this.last_s) {
        this.restarts.push(line);
        this.skipped_s += this.last_s + this.step_s - now_s;
        now_s = this.last_s + this.step_s;
      } else if (now_s < this.last_s || now_s - this.last_s > longestGap_s) this.noteDisorder(text);
      if (now_s > this.last_s) this.step_s = now_s - this.last_s;
    }
    if (this.rows === this.after_s.length) this.reserve(2 * this.rows);

    const shifted = this.mayShift && cells.count > this.width && this.hasNumberBeyond(text);
    if (shifted) this.tally.count('more cells than the other rows, so its columns cannot be told', line);
    for (const [index, channel] of recipe.channels.entries()) {
      const counted = this.counted[index] as boolean;
      const reading = shifted ? Number.NaN : this.cells.read_C(text, cells, channel, line, counted);
      (this.readings_C[index] as Float64Array)[this.rows] = reading;
      if (counted && !Number.isNaN(reading)) this.anyReading = true;
      if (!shifted) this.noteOutside(index, line);
    }
    this.after_s[this.rows] = now_s;
    this.lines.note(this.rows, line);
    this.spans?.push(walker.span);
    this.last_s = now_s;
    this.lastLine = line;
    const { from, to } = walker;
    this.lastRow = () => text.slice(from, to);
    this.rows++;
  }

  /** One ASCII cell of a row that is otherwise plain. Counted where it cannot be read, as in any row. */
  readLone_C(bytes: Uint8Array, from: number, to: number, index: number, line: number): number {
    let cell = '';
    for (let at = from; at < to; at++) cell += String.fromCharCode(bytes[at] as number);
    while (cell.endsWith('\r')) cell = cell.slice(0, -1);
    this.lone.split(cell, 0, cell.length);
    const { unit } = this.recipe.channels[index] as Recipe['channels'][number];
    const counted = this.counted[index] as boolean;
    const reading_C = this.cells.read_C(cell, this.lone, { column: 0, unit }, line, counted);
    this.noteOutside(index, line);
    return reading_C;
  }

  private noteOutside(index: number, line: number): void {
    if (this.counted[index] && !Number.isNaN(this.cells.outside_C))
      this.outside_C[index]?.set(line, this.cells.outside_C);
  }

  /** Keeps the stamps of this row and of the one before it: only `finish` sees whether the clock was set between them. */
  private noteDisorder(text: string): void {
    this.isRising = false;
    if (this.stampOfRow.size >= mostStamps) return;
    const last = this.lastRow();
    const before = new RowCells(this.recipe.delimiter);
    this.split(last, 0, last.length, before);
    this.stampOfRow.set(this.rows - 1, this.stampOf(last, before));
    this.stampOfRow.set(this.rows, this.stampOf(text, this.walker.cells));
  }

  /** Makes room for so many rows, so that a log of known size is not copied while it grows. */
  reserve(rows: number): void {
    if (rows <= this.after_s.length) return;
    this.after_s = lengthened(this.after_s, rows);
    for (const [index, reading_C] of this.readings_C.entries())
      this.readings_C[index] = lengthened(reading_C, rows);
  }

  /**
   * The log as read.
   *
   * @throws BadInputError for a clock that was set back or leaps ahead, and where fewer than two rows could be used
   */
  finish(): LogReading {
    const { recipe, spans, clock } = this;
    const { order, late } = this.order();
    const count = order?.length ?? this.rows;
    const zero_s = order === null ? 0 : (this.after_s[order[0] ?? 0] as number);
    const after_s = arranged(this.after_s, order, count);
    // The difference of two times that are whole microseconds is one too.
    if (zero_s !== 0)
      for (let row = 0; row < count; row++)
        after_s[row] = Math.round(((after_s[row] as number) - zero_s) * 1e6) / 1e6;
    const lines = order === null ? this.lines : this.lines.arranged(order);
    const columns = recipe.channels.map((channel, index) => ({
      ...channel,
      counted: this.counted[index] as boolean,
      outside_C: this.outside_C[index] as Map<number, number>,
      reading_C: arranged(this.readings_C[index] as Float64Array, order, count),
    }));
    // The only readings may have stood in rows that were left out since.
    const anyReading =
      order === null
        ? this.anyReading
        : columns.some(({ counted, reading_C }) => counted && !reading_C.every(Number.isNaN));
    refuseBarren(count, anyReading, this.tally, recipe, this.file);
    let read = count;
    if (spans !== null && order === null) read = spans.reduce((sum, span) => sum + span, 0);
    else if (spans !== null) read = (order ?? []).reduce((sum, row) => sum + (spans[row] as number), 0);

    const start_s = this.start_s + zero_s;
    return {
      after_s,
      lines,
      startedAt: clock.isWallClock ? new Date(Math.round(start_s * 1000)).toISOString() : null,
      channels: columns.map(({ column, header, probe, unit, reading_C }) =>
        isRawUnit(unit)
          ? {
              column,
              header,
              probe,
              reading_C: new Float64Array(count).fill(Number.NaN),
              signal: reading_C,
            }
          : { column, header, probe, reading_C },
      ),
      report: reportLog({
        recipe,
        after_s,
        lines,
        columns,
        tally: this.tally,
        lineCount: { seen: this.line, blank: this.walker.blank, read },
        repeats: this.repeats,
        late: late.map((row) => this.lines.at(row)),
        restarts: this.restarts,
      }),
    };
  }

  /** The rows on the time axis in their order, null where that is the order of the file; and which of them came late. */
  private order(): { order: readonly number[] | null; late: readonly number[] } {
    if (this.isRising) return { order: null, late: [] };
    const ordered = orderRows(this.after_s, this.rows, longestGap_s);
    if (!ordered.ok) {
      throw clockFault(
        this.file,
        this.stamped(ordered.before),
        this.stamped(ordered.row),
        ordered.isBack,
        this.recipe,
      );
    }
    for (const { row, reason } of ordered.strays) this.tally.leaveOut(reason, this.lines.at(row));
    return ordered;
  }

  private stamped(row: number): StampedLine {
    const stamp = this.stampOfRow.get(row) ?? `${this.after_s[row]} s after the first row`;
    return { line: this.lines.at(row), stamp };
  }

  /** The stamp of a row as it stands in the file, for a message a person compares with the file. */
  private stampOf(text: string, cells: RowCells): string {
    const { time } = this.recipe;
    if (time.style === 'interval') return '';
    return time.columns.map((column) => cells.cell(text, column).slice(0, 40)).join(' ');
  }

  private hasNumberBeyond(text: string): boolean {
    const { numbers } = this;
    const { cells } = this.walker;
    for (let column = this.width; column < Math.min(cells.count, cells.capacity); column++) {
      if (!Number.isNaN(numbers.read(text, cells.start(column), cells.end(column)))) return true;
    }
    return false;
  }
}

function lengthened(values: Float64Array, length: number): Float64Array {
  const longer = new Float64Array(length);
  longer.set(values);
  return longer;
}

/**
 * The values of the rows kept, in their order, without what was reserved in vain. Where the order is that of the file a little
 * of it is left standing: copying millions of readings costs more.
 */
function arranged(values: Float64Array, order: readonly number[] | null, count: number): Float64Array {
  if (order === null) return count > 0.9 * values.length ? values.subarray(0, count) : values.slice(0, count);
  return Float64Array.from(order, (row) => values[row] as number);
}
