import type { Recipe } from '../records/index.js';

export type Delimiter = Recipe['delimiter'];

const quote = 0x22;
const blank = 0x20;
const tab = 0x09;

/**
 * The cells of one row as places in the text, so that a large log is read without making a string per cell.
 *
 * Places exclude surrounding blanks and quotes. A quoted cell ends with its line at the latest: a stray quotation mark
 * costs one row, never the rest of the file.
 */
export class RowCells {
  /** Cells in the row, also those beyond `capacity`. */
  count = 0;
  private readonly starts: Int32Array;
  private readonly ends: Int32Array;
  private readonly separator: number;

  /** Cells of a row that can be reached; the rest are counted only. */
  readonly capacity: number;

  constructor(delimiter: Delimiter, capacity = 256) {
    this.capacity = capacity;
    this.starts = new Int32Array(capacity);
    this.ends = new Int32Array(capacity);
    this.separator = delimiter.charCodeAt(0);
  }

  /** Splits the row `text[from, to)`, which holds no line end. */
  split(text: string, from: number, to: number): void {
    this.count = 0;
    let at = from;
    if (this.separator === blank) {
      // Runs of blanks and tabs part the cells; those at the ends of the row part nothing.
      while (at < to) {
        while (at < to && isBlank(text.charCodeAt(at))) at++;
        if (at < to) at = this.takeCell(text, at, to);
      }
      return;
    }
    while (true) {
      at = this.takeCell(text, at, to);
      if (at >= to) return;
      at++;
      if (at === to) {
        this.push(at, at);
        return;
      }
    }
  }

  /** Cuts the row at fixed places; what stands before the first belongs to the first cell. */
  cut(text: string, from: number, to: number, starts: readonly number[]): void {
    this.count = 0;
    for (const [index, start] of starts.entries()) {
      const next = starts[index + 1];
      const first = Math.min(to, from + (index === 0 ? 0 : start));
      this.pushTrimmed(text, first, next === undefined ? to : Math.max(first, Math.min(to, from + next)));
    }
  }

  /** A row of empty cells, to be filled with `place`. */
  clear(count: number): void {
    this.count = count;
    this.starts.fill(0, 0, Math.min(count, this.capacity));
    this.ends.fill(0, 0, Math.min(count, this.capacity));
  }

  place(column: number, from: number, to: number): void {
    this.starts[column] = from;
    this.ends[column] = to;
  }

  holds(column: number): boolean {
    return this.end(column) > this.start(column);
  }

  /** Takes cells that are strings already; returns the text they now lie in. */
  lay(cells: readonly string[]): string {
    this.count = 0;
    let text = '';
    for (const cell of cells) {
      this.push(text.length, text.length + cell.length);
      text += `${cell}\n`;
    }
    return text;
  }

  start(column: number): number {
    return this.starts[column] ?? 0;
  }

  end(column: number): number {
    return this.ends[column] ?? 0;
  }

  /** The cell's text; empty where the row is too short. */
  cell(text: string, column: number): string {
    if (column >= this.count || column >= this.capacity) return '';
    return text.slice(this.start(column), this.end(column)).replaceAll('""', '"');
  }

  all(text: string): string[] {
    return Array.from({ length: Math.min(this.count, this.capacity) }, (_, column) =>
      this.cell(text, column),
    );
  }

  /** Takes one cell beginning at `at`; returns where its separator stands, or `to`. */
  private takeCell(text: string, at: number, to: number): number {
    let first = at;
    const separator = this.separator;
    while (first < to && isBlank(text.charCodeAt(first)) && text.charCodeAt(first) !== separator) first++;
    if (text.charCodeAt(first) === quote && first < to) {
      const closing = closingQuote(text, first + 1, to);
      if (closing >= 0) {
        const next = this.nextSeparator(text, closing + 1, to);
        // Text after the closing mark means that the mark was part of the text.
        if (isBlankSpan(text, closing + 1, next)) {
          this.pushTrimmed(text, first + 1, closing);
          return next;
        }
      }
    }
    const next = this.nextSeparator(text, first, to);
    this.pushTrimmed(text, first, next);
    return next;
  }

  private nextSeparator(text: string, from: number, to: number): number {
    let at = from;
    if (this.separator === blank) {
      while (at < to && !isBlank(text.charCodeAt(at))) at++;
    } else {
      while (at < to && text.charCodeAt(at) !== this.separator) at++;
    }
    return at;
  }

  private pushTrimmed(text: string, from: number, to: number): void {
    let first = from;
    let last = to;
    while (first < last && isBlank(text.charCodeAt(first))) first++;
    while (last > first && isBlank(text.charCodeAt(last - 1))) last--;
    this.push(first, last);
  }

  private push(from: number, to: number): void {
    if (this.count < this.capacity) {
      this.starts[this.count] = from;
      this.ends[this.count] = to;
    }
    this.count++;
  }
}

function isBlank(code: number): boolean {
  return code === blank || code === tab || code === 0xa0;
}

function isBlankSpan(text: string, from: number, to: number): boolean {
  for (let at = from; at < to; at++) if (!isBlank(text.charCodeAt(at))) return false;
  return true;
}

/** Where a quoted cell ends; a doubled mark inside it is text. -1 where the line ends first. */
function closingQuote(text: string, from: number, to: number): number {
  for (let at = from; at < to; at++) {
    if (text.charCodeAt(at) !== quote) continue;
    if (at + 1 < to && text.charCodeAt(at + 1) === quote) at++;
    else return at;
  }
  return -1;
}

/** Steps through the lines of a text, whatever ends them, without copying it. */
export class LineWalker {
  /** Counted from 1; 0 before the first step. */
  line: number;
  from = 0;
  to = 0;
  private next = 0;
  private readonly text: string;
  private readonly lineEnd: string;

  /** @param before lines that stand before this text, where it is a part of a longer one */
  constructor(text: string, lineEnd: '\n' | '\r' = text.includes('\n') ? '\n' : '\r', before = 0) {
    this.text = text;
    this.lineEnd = lineEnd;
    this.line = before;
  }

  /** Moves to the next line; false after the last. */
  step(): boolean {
    if (this.next >= this.text.length) return false;
    this.from = this.next;
    const found = this.text.indexOf(this.lineEnd, this.from);
    this.to = found < 0 ? this.text.length : found;
    this.next = this.to + 1;
    while (this.to > this.from && this.text.charCodeAt(this.to - 1) === 0x0d) this.to--;
    this.line++;
    return true;
  }

  /** Blank lines hold nothing but blanks; the end-of-file mark of old systems counts as one. */
  isBlank(): boolean {
    for (let at = this.from; at < this.to; at++) {
      const code = this.text.charCodeAt(at);
      if (!isBlank(code) && code !== 0x1a && code !== 0x0c && code !== 0x0d) return false;
    }
    return true;
  }

  /** A note the logger or a person wrote between the rows. */
  isComment(): boolean {
    let at = this.from;
    while (at < this.to && isBlank(this.text.charCodeAt(at))) at++;
    return this.text.charCodeAt(at) === 0x23 && at < this.to;
  }
}
