import { describe, expect, test } from 'vitest';
import { LineWalker, RowCells } from './split-row.js';

function split(row: string, delimiter: ',' | ';' | '\t' | '|' | ' '): string[] {
  const cells = new RowCells(delimiter);
  cells.split(row, 0, row.length);
  return cells.all(row);
}

describe('a row is split into its cells', () => {
  test.each([
    { row: '1,2,3', delimiter: ',', cells: ['1', '2', '3'] },
    { row: ' 1 ; 2,5 ;3 ', delimiter: ';', cells: ['1', '2,5', '3'] },
    { row: '1\t\t3', delimiter: '\t', cells: ['1', '', '3'] },
    { row: '1,2,', delimiter: ',', cells: ['1', '2', ''] },
    { row: ',,', delimiter: ',', cells: ['', '', ''] },
    { row: '  1   2\t3 ', delimiter: ' ', cells: ['1', '2', '3'] },
    { row: '"21,5","a ""b"" c", "x" ', delimiter: ',', cells: ['21,5', 'a "b" c', 'x'] },
    { row: '"2024-05-01 10:00" 21.5', delimiter: ' ', cells: ['2024-05-01 10:00', '21.5'] },
    { row: '"",1', delimiter: ',', cells: ['', '1'] },
    { row: 'a|b|"c|d"', delimiter: '|', cells: ['a', 'b', 'c|d'] },
  ] as const)('$row', ({ row, delimiter, cells }) => {
    expect(split(row, delimiter)).toEqual(cells);
  });

  test('a stray quotation mark costs its own row only', () => {
    expect(split('"21.5,22', ',')).toEqual(['"21.5', '22']);
    expect(split('5" display,22', ',')).toEqual(['5" display', '22']);
    expect(split('"a"b,22', ',')).toEqual(['"a"b', '22']);
  });

  test('cells beyond the capacity are counted', () => {
    const cells = new RowCells(',', 2);
    cells.split('1,2,3,4', 0, 7);
    expect(cells.count).toBe(4);
    expect(cells.all('1,2,3,4')).toEqual(['1', '2']);
    expect(cells.cell('1,2,3,4', 3)).toBe('');
  });
});

test.each([
  ['line feeds', 'a\nb\n\nc'],
  ['carriage returns and line feeds', 'a\r\nb\r\n\r\nc\r\n'],
  ['carriage returns', 'a\rb\r\rc'],
  ['doubled carriage returns', 'a\r\r\nb\r\r\n\r\nc'],
])('lines ended by %s are stepped through with their numbers', (_name, text) => {
  const walker = new LineWalker(text);
  const seen: string[] = [];
  while (walker.step())
    if (!walker.isBlank()) seen.push(`${walker.line}${text.slice(walker.from, walker.to)}`);
  expect(seen).toEqual(['1a', '2b', '4c']);
});
