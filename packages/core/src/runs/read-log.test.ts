import { describe, expect, test } from 'vitest';
import { BadInputError } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import { readLog } from './read-log.js';
import { sniffLog } from './sniff-log.js';

const bytesOf = (text: string) => new TextEncoder().encode(text);

const plain: Recipe = {
  encoding: 'utf-8',
  delimiter: ',',
  decimal: '.',
  headerLines: 1,
  time: { style: 'elapsed', columns: [0], unit: 's' },
  channels: [{ column: 1, header: 'pack', probe: 'pack', unit: 'C' }],
  missing: ['OL', '-127'],
};

const read = (text: string, change: Partial<Recipe> = {}) =>
  readLog(bytesOf(text), { ...plain, ...change }, 'evening.csv');

describe('the time axis', () => {
  test.each([
    [
      { style: 'iso', columns: [0] },
      ['2024-05-01T23:59:50Z', '2024-05-02T00:00:00Z', '2024-05-02T02:00:00.5+02:00'],
      [0, 10, 10.5],
      '2024-05-01T23:59:50.000Z',
    ],
    [
      { style: 'date', columns: [0], order: 'day-month' },
      ['30/04/2024 23:59:50', '01/05/2024 00:00:00'],
      [0, 10],
      '2024-04-30T23:59:50.000Z',
    ],
    [
      { style: 'date', columns: [0], order: 'month-day' },
      ['4/30/24 11:59:50 PM', '5/1/24 12:00:00 AM'],
      [0, 10],
      '2024-04-30T23:59:50.000Z',
    ],
    [
      { style: 'epoch', columns: [0], unit: 's' },
      ['1000000000', '1000000000.25'],
      [0, 0.25],
      '2001-09-09T01:46:40.000Z',
    ],
    [
      { style: 'epoch', columns: [0], unit: 'ms' },
      ['1000000000000', '1000000000250'],
      [0, 0.25],
      '2001-09-09T01:46:40.000Z',
    ],
    [{ style: 'elapsed', columns: [0], unit: 's' }, ['5', '6.1'], [0, 1.1], null],
    [{ style: 'elapsed', columns: [0], unit: 'min' }, ['0', '0.1'], [0, 6], null],
    [{ style: 'elapsed', columns: [0], unit: 'h' }, ['0', '0.1'], [0, 360], null],
    [{ style: 'elapsed', columns: [0], unit: 'ms' }, ['100', '350'], [0, 0.25], null],
    [{ style: 'elapsed', columns: [0], unit: 'h:m:s' }, ['0:59:59', '30:00:01.5'], [0, 104_402.5], null],
    [
      { style: 'clock', columns: [0] },
      ['23:59:50', '00:00:00', '12:00:00', '23:59:59', '0:00:01'],
      [0, 10, 43_210, 86_409, 86_411],
      null,
    ],
    [{ style: 'interval', interval_s: 2.5 }, ['x', '', 'y'], [0, 2.5, 5], null],
  ] as const)('%o', (time, stamps, after_s, startedAt) => {
    const reading = read(`time,pack\n${stamps.map((stamp) => `${stamp},21.5\n`).join('')}`, {
      time: time as unknown as Recipe['time'],
    });
    expect([...reading.after_s]).toEqual(after_s);
    expect(reading.startedAt).toBe(startedAt);
    expect(reading.report.unread).toEqual([]);
  });

  test('date and time in two columns, quoted, with carriage returns', () => {
    const text =
      '"d";"t";"pack"\r\n"01.05.2024";"10:00:00";"21,5"\r\n\r\n"01.05.2024";"10:00:01";"21,75"\r\n';
    const reading = read(text, {
      delimiter: ';',
      decimal: ',',
      time: { style: 'date', columns: [0, 1], order: 'day-month' },
      channels: [{ column: 2, header: 'pack', probe: 'pack', unit: 'C' }],
    });
    expect([...reading.after_s]).toEqual([0, 1]);
    expect([...(reading.channels[0]?.reading_C ?? [])]).toEqual([21.5, 21.75]);
  });
});

