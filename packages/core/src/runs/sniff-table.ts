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
  readonly thousands?: Recipe['thousands'];
  readonly layout?: Recipe['layout'];
  /** How well its lines are rows: 1 for each that holds no text. */
  readonly score: number;
  /** Cells in a usual row. */
  readonly width: number;
  readonly lines: readonly SampleRow[];
  /** Names that the layout itself gives to the columns. */
  readonly names?: readonly string[];
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

/** One reading a line: where its name and its value stand, and what makes a row, as far as a person said it. */
export interface GivenLong {
  readonly form: 'long';
  /** Counted from 0, as the value's column is. */
  readonly name?: number;
  readonly value?: number;
  readonly by?: 'stamp' | 'cycle';
}

/** A form alone leaves its places and columns to be found. */
type GivenLayout =
  | GivenLong
  | { readonly form: 'delimited' | 'sentence' }
  | { readonly form: 'fixed'; readonly starts?: number[] };

/** What a person said of the text; the rest is found under it. */
export type GivenText = Partial<
  Pick<Recipe, 'encoding' | 'delimiter' | 'decimal' | 'thousands' | 'headerLines'> & {
    layout: GivenLayout;
  }
>;

/**
 * Finds the delimiter, or the fixed columns, under which most lines fall into cells that are numbers, times or stand for no
 * reading. Undefined where there is none.
 *
 * @throws BadInputError for a log in which the comma both parts cells and marks decimals
 */
export function sniffTable(text: string, file: string, given: GivenText = {}): SampleTable | undefined {
  let best: Omit<SampleTable, 'decimal'> | undefined;
  const tried = given.delimiter === undefined ? delimiters : [given.delimiter];
  const skipped = given.headerLines ?? 0;
  if (given.layout?.form !== 'fixed') {
    for (const delimiter of tried) {
      const lines = splitSample(text, delimiter);
      const { rows, width, score } = alikeRows(lines.filter(({ line }) => line > skipped));
      if (score > (best?.score ?? 0)) best = { text, delimiter, width, lines, rows, score };
    }
  }
  // Blanks part cells only while no cell is empty and no name has two words; then the places of the columns tell more.
  if (
    given.layout?.form === 'fixed' ||
    (given.layout === undefined && (best === undefined || best.delimiter === ' '))
  ) {
    const fixed = fixedTable(text, best?.rows, given);
    if (fixed !== undefined && isBetter(fixed, best)) best = fixed;
  }
  if (best === undefined) return undefined;
  if (given.decimal === undefined) refuseDoubleComma(best, file);
  const marks = sniffMarks(best.rows);
  const { decimal = marks.decimal } = given;
  const thousands = given.thousands ?? (decimal === marks.decimal ? marks.thousands : undefined);
  return { ...best, decimal, ...(thousands !== undefined && { thousands }) };
}

/** More rows, or as many and a line of names above them that fits. */
function isBetter(
  fixed: Omit<SampleTable, 'decimal'>,
  blanks: Omit<SampleTable, 'decimal'> | undefined,
): boolean {
  if (blanks === undefined || fixed.rows.length > 1.02 * blanks.rows.length) return true;
  if (fixed.rows.length < blanks.rows.length) return false;
  const nameCount = ({ rows, lines }: Omit<SampleTable, 'decimal'>) =>
    lines.findLast(({ line }) => line < (rows[0]?.line ?? 1))?.cells.filter((cell) => cell !== '').length ??
    0;
  return nameCount(fixed) === fixed.width && nameCount(blanks) !== blanks.width;
}

/** Columns parted by places that are blank in nearly every line. */
function fixedTable(
  text: string,
  alike: readonly SampleRow[] | undefined,
  given: GivenText,
): Omit<SampleTable, 'decimal'> | undefined {
  const all = splitSample(text, ' ');
  const skipped = given.headerLines ?? 0;
  const longest = mostCommon(all.map(({ from, to }) => to - from));
  const body = all.filter(
    ({ line, from, to, cells }) =>
      line > skipped && Math.abs(to - from - longest) <= 12 && judgeLine(cells).score > 0,
  );
  if (body.length < 2 || text.includes('\t')) return undefined;
  const firstLine = (alike?.[0] ?? body[0])?.line ?? 1;
  const above = all.findLast(({ line }) => line < firstLine && line > skipped);
  const withNames = above === undefined ? body : [...body, above];
  let best: Omit<SampleTable, 'decimal'> | undefined;
  const layouts =
    given.layout?.form === 'fixed' && given.layout.starts !== undefined
      ? [given.layout.starts]
      : [columnStarts(text, withNames), columnStarts(text, body)];
  for (const starts of layouts) {
    if (starts.length < 2 || starts.length > 64) continue;
    const cells = new RowCells(' ');
    const lines = all.map((row) => {
      cells.cut(text, row.from, row.to, starts);
      return { ...row, cells: cells.all(text) };
    });
    const { rows, width, score } = alikeRows(lines.filter(({ line }) => line > skipped));
    if (score > (best?.score ?? 0))
      best = { text, delimiter: ' ', layout: { form: 'fixed', starts }, width, lines, rows, score };
  }
  return best;
}

/** Where columns begin: behind each place that is blank in all lines. */
function columnStarts(text: string, rows: readonly SampleRow[]): number[] {
  const width = Math.min(400, Math.max(...rows.map(({ from, to }) => to - from)));
  const filled = new Uint8Array(width);
  for (const { from, to } of rows)
    for (let at = 0; at < Math.min(width, to - from); at++)
      if (text.charCodeAt(from + at) !== 0x20) filled[at] = 1;
  const starts: number[] = [];
  for (let at = 0; at < width; at++)
    if (filled[at] === 1 && (at === 0 || filled[at - 1] === 0)) starts.push(at);
  return starts;
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
export function judgeLine(cells: readonly string[]): { score: number; texts: number } {
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

/** The decimal mark; and the mark that groups thousands, where it is seen alone beside numbers that settle the other. */
function sniffMarks(rows: readonly SampleRow[]): Pick<SampleTable, 'decimal' | 'thousands'> {
  const grouped = { ',': 0, '.': 0 };
  const sure = { ',': 0, '.': 0 };
  for (const { cells } of rows) {
    for (const cell of cells) {
      const asPoint = !Number.isNaN(pointNumbers.read(cell, 0, cell.length));
      const asComma = !Number.isNaN(commaNumbers.read(cell, 0, cell.length));
      if (asPoint === asComma) continue;
      const mark = asPoint ? '.' : ',';
      if (/^[+-]?[1-9]\d{0,2}[.,]\d{3}$/.test(cell)) grouped[mark]++;
      else sure[mark]++;
    }
  }
  if (sure[','] === 0 && sure['.'] === 0) return { decimal: grouped[','] > grouped['.'] ? ',' : '.' };
  const decimal = sure[','] > sure['.'] ? ',' : '.';
  const other = decimal === ',' ? '.' : ',';
  return grouped[other] > 0 && sure[other] === 0 ? { decimal, thousands: other } : { decimal };
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
  { delimiter, layout, lines, rows, width }: Omit<SampleTable, 'decimal'>,
  file: string,
): void {
  const first = rows[0];
  if (delimiter !== ',' || layout !== undefined || first === undefined) return;
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
export function noTable(text: string, file: string): BadInputError {
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
