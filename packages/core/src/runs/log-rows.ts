import { formatCount, formatDuration } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import { isRawUnit } from './channel-unit.js';
import { describeRecipe } from './describe-recipe.js';
import { gapText, repeatText, spacingText, usualSpacing_s } from './describe-spacing.js';
import { clockFault, refuseBarren } from './log-faults.js';
import type { LogReading } from './log-reading.js';
import { CellReader } from './read-cell.js';
import { NumberReader } from './read-number.js';
import { day_s } from './read-stamp.js';
import { rowClock } from './row-clock.js';
import { LineWalker, RowCells } from './split-row.js';
import { UnreadTally } from './unread-tally.js';

/** A run lasts hours. A longer leap is a clock that was set while logging. @assumed common practice, no source */
export const longestGap_s = 7 * day_s;

/** Where nothing is known of the size, arrays grow with the rows that are kept. */
const firstCapacity = 4096;

/**
 * The rows of a log so far: the time axis, the readings and what could not be read.
 *
 * Text is taken by `takeText`, which understands every row there is. The kernel for plain rows writes to the same fields,
 * so that it may take whatever it understands and leave the rest; between two calls they hold what either of them left.
 */
export class LogRows {
  after_s: Float64Array;
  /** Line of each row, kept where a raw signal may yet turn out to be no reading; the kernel reads no such log. */
  private lines: Uint32Array | null;
  /** One array per channel of the recipe, °C; of a raw signal the number as written, handed out as `signal`. */
  readonly readings_C: Float64Array[];
  /** False for a channel whose unread cells are nobody's loss. */
  readonly counted: readonly boolean[];
  /** Rows on the time axis. */
  rows = 0;
  /** Lines seen, the header's included. */
  line: number;
  start_s = 0;
  last_s = 0;
  lastLine = 0;
  anyReading = false;
  longestGap_s = 0;
  longestGapLine = 0;
  /** The text of the last row that was kept, for a message that compares it with the next. */
  lastRow: () => string = () => '';

  readonly cells: CellReader;
  private readonly tally = new UnreadTally();
  private readonly row: RowCells;
  private readonly lone: RowCells;
  private readonly clock: ReturnType<typeof rowClock>;
  private readonly numbers: NumberReader;
  private repeats = 0;
  private readonly recipe: Recipe;
  private readonly width: number;
  private readonly file: string;

  /** @param width cells most rows have */
  constructor(recipe: Recipe, width: number, file: string) {
    this.recipe = recipe;
    this.width = width;
    this.file = file;
    this.line = recipe.headerLines;
    this.row = new RowCells(recipe.delimiter);
    this.lone = new RowCells(recipe.delimiter, 1);
    this.clock = rowClock(recipe.time, recipe.decimal);
    this.cells = new CellReader(recipe, this.tally);
    this.numbers = new NumberReader(recipe.decimal);
    const anyProbe = recipe.channels.some((channel) => channel.probe !== undefined);
    this.counted = recipe.channels.map(
      (channel) => !anyProbe || channel.probe !== undefined || channel.coldJunction === true,
    );
    this.after_s = new Float64Array(firstCapacity);
    this.lines = recipe.channels.some(({ unit }) => isRawUnit(unit)) ? new Uint32Array(firstCapacity) : null;
    this.readings_C = recipe.channels.map(() => new Float64Array(firstCapacity));
  }

  /** Takes whole lines of the log, whatever they hold. @throws BadInputError for a clock that goes back or leaps ahead */
  takeText(text: string, lineEnd: '\n' | '\r'): void {
    const lines = new LineWalker(text, lineEnd, this.line);
    while (lines.step()) {
      this.line = lines.line;
      if (lines.isBlank()) continue;
      if (lines.isComment()) this.tally.leaveOut('a note, not a row', lines.line);
      else this.takeRow(text, lines.from, lines.to);
    }
  }

