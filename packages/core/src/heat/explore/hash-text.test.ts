import { expect, test } from 'vitest';
import { hashText } from './hash-text.js';

// [FNV] prints these among its test values of the 64-bit FNV-1a hash.
test.each([
  { text: '', printed: 'cbf29ce484222325' },
  { text: 'a', printed: 'af63dc4c8601ec8c' },
  { text: 'foobar', printed: '85944171f73967e8' },
])('"$text" hashes to the printed $printed', ({ text, printed }) => {
  expect(hashText(text)).toBe(printed);
});
