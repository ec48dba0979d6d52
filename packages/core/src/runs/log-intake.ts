import { BadInputError } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import { headerRows, refuseMisfit, sampleRows, usualWidth } from './check-recipe.js';
import { refuseBinary, refuseBlank } from './decode-text.js';
import type { LogReading } from './log-reading.js';
import { LogRows } from './log-rows.js';
import { type PlainPlan, planPlainRows } from './plain-log.js';
import { takePlainRows } from './read-plain-log.kernel.js';
import { startLogEngine } from './wasm/log-engine.js';

/** The recipe is judged on this much of the log, or more where so much holds fewer rows than are looked at. */
const head_bytes = 262_144;

/** So much without 200 rows is taken for all there is to judge by, when the log comes in pieces. */
const longestHead_bytes = 16_777_216;

/** Text is made of the bytes this much at a time. */
const text_bytes = 1_048_576;

/** A log of so much wins back the two or three milliseconds in which the engine starts. */
const long_bytes = 131_072;

/**
 * Behind a row that was not plain the kernel in TypeScript takes so much: where such rows are many, to tell the engine how
 * the next are read would cost more than it saves.
 */
const lead_bytes = 4096;

const nothing = new Uint8Array(0);

export interface IntakeOptions {
  /** Size of the whole log where it is known, so that memory is asked for once. */
  readonly expected_bytes?: number;
  /**
   * Who takes the plain rows; left out, it is the engine in WebAssembly for long stretches of a long log where the platform has
   * it, else the kernel in TypeScript. All give the same, and a test compares them.
   */
  readonly way?: 'general' | 'typescript' | 'wasm';
}

/**
 * Takes a log by its recipe in pieces of any size, so that a long one needs no more memory than its readings.
 *
 * The line that a piece ends in is carried to the next. Plain rows go through a kernel that works on the bytes, in WebAssembly
 * where the log is long; text is made only of what it leaves. A log in UTF-16 is turned into UTF-8 first.
 */
export class LogIntake {
  private readonly recipe: Recipe;
  private readonly file: string;
  private readonly options: IntakeOptions;
  private readonly lineDecoder: TextDecoder;
  private readonly wide: TextDecoder | null;
  private carried: Uint8Array = nothing;
  private begun = false;
  private rows: LogRows | null = null;
  private plan: PlainPlan | null = null;
  private lineEnd: '\n' | '\r' = '\n';
  private lineEndByte = 0x0a;
  private taken_bytes = 0;
  /**
   * Pieces of a log in long form, where a row spans lines and which of them belong together shows only behind the last of
   * them. Such a log is rare and short beside others, so it is simply read whole, text and all.
   */
  private whole: Uint8Array[] | null;

  constructor(recipe: Recipe, file: string, options: IntakeOptions = {}) {
    this.recipe = recipe;
    this.file = file;
    this.options = options;
    this.whole = recipe.layout?.form === 'long' ? [] : null;
    const isWide = recipe.encoding === 'utf-16le' || recipe.encoding === 'utf-16be';
    this.wide = isWide ? new TextDecoder(recipe.encoding) : null;
    // The mark at the start of the file is skipped as bytes; further down it is a character like any other.
    this.lineDecoder = new TextDecoder(isWide ? 'utf-8' : recipe.encoding, { ignoreBOM: true });
  }

  /** Rows on the time axis so far. */
  get count(): number {
    return this.rows?.rows ?? 0;
  }

  /** @throws BadInputError as `readLog`, as soon as the log shows that it cannot be read */
  take(piece: Uint8Array, isLast = false): void {
    if (!this.begun) {
      // The first bytes tell what is no text at all.
      const start = joined(this.carried, piece);
      this.carried = start;
      if (start.length < 8 && !isLast) return;
      refuseBinary(start, this.file);
      this.begun = true;
      this.carried = nothing;
      piece = start;
    }
    if (this.whole !== null) {
      this.whole.push(piece);
      if (!isLast) return;
      piece = joined(...this.whole);
      this.whole = [];
    }
    const bytes = joined(this.carried, this.narrowed(piece, isLast));
    let from = 0;
    if (this.rows === null) {
      from = this.open(bytes, isLast);
      if (from < 0) {
        this.carried = bytes;
        return;
      }
    }
    const to = isLast ? bytes.length : bytes.lastIndexOf(this.lineEndByte) + 1;
    this.takeLines(bytes, from, to);
    this.carried = bytes.slice(Math.max(from, to));
    if (this.carried.length > longestHead_bytes) {
      throw new BadInputError([
        {
          where: `${this.file}:${this.rows?.line ?? 0}`,
          what: `A line is longer than ${longestHead_bytes / 1_048_576} MiB.`,
          remedy: 'Export the readings from the logger as text (CSV), one row per time.',
        },
      ]);
    }
  }

  /** @throws BadInputError as `readLog` */
  finish(): LogReading {
    this.take(nothing, true);
    return (this.rows as LogRows).finish();
  }

