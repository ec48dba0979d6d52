import { stripVTControlCharacters } from 'node:util';
import { expect, test } from 'vitest';
import { list, type Page, pageOf, paint, softenBlanks, widthOf, wrap } from './page.js';
import { layTable } from './table.js';

const plain: Page = { width: 60, colour: false };
const coloured: Page = { width: 60, colour: true };

test.each([
  { what: 'a terminal has colour', stream: { isTTY: true, columns: 80 }, env: {}, colour: true, width: 80 },
  {
    what: 'NO_COLOR takes it away',
    stream: { isTTY: true, columns: 80 },
    env: { NO_COLOR: '1' },
    colour: false,
    width: 80,
  },
  {
    what: 'an empty NO_COLOR does not',
    stream: { isTTY: true, columns: 80 },
    env: { NO_COLOR: '' },
    colour: true,
    width: 80,
  },
  {
    what: 'a dumb terminal has none',
    stream: { isTTY: true, columns: 80 },
    env: { TERM: 'dumb' },
    colour: false,
    width: 80,
  },
  { what: 'a pipe has none', stream: {}, env: {}, colour: false, width: 100 },
  {
    what: 'lines stay readable in a wide window',
    stream: { isTTY: true, columns: 250 },
    env: {},
    colour: true,
    width: 100,
  },
])('$what', ({ stream, env, colour, width }) => {
  expect(pageOf(stream, env)).toEqual({ colour, width });
});

test('colour adds codes around a text and takes no room', () => {
  expect(paint(plain, 'stop', '■ stop')).toBe('■ stop');
  const painted = paint(coloured, 'stop', '■ stop');
  expect(painted).toContain('■ stop');
  expect(widthOf(painted)).toBe(6);
});

test('wrapped lines fit the page, keep every word and stand under the first', () => {
  const words = Array.from({ length: 40 }, (_, at) => `word${at}`);
  const lines = wrap(plain, words.join(' '), '  · ');
  for (const line of lines) expect(widthOf(line)).toBeLessThanOrEqual(60);
  for (const line of lines.slice(1)) expect(line).toMatch(/^ {4}\S/);
  expect(
    lines
      .join(' ')
      .split(/\s+/)
      .filter((word) => word.startsWith('word')),
  ).toEqual(words);
});

test.each(['7.0 K', '95 %', '53.0 ± 0.5 °C', '0.06 mm', '7.0\u00a0K'])(
  'a line does not end inside %s, whose blanks are plain in the end',
  (figure) => {
    const lines = wrap(plain, `${'x'.repeat(56)} ${figure} under`);
    expect(lines.map(softenBlanks)).toEqual(['x'.repeat(56), `${softenBlanks(figure)} under`]);
  },
);

test('a list of nothing is nothing', () => {
  expect(list(plain, 'Unresolved', [])).toEqual([]);
});

test.each([plain, coloured])('columns of a table line up, with colour and without: $colour', (page) => {
  const lines = layTable(
    page,
    [{ title: 'state' }, { title: 'margin K', right: true }, { title: '' }],
    [
      ['idle', '21.3', { text: '● holds', look: 'holds' }],
      'a line of its own',
      ['full load', '−7.0', { text: '■ stop', look: 'stop' }],
    ],
  );
  const bare = lines.map((line) => stripVTControlCharacters(line));
  expect(bare).toEqual([
    '  state      margin K',
    '  idle           21.3  ● holds',
    '  a line of its own',
    '  full load      −7.0  ■ stop',
  ]);
});
