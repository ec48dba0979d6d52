import { BadInputError } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import { noReadingWords } from './no-reading-words.js';
import { NumberReader } from './read-number.js';
import { StampReader } from './read-stamp.js';
import { type Delimiter, LineWalker, RowCells } from './split-row.js';

/** One line of the sample, split. */
export interface SampleRow {
  /** Counted from 1. */
  readonly line: number;
  readonly from: number;
  readonly to: number;
  readonly cells: readonly string[];
}

/** The beginning of a log as a table: how it is split, and which lines are rows of numbers. */
export interface SampleTable {
  readonly text: string;
  readonly delimiter: Delimiter;
  readonly decimal: Recipe['decimal'];
  /** Cells in a usual row. */
  readonly width: number;
  readonly lines: readonly SampleRow[];
  /** The lines that look like readings, in order; some of the first may belong to the preamble. */
  readonly rows: readonly SampleRow[];
}

/** In the order in which a tie is decided. */
const delimiters: readonly Delimiter[] = ['\t', ';', '|', ',', ' '];
const words = new Set(noReadingWords);
const stamps = new StampReader();
const pointNumbers = new NumberReader('.');
const commaNumbers = new NumberReader(',');

type CellKind = 'empty' | 'number' | 'time' | 'no-reading' | 'text';

/**
 * Finds the delimiter under which most lines fall into cells that are numbers, times or stand for no reading.
 *
 * @throws BadInputError for a log of one column, or one in which the comma both parts cells and marks decimals
 */
export function sniffTable(text: string, file: string): SampleTable {
  let best: { score: number; table: Omit<SampleTable, 'decimal'> } | undefined;
  for (const delimiter of delimiters) {
    const lines = splitSample(text, delimiter);
    const { rows, width, score } = alikeRows(lines);
    if (score > (best?.score ?? 0)) best = { score, table: { text, delimiter, width, lines, rows } };
  }
  if (best === undefined) throw noTable(text, file);
  refuseDoubleComma(best.table, file);
  return { ...best.table, decimal: sniffDecimal(best.table.rows) };
}

/** The lines that look like rows of one table: as many cells as most, and no more text than most. */
function alikeRows(lines: readonly SampleRow[]): { rows: SampleRow[]; width: number; score: number } {
  const scored = lines.flatMap((line) => {
    const { score, texts } = judgeLine(line.cells);
    return score > 0 ? [{ line, score, texts }] : [];
  });
  const width = mostCommon(scored.map(({ line }) => line.cells.length));
  const wide = scored.filter(({ line }) => line.cells.length === width);
  const texts = mostCommon(wide.map((seen) => seen.texts));
  const rows = wide.filter((seen) => seen.texts <= texts);
  return {
    rows: rows.map(({ line }) => line),
    width,
    score: rows.reduce((sum, { score }) => sum + score, 0),
  };
}

export function splitSample(text: string, delimiter: Delimiter): SampleRow[] {
  const walker = new LineWalker(text);
  const cells = new RowCells(delimiter);
  const lines: SampleRow[] = [];
  while (walker.step()) {
    if (walker.isBlank()) continue;
    cells.split(text, walker.from, walker.to);
    lines.push({ line: walker.line, from: walker.from, to: walker.to, cells: cells.all(text) });
  }
  return lines;
}

/** A number with either decimal mark. */
function isNumber(cell: string): boolean {
  return (
    !Number.isNaN(pointNumbers.read(cell, 0, cell.length)) ||
    !Number.isNaN(commaNumbers.read(cell, 0, cell.length))
  );
}

export function isStamp(cell: string): boolean {
  const to = cell.length;
  const clock_s = stamps.hms_s(cell, 0, to);
  if (!Number.isNaN(clock_s) && stamps.at === to) return true;
  if (!Number.isNaN(stamps.clock_s(cell, 0, to)) && stamps.at === to && cell.includes(':')) return true;
  for (const order of ['day-month', 'month-day'] as const) {
    if (!Number.isNaN(stamps.dateTime_s(cell, 0, to, order))) return true;
    const day = stamps.date_days(cell, 0, to, order);
    if (!Number.isNaN(day) && stamps.at === to && !/^\d+$/.test(cell)) return true;
  }
  return false;
}

