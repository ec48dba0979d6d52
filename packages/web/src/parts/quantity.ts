/** Numbers as people write them at the bench: with a comma or a point, with or without their unit. */
import { celsiusFromFahrenheit } from '@soakbench/core/measure';

export type FieldUnit =
  | 'mm'
  | '°C'
  | 'K'
  | 'W'
  | 'Wh'
  | 'mAh'
  | 'V'
  | 'A'
  | 'mV'
  | 'mΩ'
  | 'g'
  | 'hPa'
  | 'm'
  | 'h'
  | 's'
  | 'g/kg'
  | 'Ω'
  | '1/K'
  | 'W/mK'
  | '%'
  | '';

export type Typed =
  | { readonly kind: 'empty' }
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'wrong'; readonly why: string };

/**
 * Other units a field takes, as factors and offsets to its own.
 * Inch and degree Fahrenheit by definition; the inch is 25.4 mm exactly. @source [NIST-SP811] B.8, B.9
 */
const alsoTaken: Partial<Record<FieldUnit, Readonly<Record<string, (value: number) => number>>>> = {
  mm: { cm: (v) => v * 10, m: (v) => v * 1000, in: (v) => v * 25.4, '"': (v) => v * 25.4 },
  '°C': { c: (v) => v, f: celsiusFromFahrenheit, '°f': celsiusFromFahrenheit },
  K: { '°c': (v) => v },
  mAh: { ah: (v) => v * 1000 },
  V: { mv: (v) => v / 1000 },
  W: { mw: (v) => v / 1000 },
  g: { kg: (v) => v * 1000 },
  hPa: { mbar: (v) => v, kpa: (v) => v * 10 },
  Ω: { ohm: (v) => v, ohms: (v) => v, kω: (v) => v * 1000, kohm: (v) => v * 1000, k: (v) => v * 1000 },
  m: { ft: (v) => v * 0.3048 },
};

/**
 * Reads what was typed into a field.
 *
 * "0,5", "0.5" and "0,5 mm" are the same half millimetre. A text with both a comma and a point, such as "1.290,5",
 * is refused: which of them is the decimal mark cannot be told for certain. A power of ten may follow
 * in a coefficient only: "1.9e-7".
 *
 * @param text as typed
 * @param unit the field's own unit; the value comes back in it
 */
export function readTyped(text: string, unit: FieldUnit = ''): Typed {
  const trimmed = text.trim();
  if (trimmed === '') return { kind: 'empty' };
  const match =
    /^([+\-−]?)\s*(\d[\d\s'’.,]*|[.,]\d+)(?:[eE]([+\-−]?\d{1,2})(?!\d))?\s*([^\d\s.,'’].*)?$/u.exec(trimmed);
  if (!match) return { kind: 'wrong', why: 'Write a number here.' };
  const [, sign, digits = '', exponent, rest = ''] = match;
  // Only coefficients are so small; elsewhere an e is a slip of the finger.
  if (exponent !== undefined && unit !== '1/K')
    return { kind: 'wrong', why: 'Write the number out, without a power of ten.' };
  const convert = conversionTo(unit, rest.trim());
  if (!convert)
    return {
      kind: 'wrong',
      why: unit === '' ? 'Write a number without a unit.' : `Write the value in ${unit}.`,
    };
  const bare = digits.replace(/[\s'’]/g, '');
  if ((bare.match(/[.,]/g) ?? []).length > 1) {
    return { kind: 'wrong', why: 'Use one comma or one point, for the decimals only.' };
  }
  const value = Number(`${bare.replace(',', '.')}e${exponent?.replace('−', '-') ?? 0}`);
  return { kind: 'number', value: tidy(convert(sign === '' || sign === '+' ? value : -value)) };
}

function conversionTo(unit: FieldUnit, typed: string): ((value: number) => number) | undefined {
  const same = (value: number) => value;
  if (typed === '' || typed.toLowerCase() === unit.toLowerCase()) return same;
  return alsoTaken[unit]?.[typed.toLowerCase()];
}

/** Removes the dust of binary arithmetic that a conversion leaves, such as 0.30000000000000004. */
function tidy(value: number): number {
  return Number(value.toPrecision(12));
}

/** A stored number as a field shows it: no digits added, none taken away, a true minus sign. */
export function writeTyped(value: number | undefined): string {
  return value === undefined ? '' : String(value).replaceAll('-', '−');
}
