import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { NumberReader } from './read-number.js';

const read = (cell: string, decimal: '.' | ',' = '.') => new NumberReader(decimal).read(cell, 0, cell.length);

describe('cells that are numbers', () => {
  test.each([
    ['21.5', '.', 21.5],
    ['21,5', ',', 21.5],
    ['-0,25', ',', -0.25],
    ['\u221212.5', '.', -12.5],
    ['+7', '.', 7],
    ['.5', '.', 0.5],
    ['5.', '.', 5],
    ['1e3', '.', 1000],
    ['2,5E-2', ',', 0.025],
    ['1.5e+2', '.', 150],
    ['1 204,5', ',', 1204.5],
    ['1\u00a0204,5', ',', 1204.5],
    ['1\u202f204', ',', 1204],
    ["12'204.5", '.', 12_204.5],
    ['1,204.5', '.', 1204.5],
    ['1.204,5', ',', 1204.5],
    ['1,204,500', '.', 1_204_500],
    ['21.5 °C', '.', 21.5],
    ['70.1F', '.', 70.1],
    ['12345678901234567890', '.', 1.2345678901234567e19],
    ['0.30000000000000004', '.', 0.30000000000000004],
  ] as const)('"%s" with "%s" is %d', (cell, decimal, value) => {
    expect(read(cell, decimal)).toBe(value);
  });

  test('the unit behind a number is told', () => {
    const numbers = new NumberReader('.');
    numbers.read('70.1 °F', 0, 7);
    expect(numbers.unit).toBe('F');
    numbers.read('70.1', 0, 4);
    expect(numbers.unit).toBeUndefined();
  });
});

describe('cells that are not numbers, or not certainly', () => {
  test.each([
    ['', '.'],
    ['-', '.'],
    ['.', '.'],
    ['--', '.'],
    ['OL', '.'],
    ['nan', '.'],
    ['1e', '.'],
    ['e5', '.'],
    ['21.5.3', '.'],
    ['2024-05-01', '.'],
    ['10:00', '.'],
    ['21,5', '.'],
    ['21.5', ','],
    ['1,204', '.'],
    ['1.204', ','],
    ['12 34', '.'],
    ['1 2045', '.'],
    ['1,20,450', '.'],
    ['0 123', '.'],
    ['21.5 V', '.'],
    ['0x10', '.'],
    ['Infinity', '.'],
  ] as const)('"%s" with "%s"', (cell, decimal) => {
    // "1.204" with a decimal comma may be 1204 or hold a stray point: the two differ a thousandfold.
    expect(read(cell, decimal)).toBeNaN();
  });
});

test('every number the language writes is read back to the last bit', () => {
  fc.assert(
    fc.property(
      fc.double({ noNaN: true, noDefaultInfinity: true }),
      fc.constantFrom('.' as const, ',' as const),
      (value, decimal) => {
        const text = String(value);
        expect(read(text.replace('.', decimal), decimal)).toBe(Number(text));
      },
    ),
  );
});

test('no cell makes the reader fail or loop', () => {
  fc.assert(
    fc.property(fc.string({ unit: fc.constantFrom(..."0123456789.,-+eE °CFK'") }), (cell) => {
      const value = read(cell);
      // What is read is what the language reads, wherever the language can read the cell at all.
      const plain = Number(cell);
      if (/^[-+]?\d+(\.\d*)?(e[-+]?\d+)?$/i.test(cell)) expect(value).toBe(plain);
      else expect(typeof value).toBe('number');
    }),
  );
});
