import { BadInputError, type Fault, formatCount } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import { LineWalker, RowCells } from './split-row.js';

/** Rows looked at to tell how many cells a row of this log has. */
export const sampleRows = 200;

/**
 * The number of cells most rows have, of two that are equally common the lesser that holds every column in use; and how
 * many rows were looked at.
 */
export function usualWidth(text: string, recipe: Recipe): { width: number; rows: number } {
  const { layout } = recipe;
  if (layout?.form === 'fixed') return { width: layout.starts.length, rows: sampleRows };
  // Long form and sentences are laid out by their names, so they are as wide as the recipe says.
  if (layout !== undefined) {
    const timeColumns = recipe.time.style === 'interval' ? [] : recipe.time.columns;
    const width = 1 + Math.max(1, ...timeColumns, ...recipe.channels.map(({ column }) => column));
    return { width, rows: sampleRows };
  }
  const needed = 1 + Math.max(...recipe.channels.map(({ column }) => column));
  return usualCells(text, recipe, needed);
}

/** As many cells as most lines have, of two counts that are equally common the lesser of at least `needed`. */
function usualCells(text: string, recipe: Recipe, needed: number): { width: number; rows: number } {
  const lines = new LineWalker(text);
  const cells = new RowCells(recipe.delimiter);
  const counts = new Map<number, number>();
  for (let skipped = 0; skipped < recipe.headerLines; skipped++) lines.step();
  let rows = 0;
  while (rows < sampleRows && lines.step()) {
    if (lines.isBlank() || lines.isComment()) continue;
    cells.split(text, lines.from, lines.to);
    counts.set(cells.count, (counts.get(cells.count) ?? 0) + 1);
    rows++;
  }
  const ranked = [...counts].toSorted(
    ([one, oneRows], [other, otherRows]) =>
      otherRows - oneRows || Number(one < needed) - Number(other < needed) || one - other,
  );
  return { width: ranked[0]?.[0] ?? 0, rows };
}