function kindOf(cell: string): CellKind {
  if (cell === '') return 'empty';
  if (isNumber(cell)) return 'number';
  if (words.has(cell.toLowerCase())) return 'no-reading';
  return isStamp(cell) ? 'time' : 'text';
}

/** 1 for a line of readings; less for each cell that is text; 0 for a line that cannot be a row. */
function judgeLine(cells: readonly string[]): { score: number; texts: number } {
  let readings = 0;
  let filled = 0;
  let texts = 0;
  for (const cell of cells) {
    const kind = kindOf(cell);
    if (kind === 'text') texts++;
    if (kind !== 'empty') filled++;
    if (kind === 'number' || kind === 'no-reading') readings++;
  }
  const share = 1 - texts / cells.length;
  const isRow = cells.length >= 2 && readings > 0 && filled >= 2 && share >= 0.5;
  return { score: isRow ? share ** 2 : 0, texts };
}

function sniffDecimal(rows: readonly SampleRow[]): Recipe['decimal'] {
  let points = 0;
  let commas = 0;
  for (const { cells } of rows) {
    for (const cell of cells) {
      const asPoint = !Number.isNaN(pointNumbers.read(cell, 0, cell.length));
      const asComma = !Number.isNaN(commaNumbers.read(cell, 0, cell.length));
      if (asPoint && !asComma) points++;
      if (asComma && !asPoint) commas++;
    }
  }
  return commas > points ? ',' : '.';
}

export function mostCommon(values: readonly number[]): number {
  const counts = new Map<number, number>();
  let best = values[0] ?? 0;
  for (const value of values) {
    counts.set(value, (counts.get(value) ?? 0) + 1);
    if ((counts.get(value) ?? 0) > (counts.get(best) ?? 0)) best = value;
  }
  return best;
}

/** `10:00:00,21,5,22,3` under a header of three: no reading of it is certain. */
function refuseDoubleComma(
  { delimiter, lines, rows, width }: Omit<SampleTable, 'decimal'>,
  file: string,
): void {
  const first = rows[0];
  if (delimiter !== ',' || first === undefined) return;
  const header = lines.findLast(({ line, cells }) => line < first.line && cells.length > 1);
  if (header === undefined || judgeLine(header.cells).texts < 2) return;
  const named = header.cells.length;
  if (width !== 2 * named && width !== 2 * named - 1) return;
  const allWhole = rows.every(({ cells }) =>
    cells.every((cell) => /^[+-]?\d*$/.test(cell) || !isNumber(cell)),
  );
  if (!allWhole) return;
  throw new BadInputError([
    {
      where: `${file}:${first.line}`,
      what: `The header names ${named} columns and the rows have ${width} cells: the comma seems to part cells and to mark decimals at once.`,
      remedy: 'Export the log again with a semicolon or a tab between cells, or with a decimal point.',
    },
  ]);
}

/** Tells a file of one column from a file without numbers. */
function noTable(text: string, file: string): BadInputError {
  const lines = splitSample(text, '\t').map(({ line, from, to }) => ({
    line,
    cell: text.slice(from, to).trim(),
  }));
  const single = lines.find(({ cell }) => isNumber(cell) || isStamp(cell));
  if (single) {
    return new BadInputError([
      {
        where: `${file}:${single.line}`,
        what: `The log has one column only ("${single.cell.slice(0, 40)}"): a time and at least one temperature are needed.`,
        remedy: 'Export the log with a time column and the temperatures beside it.',
      },
    ]);
  }
  return new BadInputError([
    {
      where: `${file}:1`,
      what: 'There is no row of numbers at the beginning of this file.',
      remedy:
        'Check that this is the log itself: rows of a time and temperatures, parted by comma, semicolon, tab, bar or blanks.',
    },
  ]);
}
