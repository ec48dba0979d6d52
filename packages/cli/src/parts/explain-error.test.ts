import { BadInputError } from '@soakbench/core/measure';
import { expect, test } from 'vitest';
import { explainError } from './explain-error.js';
import { findNearest } from './find-nearest.js';

const withCode = (code: string, more: object = {}) =>
  Object.assign(new Error(`${code}: said so`), { code, ...more });

test.each([
  { error: new BadInputError([{ where: 'a', what: 'b', remedy: 'c' }]), code: 2, says: 'b' },
  { error: withCode('ENOENT', { path: '/x/log.csv' }), code: 2, says: 'no such file' },
  { error: withCode('ENOSPC', { path: '/x/log.csv' }), code: 2, says: 'disk is full' },
  { error: withCode('SQLITE_BUSY'), code: 2, says: 'Another program' },
  { error: withCode('ERR_MODULE_NOT_FOUND'), code: 70, says: 'not built' },
  {
    error: new TypeError('undefined is not a function'),
    code: 70,
    says: 'fault of its own: undefined is not a function.',
  },
  { error: 'a text that was thrown', code: 70, says: 'a text that was thrown' },
])('$error is told with code $code', ({ error, code, says }) => {
  const explained = explainError(error);
  expect(explained.code).toBe(code);
  expect(explained.faults[0]?.what).toContain(says);
  expect(explained.faults[0]?.remedy).not.toBe('');
});

test.each([
  { typed: 'verdcit', nearest: 'verdict' },
  { typed: 'doss', nearest: 'dossier' },
  { typed: 'bananas', nearest: undefined },
])('whoever typed $typed meant $nearest', ({ typed, nearest }) => {
  expect(findNearest(typed, ['verdict', 'compare', 'dossier', 'life'])).toBe(nearest);
});