describe('readings', () => {
  test('numbers of every writing, and missing ones counted by reason', () => {
    const text = 't;pack\n0;1 04,5\n1;2e1\n2;20,5\n3;OL\n4;\n5;abc\n6\n7;-127,00\n8;999\n9;ol\n10;20.5\n';
    const { after_s, channels, report } = read(text.replace('1 04,5', '21,5'), {
      delimiter: ';',
      decimal: ',',
    });
    expect(after_s).toHaveLength(11);
    expect([...(channels[0]?.reading_C ?? [])].map((value) => (Number.isNaN(value) ? null : value))).toEqual([
      21.5,
      20,
      20.5,
      null,
      null,
      null,
      null,
      null,
      null,
      null,
      null,
    ]);
    expect(report.rows).toBe(11);
    expect(report.unread).toEqual([
      { reason: 'no reading: the log says "OL"', count: 2, firstLine: 5, lines: [5, 11] },
      { reason: 'empty cell', count: 1, firstLine: 6, lines: [6] },
      { reason: 'not a number, such as "abc"', count: 2, firstLine: 7, lines: [7, 12] },
      { reason: 'the row ends before this column', count: 1, firstLine: 8, lines: [8] },
      { reason: 'no reading: the log says "-127,00"', count: 1, firstLine: 9, lines: [9] },
      { reason: 'outside -60 to 300 °C, such as "999"', count: 1, firstLine: 10, lines: [10] },
    ]);
  });

  // Fixed by the definition of the scales, t_F = 1.8 t_C + 32 [NIST-SP811] B.9, and 0 °C = 273.15 K [SI-2019].
  test.each([
    ['F', '32', 0],
    ['F', '212', 100],
    ['F', '-40', -40],
    ['F', '98.6', 37],
    ['F', '70.7 °F', 21.5],
    ['K', '273.15', 0],
    ['K', '294.65', 21.5],
    ['C', '21.5 °C', 21.5],
  ] as const)('in %s, %s is %d °C', (unit, cell, expected_C) => {
    const reading = read(`t,pack\n0,${cell}\n1,${cell}\n`, {
      channels: [{ column: 1, header: 'pack', probe: 'pack', unit }],
    });
    expect(reading.channels[0]?.reading_C[1]).toBeCloseTo(expected_C, 10);
  });

  test('a cell that names another unit than its column is not converted in silence', () => {
    const { report, channels } = read('t,pack\n0,21.5\n1,70 °F\n');
    expect(channels[0]?.reading_C[1]).toBeNaN();
    expect(report.unread).toEqual([
      { reason: 'the cell names another unit than its column', count: 1, firstLine: 3, lines: [3] },
    ]);
  });

  test('a column without a probe is kept, and its gaps are nobody’s loss', () => {
    const { channels, report } = read('t,pack,spare\n0,21.5,\n1,21.6,22\n', {
      channels: [...plain.channels, { column: 2, header: 'spare', unit: 'C' }],
    });
    expect(channels.map(({ probe }) => probe)).toEqual(['pack', undefined]);
    expect(channels[1]?.reading_C[1]).toBe(22);
    expect(report.unread).toEqual([]);
  });

  test('a row with surplus numbers is not trusted; a note behind the row is', () => {
    const { channels, report } = read('t,pack\n0,21.5\n1,21,5\n2,21.6,load on\n3,21.7\n');
    expect([...(channels[0]?.reading_C ?? [])]).toEqual([21.5, Number.NaN, 21.6, 21.7]);
    expect(report.unread).toMatchObject([{ count: 1, firstLine: 3 }]);
  });
});

describe('rows that are left out are counted', () => {
  test('repeats, notes, texts', () => {
    const text = 't,pack\n0,21.5\n# load on\n0,22.5\n1,21.6\n1,21.6\nEnd of log\n2,21.7\n';
    const { after_s, channels, report } = read(text);
    expect([...after_s]).toEqual([0, 1, 2]);
    expect([...(channels[0]?.reading_C ?? [])]).toEqual([21.5, 21.6, 21.7]);
    expect(report.unread).toEqual([
      { reason: 'row left out: a note, not a row', count: 1, firstLine: 3, lines: [3] },
      { reason: 'row left out: same time as the row before it', count: 2, firstLine: 4, lines: [4, 6] },
      { reason: 'row left out: no readable time', count: 1, firstLine: 7, lines: [7] },
    ]);
    expect(report.conclusions.join('\n')).toContain('repeat the stamp');
  });

  test('a gap is named', () => {
    const text = `t,pack\n${Array.from({ length: 20 }, (_, row) => `${row < 10 ? row : row + 600},21.5\n`).join('')}`;
    const { report } = read(text);
    expect(report.interval_s).toBe(1);
    expect(report.conclusions).toContain('The longest gap, 10 min, ends in line 12.');
  });
});

