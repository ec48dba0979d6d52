import { describe, expect, test } from 'vitest';
import { BadInputError } from '../measure/index.js';
import { decodeText, guessEncoding } from './decode-text.js';

const utf8 = (text: string) => new TextEncoder().encode(text);
const utf16 = (text: string, isLittle: boolean, mark = false) => {
  const bytes: number[] = mark ? (isLittle ? [0xff, 0xfe] : [0xfe, 0xff]) : [];
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    bytes.push(...(isLittle ? [code & 255, code >> 8] : [code >> 8, code & 255]));
  }
  return new Uint8Array(bytes);
};
const log = 'time;pack (°C)\n0;21,5\n10;21,6\n';

describe('the encoding is told from the bytes', () => {
  // The byte values of "°": B0 in windows-1252, C2 B0 in UTF-8. Derived here from the two encodings' definitions.
  const western = new Uint8Array([...utf8('time;pack ('), 0xb0, ...utf8('C)\n0;21,5\n10;21,6\n')]);
  test.each([
    { name: 'plain UTF-8', bytes: utf8(log), encoding: 'utf-8' },
    { name: 'UTF-8 with a mark', bytes: new Uint8Array([0xef, 0xbb, 0xbf, ...utf8(log)]), encoding: 'utf-8' },
    { name: 'UTF-16 with a mark', bytes: utf16(log, true, true), encoding: 'utf-16le' },
    { name: 'big-endian UTF-16 with a mark', bytes: utf16(log, false, true), encoding: 'utf-16be' },
    { name: 'UTF-16 without a mark', bytes: utf16(log, true), encoding: 'utf-16le' },
    { name: 'big-endian UTF-16 without a mark', bytes: utf16(log, false), encoding: 'utf-16be' },
    { name: 'windows-1252', bytes: western, encoding: 'windows-1252' },
    {
      name: 'UTF-8 with one damaged byte',
      bytes: new Uint8Array([...utf8(`${log}°°°`), 0xff]),
      encoding: 'utf-8',
    },
  ] as const)('$name', ({ bytes, encoding }) => {
    expect(guessEncoding(bytes).encoding).toBe(encoding);
    expect(decodeText(bytes, encoding, 'a.csv').startsWith(log)).toBe(true);
  });
});

test('a long file is told by its head, also where that ends within a character', () => {
  // "°" is two bytes, so of two heads that differ by one byte one ends in the middle of it.
  for (const start of ['', '0']) {
    const long = new Uint8Array([...utf8(start + '°'.repeat(140_000)), 0xff]);
    expect(guessEncoding(long)).toEqual({ encoding: 'utf-8', reason: 'all bytes are valid' });
  }
});

describe('what is no text log is refused with file, line and remedy', () => {
  const noise = new Uint8Array(4000).map((_, index) => (index * 7919 + (index >> 3) * 104_729) & 255);
  test.each([
    { name: 'no bytes', bytes: new Uint8Array(), what: /is empty/ },
    { name: 'blanks only', bytes: utf8(' \n\r\n'), what: /is empty/ },
    { name: 'a spreadsheet', bytes: new Uint8Array([0x50, 0x4b, 3, 4, 1, 2, 3]), what: /spreadsheet/ },
    { name: 'a picture', bytes: new Uint8Array([0x89, 0x50, 0x4e, 0x47, 13, 10]), what: /picture/ },
    { name: 'noise', bytes: noise, what: /not a text file/ },
    { name: 'zeros', bytes: new Uint8Array(500), what: /not a text file/ },
  ])('$name', ({ bytes, what }) => {
    const read = () => decodeText(bytes, guessEncoding(bytes).encoding, 'evening.csv');
    expect(read).toThrow(BadInputError);
    expect(read).toThrow(what);
    expect(read).toThrow(/^evening\.csv:1: .+\. .+\.$/);
  });

  test('a tail of zeros that a power loss leaves is not a binary file', () => {
    const cut = new Uint8Array(utf8(log.repeat(100)).length + 512);
    cut.set(utf8(log.repeat(100)));
    expect(() => decodeText(cut, 'utf-8', 'a.csv')).not.toThrow();
  });
});