  /** Judges the recipe by the head of the log. Returns where the first row begins, or -1 where more of the log is needed. */
  private open(bytes: Uint8Array, isLast: boolean): number {
    const { recipe, file } = this;
    const lineEndByte = bytes.includes(0x0a) ? 0x0a : 0x0d;
    const hasMark =
      recipe.encoding === 'utf-8' && bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
    let from = hasMark ? 3 : 0;
    for (let size = head_bytes; ; size *= 4) {
      const isAll = size >= bytes.length;
      if (isAll && !isLast && bytes.length < longestHead_bytes) return -1;
      const end = isAll && isLast ? bytes.length : bytes.lastIndexOf(lineEndByte, size - 1) + 1;
      const head = this.lineDecoder.decode(bytes.subarray(from, end));
      const { width, rows } = usualWidth(head, recipe);
      if (rows < sampleRows && !isAll) continue;
      refuseBlank(head, file);
      refuseMisfit(head, recipe, width, file);

      for (let line = 0; line < recipe.headerLines; line++) from = lineAfter(bytes, from, lineEndByte);
      this.lineEndByte = lineEndByte;
      this.lineEnd = lineEndByte === 0x0a ? '\n' : '\r';
      this.rows = new LogRows(recipe, width, file, headerStarts(head, recipe));
      if (this.options.way !== 'general')
        this.plan = planPlainRows(recipe, width, this.lineEnd, this.rows.cells.codes);
      this.reserve(countLines(bytes, from, end, lineEndByte) / Math.max(1, end - from));
      return from;
    }
  }

  /** A fiftieth more than the head promises. Where it promises too little, the arrays grow. */
  private reserve(rowsPerByte: number): void {
    const { expected_bytes = 0 } = this.options;
    const narrowed_bytes = this.wide === null ? expected_bytes : expected_bytes / 2;
    this.rows?.reserve(Math.ceil(1.02 * rowsPerByte * narrowed_bytes));
  }

  /** Takes `bytes[from, to)`: whole lines, but for the last line of the log, which may lack its end. */
  private takeLines(bytes: Uint8Array, from: number, to: number): void {
    const rows = this.rows as LogRows;
    const { plan, lineEndByte } = this;
    this.taken_bytes += to - from;
    const ended = bytes.lastIndexOf(lineEndByte, to - 1) + 1;
    const most_bytes = this.whole === null ? text_bytes : Number.POSITIVE_INFINITY;
    let most = plan === null ? most_bytes : 1;
    let at = from;
    while (at < to) {
      if (plan !== null && at < ended) {
        const stop = this.takePlain(bytes, at, ended, rows, plan);
        if (stop > at) {
          // All lines up to here were rows, so the last of them is the last row.
          rows.lastRow = () => this.decodeLine(bytes, stop);
          at = stop;
          most = 1;
          continue;
        }
      }
      // One row at first; where many in a row are not plain, text is made of more and more of them at once.
      const fitting = bytes.lastIndexOf(lineEndByte, Math.min(to, at + most) - 1) + 1;
      const end = at + most >= to ? to : fitting > at ? fitting : lineAfter(bytes, at, lineEndByte);
      const before = rows.rows;
      rows.takeText(this.lineDecoder.decode(bytes.subarray(at, end)), this.lineEnd);
      if (plan !== null && plan.unit_s === 0 && rows.rows > before) plan.stamp.learn(rows.lastRow());
      at = end;
      most = Math.min(most_bytes, Math.max(256, 2 * most));
    }
  }

  /** Takes plain rows up to the first that is not. Returns where that begins, or `end`. */
  private takePlain(bytes: Uint8Array, at: number, end: number, rows: LogRows, plan: PlainPlan): number {
    const { way, expected_bytes = 0 } = this.options;
    const isLong = Math.max(expected_bytes, this.taken_bytes) >= long_bytes;
    const engine = way === 'wasm' || (way === undefined && isLong) ? startLogEngine() : null;
    if (engine === null) return takePlainRows(bytes, at, end, rows, plan);
    const lead = bytes.lastIndexOf(this.lineEndByte, Math.min(end, at + lead_bytes) - 1) + 1;
    if (way === undefined && lead > at) {
      const stop = takePlainRows(bytes, at, lead, rows, plan);
      if (stop < lead) return stop;
      at = lead;
    }
    return engine.take(bytes, at, end, rows, plan);
  }

  private decodeLine(bytes: Uint8Array, end: number): string {
    const from = bytes.lastIndexOf(this.lineEndByte, end - 2) + 1;
    return this.lineDecoder.decode(bytes.subarray(from, end)).replace(/[\r\n]+$/, '');
  }

  private narrowed(piece: Uint8Array, isLast: boolean): Uint8Array {
    if (this.wide === null) return piece;
    return new TextEncoder().encode(this.wide.decode(piece, { stream: !isLast }));
  }
}

/** The first cell of each header line. */
function headerStarts(head: string, recipe: Recipe): Set<string> {
  const starts = new Set(headerRows(head, recipe).map(([first = '']) => first));
  starts.delete('');
  return starts;
}

/** One after the other; copied only where more than one of them holds anything. */
function joined(...pieces: readonly Uint8Array[]): Uint8Array {
  const filled = pieces.filter(({ length }) => length > 0);
  if (filled.length <= 1) return filled[0] ?? nothing;
  const all = new Uint8Array(filled.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of filled) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

/** Where the line behind this one begins. */
function lineAfter(bytes: Uint8Array, from: number, lineEndByte: number): number {
  const found = bytes.indexOf(lineEndByte, from);
  return found < 0 ? bytes.length : found + 1;
}

function countLines(bytes: Uint8Array, from: number, to: number, lineEndByte: number): number {
  let lines = 0;
  for (let at = from; at < to; at++) if (bytes[at] === lineEndByte) lines++;
  return lines;
}