describe('what cannot be read is refused with file, line and remedy', () => {
  const spare = { column: 2, header: 'spare', unit: 'C' } as const;
  test.each([
    ['an empty file', '', {}, /^evening\.csv:1: The file is empty/],
    [
      'a clock that jumps back',
      't,pack\n0,21\n10,21\n\n5,21\n',
      {},
      /^evening\.csv:5: The clock jumps back: line 3 says 10, line 5 says 5\. Split the file before line 5 .*`interval` and a stated spacing/,
    ],
    [
      'a time of day that jumps back',
      't,pack\n10:00:00,21\n09:59:59,21\n',
      { time: { style: 'clock', columns: [0] } },
      /:3: The clock jumps back: line 2 says 10:00:00, line 3 says 09:59:59/,
    ],
    [
      'a clock set while logging',
      't,pack\n1970-01-01 00:00:10,21\n2024-05-01 10:00:00,21\n',
      { time: { style: 'iso', columns: [0] } },
      /:3: The clock leaps ahead by more than a week/,
    ],
    ['one column', 'pack\n21\n22\n', {}, /one column only \("21"\)/],
    [
      'no row of numbers',
      't,pack\nx,y\nz,w\n',
      {},
      /no row of numbers in this file\. Found: row left out: no readable time \(2 rows, first in line 2\)/,
    ],
    ['times without any reading', 't,pack\n0,OL\n1,OL\n', {}, /no row of numbers/],
    ['one usable row', 't,pack\n0,21\n', {}, /only one usable row/],
    [
      'too many header lines',
      't,pack\n0,21\n1,21\n',
      { headerLines: 9 },
      /skips 9 header lines, and no row is left/,
    ],
    [
      'a missing column',
      't,pack\n0,21\n1,21\n',
      { channels: [...plain.channels, spare] },
      /Column 3 \("spare"\) is missing\. The rows have 2 columns/,
    ],
    [
      'a missing time column',
      't,pack\n0,21\n1,21\n',
      { time: { style: 'elapsed', columns: [7], unit: 's' } },
      /takes the time from column 8/,
    ],
    [
      'a column in two roles',
      't,pack\n0,21\n1,21\n',
      { time: { style: 'elapsed', columns: [1], unit: 's' } },
      /both the time and a temperature/,
    ],
    [
      'columns that changed places',
      't,room,pack\n0,21,22\n1,21,22\n',
      {},
      /^evening\.csv:1: Column 2 is headed "room"; the recipe expects "pack", which stands in column 3/,
    ],
    [
      'a probe used twice',
      't,pack,b\n0,21,22\n1,21,22\n',
      { channels: [...plain.channels, { column: 2, header: 'b', probe: 'pack', unit: 'C' }] },
      /Probe "pack" is given to columns 2 and 3/,
    ],
  ] as const)('%s', (_name, text, change, what) => {
    const attempt = () => read(text, change as unknown as Partial<Recipe>);
    expect(attempt).toThrow(BadInputError);
    expect(attempt).toThrow(what);
    try {
      attempt();
    } catch (error) {
      for (const { where, remedy } of (error as BadInputError).faults) {
        expect(where).toMatch(/^evening\.csv:\d+$/);
        expect(remedy).toMatch(/\.$/);
      }
    }
  });
});

/** The obvious way to read the same log: a string per row and per cell. */
function readPlainly(bytes: Uint8Array): Float64Array[] {
  const rows = new TextDecoder().decode(bytes).split('\n').slice(1);
  const columns = Array.from({ length: 5 }, () => new Float64Array(rows.length));
  for (const [row, line] of rows.entries()) {
    for (const [column, cell] of line.split(',').entries()) {
      const values = columns[column];
      if (values) values[row] = column === 0 ? Date.parse(cell) / 1000 : Number(cell);
    }
  }
  return columns;
}

test('a long log is read as the language itself splits it', () => {
  const start_ms = Date.UTC(2024, 4, 1);
  const lines = ['time,a (°C),b (°C),c (°C),d (°C)'];
  for (let row = 0; row < 30_000; row++) {
    const level = (20 + (row % 997) / 40).toFixed(2);
    lines.push(`${new Date(start_ms + row * 1000).toISOString()},${level},${level},${level},${level}`);
  }
  const bytes = bytesOf(lines.join('\n'));
  const { recipe } = sniffLog(bytes, { file: 'long.csv', probes: [] });
  const { after_s, report, channels } = readLog(bytes, recipe, 'long.csv');
  const plain = readPlainly(bytes);
  expect(report.rows).toBe(30_000);
  expect(after_s.at(-1)).toBe(29_999);
  expect(channels.map(({ reading_C }) => reading_C.length)).toEqual([30_000, 30_000, 30_000, 30_000]);
  const differing = channels.filter(({ reading_C }, index) =>
    reading_C.some((value, row) => value !== plain[index + 1]?.[row]),
  );
  expect(differing).toEqual([]);
}, 120_000);
