import { BadInputError } from '../measure/index.js';
import type { Probe, Recipe } from '../records/index.js';
import { headerOf } from './check-recipe.js';
import { decodeText, guessEncoding, headOf } from './decode-text.js';
import { describeRecipe } from './describe-recipe.js';
import type { ImportQuestion } from './import-question.js';
import { sniffChannels, unitOfHeader } from './sniff-channels.js';
import { type LongContext, type LongTable, layLong, sniffLong } from './sniff-long.js';
import { sniffSentences } from './sniff-sentences.js';
import { rawUnitOfHeader } from './sniff-signals.js';
import {
  type GivenText,
  isStamp,
  noTable,
  type SampleRow,
  type SampleTable,
  sniffTable,
} from './sniff-table.js';
import { sniffTime } from './sniff-time.js';
import { timesOf } from './time-candidate.js';

/** What the beginning of a log says about how to read it. */
export interface SniffedLog {
  /** Complete: where the file leaves something open it holds the provisional choice of the question. */
  readonly recipe: Recipe;
  /** Plain sentences a person can check against the file. */
  readonly conclusions: string[];
  readonly questions: ImportQuestion[];
  readonly preview: { readonly header: string[]; readonly rows: string[][] };
  /** What heads the columns of a line as it stands in the file, '' where nothing does; in long form the names of the preview are others. */
  readonly lineColumns: readonly string[];
}

/** How much of the log is looked at. */
const sample_chars = 65_536;
const previewRows = 8;
/** What a recipe holds at most. */
const mostChannels = 64;
/** Longer remarks say nothing more, and a file of rubbish must not keep the patterns busy. */
const longestRemark = 200;

/**
 * Works out a recipe for a log nobody has described: encoding, delimiter, decimal mark, header, time, channels, probes.
 *
 * Only the first 64 kB are looked at, so a change of format further down shows when the log is read, not here. What the file
 * leaves open is asked in `questions` and never settled in silence.
 *
 * @param bytes the file as it came
 * @param context the file's name for the faults, the build's probes, which headers are matched to, and what a person has said
 *   of the text, under which the rest is found
 * @throws BadInputError for an empty or a binary file, one column only, a file without rows of numbers, and one that cannot be
 *   read in the long form it is said to have
 */
export function sniffLog(
  bytes: Uint8Array,
  context: { readonly file: string; readonly probes: readonly Probe[]; readonly given?: GivenText },
): SniffedLog {
  const { file, probes, given = {} } = context;
  const guess = guessEncoding(bytes);
  const encoding = given.encoding ?? guess.encoding;
  const reason = given.encoding === undefined ? guess.reason : 'as given';
  const text = sampleOf(decodeText(headOf(bytes), encoding, file));
  const lineTable = findTable(text, file, given);

  // The header helps to find the time, and the time tells where the header ends.
  const guessed = sniffTime(
    withoutColumns(lineTable, saidReadings(given)),
    headerAbove(lineTable, lineTable.rows[0]).names,
    probes,
  );
  const firstRow = firstTimedRow(lineTable, guessed.time);
  const above = headerAbove(lineTable, firstRow);
  const rowsBelow = {
    ...lineTable,
    rows: lineTable.rows.filter(({ line }) => line >= (firstRow?.line ?? 1)),
  };
  const long = findLong(rowsBelow, above, guessed, given, file);
  const table = long?.table ?? rowsBelow;
  const { names, unitRow } = long ?? above;
  const time = sniffTime(
    // The rows made of readings hold none but those behind the columns of a line.
    long === undefined ? table : withoutColumns(table, (column) => column >= rowsBelow.width),
    names.map((name, column) => `${name} ${unitRow[column] ?? ''}`.trim()),
    probes,
    above.preamble,
  );

  const timeColumns = [...time.columns, ...stampColumns(table)];
  const found = sniffChannels(table, names, unitRow, above.preamble, timeColumns, probes);
  if (found.channels.length === 0) {
    throw new BadInputError([
      {
        where: `${file}:${firstRow?.line ?? 1}`,
        what: 'The log has a time but no column of temperatures.',
        remedy: 'Export the log with at least one temperature channel.',
      },
    ]);
  }
  const headerLines = given.headerLines ?? (firstRow?.line ?? 1) - 1;
  if (headerLines > 500) {
    throw new BadInputError([
      {
        where: `${file}:${headerLines + 1}`,
        what: `The first row of numbers stands only in line ${headerLines + 1}.`,
        remedy: 'Remove the lines above the table; at most 500 are skipped.',
      },
    ]);
  }
  const recipe: Recipe = {
    encoding,
    delimiter: table.delimiter,
    decimal: table.decimal,
    ...(table.thousands !== undefined && { thousands: table.thousands }),
    ...(table.layout !== undefined && { layout: table.layout }),
    headerLines,
    time: time.time,
    channels: found.channels.slice(0, mostChannels),
    missing: found.missing,
    doubtful: 'leave-out',
    headers: names.slice(0, 256).map((name) => name.slice(0, 200)),
  };
  const [form = '', head = ''] = describeRecipe(recipe);
  const surplus =
    found.channels.length > mostChannels
      ? [`Only the first ${mostChannels} of ${found.channels.length} temperature columns are taken.`]
      : [];
  return {
    recipe,
    conclusions: [
      `${form} The encoding was told thus: ${reason}.`,
      head,
      ...(long === undefined ? [] : [long.conclusion]),
      ...time.conclusions,
      ...found.conclusions,
      ...surplus,
    ],
    questions: [...time.questions, ...found.questions],
    lineColumns: Array.from({ length: rowsBelow.width }, (_, column) => above.names[column] ?? ''),
    preview: { header: [...names], rows: table.rows.slice(0, previewRows).map(({ cells }) => [...cells]) },
  };
}

