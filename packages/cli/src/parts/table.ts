import { type Look, type Page, paint, widthOf } from './page.js';

export interface Column {
  readonly title: string;
  /** Numbers stand to the right, so that their units line up. */
  readonly right?: boolean;
}

export type Cell = string | { readonly text: string; readonly look: Look };

/** A line of cells, or a line of its own across all columns. */
export type Row = readonly Cell[] | string;

const gap = '  ';

/** Lays out a table: columns as wide as what stands in them, indented by two. */
export function layTable(page: Page, columns: readonly Column[], rows: readonly Row[]): string[] {
  const cells = rows.filter((row): row is readonly Cell[] => typeof row !== 'string');
  const widths = columns.map(({ title }, at) =>
    Math.max(widthOf(title), ...cells.map((row) => widthOf(textOf(row[at] ?? '')))),
  );
  const line = (row: readonly Cell[]) =>
    `${gap}${columns
      .map(({ right }, at) => {
        const cell = row[at] ?? '';
        const text = textOf(cell);
        const blanks = ' '.repeat((widths[at] ?? 0) - widthOf(text));
        const painted = typeof cell === 'string' ? text : paint(page, cell.look, text);
        return right ? blanks + painted : painted + blanks;
      })
      .join(gap)}`.trimEnd();
  const head = line(columns.map(({ title }): Cell => ({ text: title, look: 'quiet' })));
  return [head, ...rows.map((row) => (typeof row === 'string' ? `${gap}${row}` : line(row)))];
}

function textOf(cell: Cell): string {
  return typeof cell === 'string' ? cell : cell.text;
}
