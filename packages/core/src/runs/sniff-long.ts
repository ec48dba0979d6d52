import { noReadingWords } from './no-reading-words.js';
import { NumberReader } from './read-number.js';
import { isStamp, type SampleRow, type SampleTable } from './sniff-table.js';

const nameWords =
  /^(name|names|channel|chan|ch|sensor|sensors|probe|location|position|point|tag|series|metric|source|item|id|quantity)\b/i;
const words = new Set(noReadingWords);

/** A log of one reading a line as a table of one time a row, with the names as the headers of its last columns. */
export interface LongTable {
  readonly table: SampleTable;
  readonly names: readonly string[];
  readonly unitRow: readonly string[];
  readonly conclusion: string;
}

/**
 * Tells long form (time, name, value) and lays it out as rows: a column of few names that take turns, and one column of
 * numbers beside the time. A column of states, such as ok and warn, does not take turns.
 *
 * @param timeColumns columns that tell time or count rows
 */
export function sniffLong(
  table: SampleTable,
  header: readonly string[],
  unitRow: readonly string[],
  timeColumns: readonly number[],
  usedTimeColumns: readonly number[],
): LongTable | undefined {
  if (table.layout !== undefined || table.width < 3 || table.rows.length < 4) return undefined;
  const numbers = new NumberReader(table.decimal, table.thousands);
  const isNumber = (cell: string) => !Number.isNaN(numbers.read(cell, 0, cell.length));
  const free = Array.from({ length: table.width }, (_, column) => column).filter(
    (column) => !usedTimeColumns.includes(column),
  );
  const name = free.find((column) => takesTurns(table, column, header[column] ?? '', isNumber));
  if (name === undefined) return undefined;
  const values = free.filter(
    (column) =>
      column !== name &&
      !timeColumns.includes(column) &&
      table.rows.filter(
        ({ cells }) => isNumber(cells[column] ?? '') || words.has((cells[column] ?? '').toLowerCase()),
      ).length >=
        0.8 * table.rows.length,
  );
  const [value] = values;
  if (value === undefined || values.length > 1) return undefined;

  const cellOf = ({ cells }: SampleRow, column: number) => cells[column] ?? '';
  const names = [
    ...new Map(table.rows.map((row) => [cellOf(row, name).toLowerCase(), cellOf(row, name)])).values(),
  ];
  const stampOf = (row: SampleRow) => usedTimeColumns.map((column) => cellOf(row, column)).join(' ');
  const stamps = new Set(table.rows.map(stampOf));
  const by = stamps.size <= 0.75 * table.rows.length && usedTimeColumns.length > 0 ? 'stamp' : 'cycle';
  const unitColumn = free.find((column) =>
    table.rows.every((row) => /^(?:[°º˚]|deg)?\s?[CFK]$|^℃$|^℉$/i.test(cellOf(row, column))),
  );
  const unit =
    unitColumn === undefined ? (header[value] ?? '') : cellOf(table.rows[0] as SampleRow, unitColumn);

  const rows: SampleRow[] = [];
  let open: { row: SampleRow; cells: string[] } | undefined;
  const place = new Map(names.map((each, index) => [each.toLowerCase(), table.width + index]));
  for (const row of table.rows) {
    const column = place.get(cellOf(row, name).toLowerCase()) ?? 0;
    const isNext =
      open === undefined ||
      (open.cells[column] ?? '') !== '' ||
      (by === 'stamp' && stampOf(open.row) !== stampOf(row));
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
  if (distinct.size < 2 || distinct.size > 64 || distinct.size > cells.length / 2) return false;
  if (cells.some((cell) => cell === '' || words.has(cell))) return false;
  const areNumbers = cells.some((cell) => isNumber(cell) || isStamp(cell));
  if (areNumbers && !(nameWords.test(header) && cells.every((cell) => /^\d{1,3}$/.test(cell)))) return false;
  const turns = cells.filter((cell, row) => row > 0 && cell !== cells[row - 1]).length;
  return turns >= 0.6 * (cells.length - 1);
}
