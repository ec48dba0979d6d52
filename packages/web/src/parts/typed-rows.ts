/** Tables of two columns as one pastes them from a data sheet: a pair of numbers on each line. */
import { readTyped, writeTyped } from './quantity.js';

export type TypedRows =
  | { readonly ok: true; readonly rows: readonly Readonly<Record<string, number>>[] }
  | { readonly ok: false; readonly why: string };

/**
 * Reads lines such as `25 10000`, `25;10000` or `-10<tab>42,47`; blanks, tabs and semicolons part the two.
 *
 * @param names of the two fields
 * @param least number of rows needed
 */
export function readRows(text: string, names: readonly [string, string], least: number): TypedRows {
  const rows: Record<string, number>[] = [];
  for (const [index, line] of text.split('\n').entries()) {
    if (line.trim() === '') continue;
    const numbers = line
      .trim()
      .split(/\s*[\t;]\s*|\s+/)
      .map((cell) => readTyped(cell));
    const [first, second] = numbers;
    if (numbers.length !== 2 || first?.kind !== 'number' || second?.kind !== 'number')
      return { ok: false, why: `Line ${index + 1} is not a pair of numbers.` };
    rows.push({ [names[0]]: first.value, [names[1]]: second.value });
  }
  if (rows.length < least) return { ok: false, why: `Write ${least} lines or more.` };
  return { ok: true, rows };
}

/** The rows as the field shows them. */
export function writeRows(rows: unknown, names: readonly [string, string]): string {
  if (!Array.isArray(rows)) return '';
  return rows
    .map((row: Record<string, number>) => `${writeTyped(row[names[0]])} ${writeTyped(row[names[1]])}`)
    .join('\n');
}
