import { expect, test } from 'vitest';
import { findCitationFaults, listedKeys } from './citations.mjs';

const check = (text: string, ...listed: string[]) =>
  findCitationFaults([{ file: 'a.ts', text }], new Set(listed));

test('a key that the sources page explains is no fault', () => {
  expect(check('/** @source [SI-2019] and [DLMF] 8.2.4 */', 'SI-2019', 'DLMF')).toEqual([]);
});

test('an unexplained key is named with its file and line', () => {
  expect(check('\n// [DUNNETT-1955] table 2a')).toEqual([
    'a.ts:2 cites [DUNNETT-1955], which docs/sources.md does not explain.',
  ]);
});

test('a source must have a key or say why it has none', () => {
  expect(check(' * @source a book I once saw')).toHaveLength(1);
  expect(check(' * @source common practice, no source')).toEqual([]);
  expect(check(' * @source derived: exact solution of the rate equation')).toEqual([]);
});

test('an entry that nothing cites is a fault', () => {
  expect(check('no key here', 'SI-2019')).toEqual([
    'docs/sources.md explains [SI-2019], which nothing cites.',
  ]);
});

test.each([
  '/[A-Z]/',
  '/[A-Za-z0-9-]+/',
  'rows[MAX]',
  'find()[LAST]',
  'const a = [Build];',
  'test(/[°"]?[CFK]$/)',
])('%s in code is not a citation', (code) => {
  expect(check(code)).toEqual([]);
});

test('the sources page lists its keys in bold', () => {
  expect([...listedKeys('- **[SI-2019]** BIPM.\n- see [DLMF]')]).toEqual(['SI-2019']);
});