/** As a table of cells or as sentences, whichever more lines fit. */
function findTable(text: string, file: string, given: GivenText): SampleTable {
  const wanted = given.layout?.form;
  const table = wanted === 'sentence' ? undefined : sniffTable(text, file, given);
  const sentences = wanted === undefined || wanted === 'sentence' ? sniffSentences(text, given) : undefined;
  if (sentences !== undefined && sentences.score > (table?.score ?? 0)) return sentences;
  if (table === undefined) throw noTable(text, file);
  return table;
}

function findLong(
  table: SampleTable,
  { names, unitRow }: ReturnType<typeof headerAbove>,
  guessed: ReturnType<typeof sniffTime>,
  given: GivenText,
  file: string,
): LongTable | undefined {
  const { layout } = given;
  const log: LongContext = {
    table,
    header: names,
    unitRow,
    timeColumns: guessed.columns,
    usedTimeColumns: guessed.time.style === 'interval' ? [] : guessed.time.columns,
  };
  if (layout?.form === 'long') return layLong(log, layout, file);
  return layout === undefined ? sniffLong(log) : undefined;
}

/** Columns said to hold names or values; whatever stands in them, they tell no time. */
function saidReadings({ layout }: GivenText): (column: number) => boolean {
  return (column) => layout?.form === 'long' && (column === layout.name || column === layout.value);
}

function withoutColumns(table: SampleTable, isLeftOut: (column: number) => boolean): SampleTable {
  const rows = table.rows.map((row) => ({
    ...row,
    cells: row.cells.map((cell, column) => (isLeftOut(column) ? '' : cell)),
  }));
  return { ...table, rows };
}

/** Whole lines only: a row cut in two would look like another kind of row. */
function sampleOf(text: string): string {
  if (text.length <= sample_chars) return text;
  const lineEnd = text.includes('\n') ? '\n' : '\r';
  const end = text.lastIndexOf(lineEnd, sample_chars);
  return text.slice(0, end < 0 ? sample_chars : end + 1);
}

function firstTimedRow(table: SampleTable, time: Recipe['time']): SampleRow | undefined {
  const times_s = timesOf(time, table);
  const index = times_s.findIndex((time_s) => !Number.isNaN(time_s));
  return table.rows[Math.max(0, index)];
}

/** Columns of dates and times of day that the recipe does not use are still no temperatures. */
function stampColumns(table: SampleTable): number[] {
  return Array.from({ length: table.width }, (_, column) => column).filter((column) =>
    table.rows.slice(0, 20).every(({ cells }) => isStamp(cells[column] ?? '')),
  );
}

/** The names above the first row, the line of units below them where there is one, and whatever stands further up. */
function headerAbove(table: SampleTable, firstRow: SampleRow | undefined) {
  const above = table.lines.filter(({ line }) => line < (firstRow?.line ?? 1));
  if (table.names !== undefined) {
    const preamble = above
      .map(({ from, to }) => table.text.slice(from, Math.min(to, from + longestRemark)))
      .join('\n');
    return { names: [...table.names], unitRow: [], preamble };
  }
  const isWide = ({ cells }: SampleRow) =>
    cells.length >= Math.max(2, table.width - 1) && cells.length <= table.width + 1;
  let names = above.at(-1);
  let unitRow: readonly string[] = [];
  if (names && isWide(names) && isUnitRow(names.cells)) {
    const upper = above.at(-2);
    if (upper && isWide(upper)) {
      unitRow = names.cells;
      names = upper;
    }
  }
  if (names && !isWide(names)) names = undefined;
  const nameCells = (names?.cells ?? []).map(headerOf);
  const preamble = above
    .filter((row) => row !== names && row.cells !== unitRow)
    .map(({ from, to }) => table.text.slice(from, Math.min(to, from + longestRemark)))
    .join('\n');
  return { names: nameCells, unitRow, preamble };
}

/** "s;°C;°C": every cell a unit or empty, at least one of temperature or of a sensor's signal. */
function isUnitRow(cells: readonly string[]): boolean {
  const namesOne = (cell: string) => unitOfHeader(cell) !== undefined || rawUnitOfHeader(cell) !== undefined;
  const isUnit = (cell: string) =>
    cell === '' ||
    (cell.length <= 12 &&
      (namesOne(cell) || /^[[(]?(m?s|sec|min|h|hh:mm(:ss)?|[mµ]?[VAW]|%|-)[\])]?$/i.test(cell)));
  return cells.every(isUnit) && cells.some((cell) => namesOne(cell) && cell.length <= 12);
}
