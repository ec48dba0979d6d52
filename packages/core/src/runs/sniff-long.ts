import { BadInputError, formatCount, formatList } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import { noReadingWords } from './no-reading-words.js';
import { NumberReader } from './read-number.js';
import { type GivenLong, isStamp, type SampleRow, type SampleTable } from './sniff-table.js';

const nameWords =
  /^(name|names|channel|chan|ch|sensor|sensors|probe|location|position|point|tag|series|metric|source|item|id|quantity)\b/i;
const words = new Set(noReadingWords);
/** What a recipe holds at most. */
const mostNames = 64;

type LongLayout = Extract<NonNullable<Recipe['layout']>, { form: 'long' }>;

/** A log of one reading a line as a table of one time a row, with the names as the headers of its last columns. */
export interface LongTable {
  readonly table: SampleTable;
  readonly names: readonly string[];
  readonly unitRow: readonly string[];
  readonly conclusion: string;
}

/** What a log tells before its form is known: the lines that hold readings, the names above them, and its time. */
export interface LongContext {
  readonly table: SampleTable;
  readonly header: readonly string[];
  readonly unitRow: readonly string[];
  /** Columns that tell time or count rows. */
  readonly timeColumns: readonly number[];
  /** Those of them by which the time is read. */
  readonly usedTimeColumns: readonly number[];
}

/**
 * Tells long form (time, name, value) and lays it out as rows: a column of few names that take turns, and one column of
 * numbers beside the time. A column of states, such as ok and warn, does not take turns.
 */
export function sniffLong(log: LongContext): LongTable | undefined {
  const { table } = log;
  if (table.layout !== undefined || table.width < 3 || table.rows.length < 4) return undefined;
  const name = guessName(log);
  if (name === undefined) return undefined;
  const [value, ...others] = guessValues(log, name);
  if (value === undefined || others.length > 0) return undefined;
  return layRows(log, name, value, guessBy(log));
}

/**
 * Lays a log out in long form because a person says that it is one. What they say of its columns holds; the rest is found.
 *
 * @param given columns counted from 0
 * @throws BadInputError for columns that are not there or cannot be what they are said to be, and where one that was not
 *   said is not found
 */
export function layLong(log: LongContext, given: GivenLong, file: string): LongTable {
  const { table } = log;
  const refuse = (what: string, remedy: string) =>
    new BadInputError([{ where: `${file}:${table.rows[0]?.line ?? 1}`, what, remedy }]);
  for (const [column, role] of [
    [given.name, 'name'],
    [given.value, 'value'],
  ] as const) {
    if (column !== undefined && column >= table.width) {
      throw refuse(
        `Column ${column + 1} is to hold the ${role} of each reading, and the lines have ${formatCount(table.width, 'column')}.`,
        `Say which of them holds the ${role}.`,
      );
    }
  }
  const name = given.name ?? guessName(log, given.value);
  if (name === undefined) {
    throw refuse(
      'No column is found that names the reading of each line: a few names that take turns.',
      'Say which column holds the name, or read a row a line.',
    );
  }
  if (name === given.value) {
    throw refuse(
      `Column ${name + 1} cannot hold both the name and the value of a reading.`,
      'Say which column holds the name and which the value.',
    );
  }
  const names = new Set(table.rows.map((row) => cellOf(row, name).toLowerCase()));
  if (names.size > mostNames || names.size > table.rows.length / 2) {
    throw refuse(
      `Column ${name + 1} holds ${names.size} different names in ${formatCount(table.rows.length, 'line')}: a name must come again, and there are at most ${mostNames}.`,
      'Say which column holds the name of each reading.',
    );
  }
  const values = given.value === undefined ? guessValues(log, name) : [given.value];
  const [value] = values;
  if (value === undefined) {
    throw refuse(
      `Beside the names in column ${name + 1} no column of numbers is found.`,
      'Say which column holds the value, or read a row a line.',
    );
  }
  if (values.length > 1) {
    throw refuse(
      `Numbers stand in more than one column: ${formatList(values.map((column) => String(column + 1)))}.`,
      'Say which of them holds the value of each reading.',
    );
  }
  const isNumber = numberTest(table);
  if (!table.rows.some((row) => isNumber(cellOf(row, value)))) {
    throw refuse(
      `Column ${value + 1} is to hold the value of each reading, and no number stands in it ("${cellOf(table.rows[0] as SampleRow, value).slice(0, 40)}").`,
      'Say which column holds the value.',
    );
  }
  if (given.by === 'stamp' && log.usedTimeColumns.length === 0) {
    throw refuse(
      'Lines of one stamp are to make a row, and no column of the log tells the time.',
      'Let one cycle through the names make a row.',
    );
  }
  return layRows(log, name, value, given.by ?? guessBy(log));
}

const cellOf = ({ cells }: SampleRow, column: number) => cells[column] ?? '';

