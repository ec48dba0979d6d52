import { expect, test } from 'vitest';
import { findLockFaults } from './lock.mjs';

test('a package without a checksum is named; our own packages and links need none', () => {
  const own = { 'packages/core': {}, 'node_modules/@soakbench/core': { link: true } };
  expect(findLockFaults({ packages: { ...own, 'node_modules/a': { integrity: 'sha512-x' } } })).toEqual([]);
  expect(findLockFaults({ packages: { ...own, 'node_modules/a': {} } })).toEqual([
    expect.stringContaining('no checksum for 1 packages (node_modules/a'),
  ]);
});
