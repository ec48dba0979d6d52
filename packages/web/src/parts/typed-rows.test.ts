import { expect, test } from 'vitest';
import { readRows, writeRows } from './typed-rows.js';

const names = ['at_C', 'resistance_ohm'] as const;

test('pairs are read as a data sheet parts them', () => {
  const expected = {
    ok: true,
    rows: [
      { at_C: -10, resistance_ohm: 42470 },
      { at_C: 25, resistance_ohm: 10000.5 },
    ],
  };
  for (const text of ['-10 42470\n25 10000.5', '−10;42470\n\n25 ; 10000,5\n', '-10\t42470\r\n25\t10000.5'])
    expect(readRows(text, names, 2)).toEqual(expected);
});

test('what is no pair is told by its line', () => {
  expect(readRows('25 10000\n60', names, 2)).toEqual({ ok: false, why: 'Line 2 is not a pair of numbers.' });
  expect(readRows('25 10000\nsixty 3', names, 2)).toMatchObject({ ok: false });
  expect(readRows('25 10000', names, 2)).toEqual({ ok: false, why: 'Write 2 lines or more.' });
});

test('rows come back as they were written', () => {
  const text = '−10 42470\n25 10000';
  const read = readRows(text, names, 2);
  expect(read.ok && writeRows(read.rows, names)).toBe(text);
  expect(writeRows(undefined, names)).toBe('');
});
