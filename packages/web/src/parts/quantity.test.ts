import { describe, expect, test } from 'vitest';
import { readTyped, writeTyped } from './quantity.js';

describe('a number typed into a field', () => {
  test.each([
    ['0,5', 0.5],
    ['0.5', 0.5],
    ['.5', 0.5],
    ['0,5 mm', 0.5],
    ['0,5mm', 0.5],
    ['1 290', 1290],
    ['−3', -3],
    ['-3', -3],
  ])('"%s" is %d mm', (text, value) => {
    expect(readTyped(text, 'mm')).toEqual({ kind: 'number', value });
  });

  // [NIST-SP811] B.8: 1 inch is 25.4 mm exactly, 1 foot is 0.3048 m exactly.
  test.each([
    ['1 in', 'mm', 25.4],
    ['0,25"', 'mm', 6.35],
    ['100 ft', 'm', 30.48],
    ['3.2 Ah', 'mAh', 3200],
    ['96.8 kPa', 'hPa', 968],
  ] as const)('"%s" is taken into %s', (text, unit, value) => {
    expect(readTyped(text, unit)).toEqual({ kind: 'number', value });
  });

  // [NIST-SP811] B.9: the steam point, 212 °F, is 100 °C; the ice point, 32 °F, is 0 °C.
  test.each([
    ['212 °F', 100],
    ['32 F', 0],
  ])('"%s" is %d °C', (text, value) => {
    expect(readTyped(text, '°C')).toEqual({ kind: 'number', value });
  });

  test.each(['1.290,5', '1,2,3', 'thin', '5 kg', '--3', 'NaN', '1e5'])(
    '"%s" is refused with a reason',
    (text) => {
      const typed = readTyped(text, 'mm');
      expect(typed.kind).toBe('wrong');
      expect(typed.kind === 'wrong' && typed.why.length).toBeGreaterThan(10);
    },
  );

  test('nothing typed is not a zero', () => {
    expect(readTyped('  ', 'mm')).toEqual({ kind: 'empty' });
  });

  test.each([0.5, -3, 1290, 0.04])('%d shown and read again is the same number', (value) => {
    expect(readTyped(writeTyped(value))).toEqual({ kind: 'number', value });
  });
});

test('a coefficient takes a power of ten, and shows it as it was typed', () => {
  expect(readTyped('1,8751e-7', '1/K')).toEqual({ kind: 'number', value: 1.8751e-7 });
  expect(readTyped('8.8e−04', '1/K')).toEqual({ kind: 'number', value: 8.8e-4 });
  expect(writeTyped(-1.8e-7)).toBe('−1.8e−7');
  expect(readTyped(writeTyped(-1.8e-7), '1/K')).toEqual({ kind: 'number', value: -1.8e-7 });
});

test.each([
  ['10 kΩ', 10_000],
  ['10k', 10_000],
  ['4,7 kohm', 4700],
  ['100 Ω', 100],
] as const)('the resistance %s is %d ohm', (text, ohm) => {
  expect(readTyped(text, 'Ω')).toEqual({ kind: 'number', value: ohm });
});
