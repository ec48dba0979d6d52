import { appendFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { hashLog, openLogFile } from '../src/index.js';

const root = mkdtempSync(join(tmpdir(), 'soakbench-log-file-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

// Longer than two pieces, and not a whole number of them.
const bytes = Uint8Array.from({ length: 2_500_001 }, (_, at) => (at * 31) % 251);

test('a log comes in pieces, byte for byte and as often as it is asked for', () => {
  const path = join(root, 'long.csv');
  writeFileSync(path, bytes);
  const shares: number[] = [];
  const log = openLogFile(path, (share) => shares.push(share));
  expect(log.size_bytes).toBe(bytes.length);
  const pieces = [...log];
  expect(pieces.length).toBeGreaterThan(2);
  expect(Buffer.compare(Buffer.concat(pieces), bytes)).toBe(0);
  expect(shares.at(-1)).toBe(1);
  expect(hashLog(log)).toBe(hashLog(bytes));
});

test('a log that grows or shrinks while it is read is refused', () => {
  const path = join(root, 'growing.csv');
  writeFileSync(path, bytes);
  const log = openLogFile(path);
  appendFileSync(path, 'one more row\n');
  expect(() => hashLog(log)).toThrow(/changed while it was read/);
  writeFileSync(path, bytes.subarray(0, 1000));
  expect(() => hashLog(log)).toThrow(/changed while it was read/);
  expect(() => openLogFile(join(root, 'none.csv'))).toThrow(/cannot be read/);
});