/** A header as the recipe keeps it: without the mark of a note in front of the first, and not endlessly long. */
export function headerOf(cell: string, column: number): string {
  return (column === 0 ? cell.replace(/^#+\s*/, '') : cell).slice(0, 200);
}

/** The header lines of the file, split. */
export function headerRows(
  text: string,
  recipe: Pick<Recipe, 'delimiter' | 'headerLines' | 'layout'>,
): string[][] {
  const lines = new LineWalker(text);
  const cells = new RowCells(recipe.delimiter);
  const rows: string[][] = [];
  while (lines.line < recipe.headerLines && lines.step()) {
    if (recipe.layout?.form === 'fixed') cells.cut(text, lines.from, lines.to, recipe.layout.starts);
    else cells.split(text, lines.from, lines.to);
    rows.push(cells.all(text).map(headerOf));
  }
  return rows;
}

/**
 * Refuses a recipe made for another file: columns that are not there, columns that have changed places, one column
 * or probe used twice, in long form also one column for two of time, name and value. A recipe that reads the wrong column gives numbers that look right, so this is checked first.
 *
 * @throws BadInputError naming each column that does not fit
 */
export function refuseMisfit(text: string, recipe: Recipe, width: number, file: string): void {
  const faults: Fault[] = [];
  const fault = (what: string, remedy: string, line = recipe.headerLines + 1) => {
    faults.push({ where: `${file}:${line}`, what, remedy });
  };
  if (width === 0) {
    fault(
      `The recipe skips ${formatCount(recipe.headerLines, 'header line')}, and no row is left.`,
      'Import the log again, or correct the number of header lines.',
    );
  } else if (width === 1) {
    fault(
      `The rows have one column only ("${sampleCell(text, recipe)}"): a time and at least one temperature are needed.`,
      'Correct the delimiter in the recipe, or export the log with time and temperatures.',
    );
  }
  const timeColumns = recipe.time.style === 'interval' ? [] : recipe.time.columns;
  const isByName = recipe.layout?.form === 'long' || recipe.layout?.form === 'sentence';
  const headers = width > 1 && !isByName ? headerRows(text, recipe) : [];
  const fewer = `The rows have ${formatCount(width, 'column')}.`;
  for (const column of timeColumns) {
    if (width <= 1 || column < width) continue;
    fault(
      `The recipe takes the time from column ${column + 1}. ${fewer}`,
      'Correct the time column, or import the log afresh.',
    );
  }
  if (recipe.layout?.form === 'long') {
    for (const { what, remedy } of longFaults(text, recipe, recipe.layout, timeColumns)) fault(what, remedy);
  }
  const usedBy = new Map<string, number>();
  for (const { column, header, probe } of recipe.channels) {
    const place = `Column ${column + 1}`;
    if (width > 1 && column >= width) {
      fault(`${place} ("${header}") is missing. ${fewer}`, 'Correct the recipe, or import the log afresh.');
    } else if (timeColumns.includes(column)) {
      fault(
        `${place} ("${header}") is both the time and a temperature.`,
        'Take one of the two out of the recipe.',
      );
    } else {
      const moved = movedTo(headers, column, header);
      if (moved) {
        fault(
          `${place} is headed "${moved.found}"; the recipe expects "${header}", which stands in column ${moved.column + 1}.`,
          'The columns of this log are in another order: import it afresh.',
          moved.line,
        );
      }
    }
    if (probe === undefined) continue;
    const other = usedBy.get(probe);
    if (other !== undefined) {
      fault(
        `Probe "${probe}" is given to columns ${other + 1} and ${column + 1}.`,
        'Give each column a probe of its own.',
      );
    }
    usedBy.set(probe, column);
  }
  if (faults.length > 0) throw new BadInputError(faults);
}

/** What speaks against the columns of a log in long form: they are those of a line, and the rows made of them are wider. */
function longFaults(
  text: string,
  recipe: Recipe,
  { name, value }: Extract<NonNullable<Recipe['layout']>, { form: 'long' }>,
  timeColumns: readonly number[],
): Omit<Fault, 'where'>[] {
  const { width } = usualCells(text, recipe, 1 + Math.max(name, value));
  const remedy = 'Correct the columns of name and value in the recipe, or import the log afresh.';
  const roles = [
    ['name', name],
    ['value', value],
  ] as const;
  const faults = roles.flatMap(([role, column]) => {
    if (width > 0 && column >= width)
      return [
        {
          what: `The recipe takes the ${role} of each reading from column ${column + 1}. The lines have ${formatCount(width, 'column')}.`,
          remedy,
        },
      ];
    if (timeColumns.includes(column))
      return [{ what: `Column ${column + 1} is both the time and the ${role} of each reading.`, remedy }];
    return [];
  });
  const late = timeColumns.filter((column) => width > 0 && column >= width);
  return [
    ...faults,
    ...late.map((column) => ({
      what: `The recipe takes the time from column ${column + 1}. The lines have ${formatCount(width, 'column')}.`,
      remedy: 'Correct the time column, or import the log afresh.',
    })),
    ...(name === value
      ? [{ what: `Column ${name + 1} is both the name and the value of each reading.`, remedy }]
      : []),
  ];
}

function sampleCell(text: string, recipe: Recipe): string {
  const lines = new LineWalker(text);
  while (lines.step()) if (lines.line > recipe.headerLines && !lines.isBlank()) break;
  return text.slice(lines.from, Math.min(lines.to, lines.from + 40));
}

/** Where a header stands instead, if it stands in the file at all but not in its column. */
function movedTo(headers: readonly string[][], column: number, header: string) {
  if (header === '') return undefined;
  const wanted = header.toLowerCase();
  let moved: { column: number; line: number; found: string } | undefined;
  for (const [index, row] of headers.entries()) {
    const places = row.flatMap((cell, place) => (cell.toLowerCase() === wanted ? [place] : []));
    if (places.includes(column)) return undefined;
    if (places[0] !== undefined) moved = { column: places[0], line: index + 1, found: row[column] ?? '' };
  }
  return moved;
}