  private takeRow(text: string, from: number, to: number): void {
    const { row: cells, line, recipe } = this;
    cells.split(text, from, to);
    const time_s = this.clock.time_s(text, cells);
    if (Number.isNaN(time_s)) {
      this.tally.leaveOut('no readable time', line);
      return;
    }
    // Rounded to the microsecond: what is finer is the noise of counting from 1970.
    const now_s = this.rows === 0 ? 0 : Math.round((time_s - this.start_s) * 1e6) / 1e6;
    if (this.rows === 0) this.start_s = time_s;
    else if (now_s === this.last_s) {
      this.repeats++;
      this.tally.leaveOut('same time as the row before it', line);
      return;
    } else if (now_s < this.last_s || now_s - this.last_s > longestGap_s) {
      const stamp = this.stampOf(text);
      const last = this.lastRow();
      cells.split(last, 0, last.length);
      const before = { line: this.lastLine, stamp: this.stampOf(last) };
      throw clockFault(this.file, before, { line, stamp }, now_s < this.last_s, recipe);
    }
    if (now_s - this.last_s > this.longestGap_s) {
      this.longestGap_s = now_s - this.last_s;
      this.longestGapLine = line;
    }
    if (this.rows === this.after_s.length) this.reserve(2 * this.rows);

    const shifted = cells.count > this.width && this.hasNumberBeyond(text);
    if (shifted) this.tally.count('more cells than the other rows, so its columns cannot be told', line);
    for (const [index, { column, unit }] of recipe.channels.entries()) {
      const counted = this.counted[index] as boolean;
      const reading = shifted ? Number.NaN : this.cells.read_C(text, cells, column, unit, line, counted);
      (this.readings_C[index] as Float64Array)[this.rows] = reading;
      if (counted && !Number.isNaN(reading)) this.anyReading = true;
    }
    this.after_s[this.rows] = now_s;
    if (this.lines !== null) this.lines[this.rows] = line;
    this.last_s = now_s;
    this.lastLine = line;
    this.lastRow = () => text.slice(from, to);
    this.rows++;
  }

  /** One ASCII cell of a row that is otherwise plain. Counted where it cannot be read, as in any row. */
  readLone_C(bytes: Uint8Array, from: number, to: number, index: number, line: number): number {
    const cell = String.fromCharCode(...bytes.subarray(from, to)).replace(/\r+$/, '');
    this.lone.split(cell, 0, cell.length);
    const unit = (this.recipe.channels[index] as Recipe['channels'][number]).unit;
    return this.cells.read_C(cell, this.lone, 0, unit, line, this.counted[index] as boolean);
  }

  /** Makes room for so many rows, so that a log of known size is not copied while it grows. */
  reserve(rows: number): void {
    if (rows <= this.after_s.length) return;
    this.after_s = lengthened(this.after_s, rows);
    if (this.lines !== null) this.lines = lengthened(this.lines, rows);
    for (const [index, reading_C] of this.readings_C.entries())
      this.readings_C[index] = lengthened(reading_C, rows);
  }

  /** The log as read. @throws BadInputError where fewer than two rows could be used */
  finish(): LogReading {
    const { recipe, rows, last_s } = this;
    refuseBarren(rows, this.anyReading, this.tally, recipe, this.file);
    this.after_s = trimmed(this.after_s, rows);
    const interval_s = usualSpacing_s(this.after_s);
    const longest = { gap_s: this.longestGap_s, line: this.longestGapLine };
    return {
      after_s: this.after_s,
      lines: this.lines === null ? null : this.lines.slice(0, rows),
      startedAt: this.clock.isWallClock ? new Date(Math.round(this.start_s * 1000)).toISOString() : null,
      channels: recipe.channels.map(({ column, header, probe, unit }, index) => {
        const reading_C = trimmed(this.readings_C[index] as Float64Array, rows);
        if (!isRawUnit(unit)) return { column, header, probe, reading_C };
        return {
          column,
          header,
          probe,
          reading_C: new Float64Array(rows).fill(Number.NaN),
          signal: reading_C,
        };
      }),
      report: {
        rows,
        unread: this.tally.list(),
        recipe,
        conclusions: [
          ...describeRecipe(recipe),
          `${formatCount(rows, 'row')}, usually ${spacingText(interval_s)} apart, over ${formatDuration(last_s)}.`,
          ...gapText(longest, interval_s),
          ...repeatText(this.repeats, rows),
        ],
        interval_s,
      },
    };
  }

  /** The stamp of the row that was split last as it stands in the file, for a message a person compares with the file. */
  private stampOf(text: string): string {
    const { time } = this.recipe;
    if (time.style === 'interval') return '';
    return time.columns.map((column) => this.row.cell(text, column).slice(0, 40)).join(' ');
  }

  private hasNumberBeyond(text: string): boolean {
    const { row: cells, numbers } = this;
    for (let column = this.width; column < Math.min(cells.count, cells.capacity); column++) {
      if (!Number.isNaN(numbers.read(text, cells.start(column), cells.end(column)))) return true;
    }
    return false;
  }
}

function lengthened<Values extends Float64Array | Uint32Array>(values: Values, length: number): Values {
  const longer = new (values.constructor as new (length: number) => Values)(length);
  longer.set(values);
  return longer;
}

/** Without what was reserved in vain. A little of it is left standing: copying millions of readings costs more. */
function trimmed(values: Float64Array, length: number): Float64Array {
  return length > 0.9 * values.length ? values.subarray(0, length) : values.slice(0, length);
}