function numberTest(table: SampleTable): (cell: string) => boolean {
  const numbers = new NumberReader(table.decimal, table.thousands);
  return (cell) => !Number.isNaN(numbers.read(cell, 0, cell.length));
}

function freeColumns({ table, usedTimeColumns }: LongContext): number[] {
  return Array.from({ length: table.width }, (_, column) => column).filter(
    (column) => !usedTimeColumns.includes(column),
  );
}

function guessName(log: LongContext, but?: number): number | undefined {
  const isNumber = numberTest(log.table);
  return freeColumns(log).find(
    (column) => column !== but && takesTurns(log.table, column, log.header[column] ?? '', isNumber),
  );
}

/** Columns of numbers that are neither the name nor a time. */
function guessValues(log: LongContext, name: number): number[] {
  const { rows } = log.table;
  const isNumber = numberTest(log.table);
  const isValue = (cell: string) => isNumber(cell) || words.has(cell.toLowerCase());
  return freeColumns(log).filter(
    (column) =>
      column !== name &&
      !log.timeColumns.includes(column) &&
      rows.filter((row) => isValue(cellOf(row, column))).length >= 0.8 * rows.length,
  );
}

function stampOf(row: SampleRow, timeColumns: readonly number[]): string {
  return timeColumns.map((column) => cellOf(row, column)).join(' ');
}

function guessBy({ table, usedTimeColumns }: LongContext): LongLayout['by'] {
  const stamps = new Set(table.rows.map((row) => stampOf(row, usedTimeColumns)));
  return stamps.size <= 0.75 * table.rows.length && usedTimeColumns.length > 0 ? 'stamp' : 'cycle';
}

function layRows(log: LongContext, name: number, value: number, by: LongLayout['by']): LongTable {
  const { table, header, unitRow, usedTimeColumns } = log;
  const named = table.rows.filter((row) => cellOf(row, name) !== '');
  const names = [
    ...new Map(named.map((row) => [cellOf(row, name).toLowerCase(), cellOf(row, name)])).values(),
  ];
  const unitColumn = freeColumns(log).find((column) =>
    table.rows.every((row) => /^(?:[°º˚]|deg)?\s?[CFK]$|^℃$|^℉$/i.test(cellOf(row, column))),
  );
  const unit =
    unitColumn === undefined ? (header[value] ?? '') : cellOf(table.rows[0] as SampleRow, unitColumn);

  const rows: SampleRow[] = [];
  let open: { row: SampleRow; cells: string[] } | undefined;
  const place = new Map(names.map((each, index) => [each.toLowerCase(), table.width + index]));
  for (const row of named) {
    const column = place.get(cellOf(row, name).toLowerCase()) ?? 0;
    const isNext =
      open === undefined ||
      (open.cells[column] ?? '') !== '' ||
      (by === 'stamp' && stampOf(open.row, usedTimeColumns) !== stampOf(row, usedTimeColumns));
    if (isNext || open === undefined) {
      const cells = Array.from({ length: table.width + names.length }, () => '');
      for (const time of usedTimeColumns) cells[time] = cellOf(row, time);
      open = { row, cells };
      rows.push({ ...row, cells });
    }
    open.cells[column] = cellOf(row, value);
  }
  const firstLine = rows[0]?.line ?? 1;
  const blank = Array.from({ length: table.width }, (_, column) =>
    usedTimeColumns.includes(column) ? (header[column] ?? '') : '',
  );
  return {
    table: {
      ...table,
      layout: { form: 'long', name, value, by },
      width: table.width + names.length,
      lines: [...table.lines.filter(({ line }) => line < firstLine), ...rows],
      rows,
    },
    names: [...blank, ...names.map((each) => each.slice(0, 200))],
    unitRow: [...blank.map((_, column) => unitRow[column] ?? ''), ...names.map(() => unit)],
    conclusion: `Each line holds one reading: column ${name + 1} names it (${names.slice(0, 6).join(', ')}), column ${value + 1} holds its value. ${by === 'stamp' ? 'Lines of one stamp make a row.' : 'Each line has a stamp of its own; one cycle through the names makes a row, timed by its first line.'}`,
  };
}

function takesTurns(
  table: SampleTable,
  column: number,
  header: string,
  isNumber: (cell: string) => boolean,
): boolean {
  const cells = table.rows.map((row) => (row.cells[column] ?? '').toLowerCase());
  const distinct = new Set(cells);
  if (distinct.size < 2 || distinct.size > mostNames || distinct.size > cells.length / 2) return false;
  if (cells.some((cell) => cell === '' || words.has(cell))) return false;
  const areNumbers = cells.some((cell) => isNumber(cell) || isStamp(cell));
  if (areNumbers && !(nameWords.test(header) && cells.every((cell) => /^\d{1,3}$/.test(cell)))) return false;
  const turns = cells.filter((cell, row) => row > 0 && cell !== cells[row - 1]).length;
  return turns >= 0.6 * (cells.length - 1);
}
