import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { BadInputError } from '@soakbench/core/measure';
import type { LogBytes, LogPieces } from '@soakbench/core/runs';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { changeFolder, openStore, readFolder, writeFolder } from '../src/index.js';
import { awkwardBytes, logBytes, sampleBuild, sampleRun } from './sample-build.js';

let root: string;
let folder: string;
const build = {
  ...sampleBuild('one', [
    sampleRun('r1', 'odd.bin', awkwardBytes),
    sampleRun('r2', 'Süd 2.csv', logBytes('b')),
  ]),
  fromLater: { kept: [true, null, 1e-300] },
};
const logs = new Map([
  ['odd.bin', awkwardBytes],
  ['Süd 2.csv', logBytes('b')],
  ['notes.txt', logBytes('no run names this')],
]);

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'soakbench-folder-'));
  folder = join(root, 'reedling');
});
afterEach(() => rmSync(root, { recursive: true }));

test('folder to store to folder loses nothing: same text, same bytes, same files', async () => {
  writeFolder(folder, build, logs);
  const read = readFolder(folder);
  const store = await openStore(join(root, 'store.db'));
  store.addBuild(
    read.build,
    new Map(read.logFiles.map((file) => [file, read.logOf(file) ?? new Uint8Array()])),
  );
  const stored = store.build('one');
  const back = join(root, 'back');
  const storedLogs = new Map(
    store.logs('one').map(({ file }) => [file, store.log('one', file) ?? new Uint8Array()]),
  );
  writeFolder(back, stored?.build ?? build, storedLogs);
  store.close();
  expect(readFileSync(join(back, 'build.json'), 'utf8')).toBe(
    readFileSync(join(folder, 'build.json'), 'utf8'),
  );
  expect(readdirSync(join(back, 'logs')).sort()).toEqual(['Süd 2.csv', 'notes.txt', 'odd.bin']);
  for (const [file, bytes] of logs)
    expect(new Uint8Array(readFileSync(join(back, 'logs', file)))).toEqual(bytes);
  expect(JSON.parse(readFileSync(join(back, 'build.json'), 'utf8'))).toEqual(build);
});

test('logs that come in pieces lose nothing, and one that changes between two looks at it is refused', async () => {
  const inPieces = (bytes: Uint8Array, again = bytes): LogPieces => {
    let looks = 0;
    return {
      size_bytes: bytes.length,
      *[Symbol.iterator]() {
        const now = looks++ === 0 ? bytes : again;
        yield now.subarray(0, 2);
        yield now.subarray(2);
      },
    };
  };
  const pieces = new Map([...logs].map(([file, bytes]) => [file, inPieces(bytes)]));
  writeFolder(folder, build, pieces);
  for (const [file, bytes] of logs)
    expect(new Uint8Array(readFileSync(join(folder, 'logs', file)))).toEqual(bytes);

  const read = readFolder(folder);
  const store = await openStore(join(root, 'pieces.db'));
  const changing = new Map<string, LogBytes>(logs);
  changing.set(
    'odd.bin',
    inPieces(
      awkwardBytes,
      awkwardBytes.map((byte) => byte ^ 1),
    ),
  );
  expect(() => store.addBuild(build, changing)).toThrow(BadInputError);
  expect(store.builds()).toEqual([]);
  store.addBuild(
    read.build,
    new Map(read.logFiles.map((file) => [file, read.piecesOf(file) ?? new Uint8Array()])),
  );
  for (const [file, bytes] of logs) expect(store.log('one', file)).toEqual(bytes);
  expect(store.checkIntegrity()).toEqual([]);
  store.close();
});

test('faults are named with their place and remedy', () => {
  expect(() => readFolder(folder)).toThrow(/build\.json: There is no such file\. Point to a build folder/);
  writeFolder(folder, build, logs);
  writeFileSync(join(folder, 'logs', 'odd.bin'), 'changed by an editor');
  rmSync(join(folder, 'logs', 'Süd 2.csv'));
  let caught: unknown;
  try {
    readFolder(folder);
  } catch (error) {
    caught = error;
  }
  expect((caught as BadInputError).faults).toMatchObject([
    {
      where: join(folder, 'build.json: runs[0].log'),
      what: expect.stringMatching(/^logs\/odd\.bin is not the file/),
    },
    { where: join(folder, 'build.json: runs[1].log'), what: 'There is no file logs/Süd 2.csv.' },
  ]);
  writeFileSync(join(folder, 'build.json'), Uint8Array.of(0xff, 0x7b));
  expect(() => readFolder(folder)).toThrow(/not a text in UTF-8/);
  writeFileSync(join(folder, 'build.json'), '{"format": ');
  expect(() => readFolder(folder)).toThrow(/This is not JSON/);
});

test('a build.json with a byte-order mark is read', () => {
  writeFolder(folder, build, logs);
  const path = join(folder, 'build.json');
  writeFileSync(path, `\uFEFF${readFileSync(path, 'utf8')}`);
  expect(readFolder(folder).build).toEqual(build);
});

test('hidden files and links out of the folder are no logs', () => {
  writeFolder(folder, build, logs);
  writeFileSync(join(root, 'secret'), 'outside');
  writeFileSync(join(folder, 'logs', '.DS_Store'), 'x');
  mkdirSync(join(folder, 'logs', 'sub'));
  symlinkSync(join(root, 'secret'), join(folder, 'logs', 'linked.csv'));
  expect(readFolder(folder).logFiles).toEqual(['Süd 2.csv', 'notes.txt', 'odd.bin'].sort());
  expect(readFolder(folder).logOf('linked.csv')).toBeUndefined();
});

test('a folder with something in it is not overwritten, an empty one is used', () => {
  mkdirSync(folder);
  writeFileSync(join(folder, 'thesis.txt'), 'three years');
  expect(() => writeFolder(folder, build, logs)).toThrow(/There is something here already/);
  expect(readdirSync(folder)).toEqual(['thesis.txt']);
  expect(readdirSync(root)).toEqual(['reedling']);
  rmSync(join(folder, 'thesis.txt'));
  writeFolder(folder, build, logs);
  expect(readFolder(folder).build).toEqual(build);
});

test('a folder that cannot be written complete does not appear at all', () => {
  const bad: [string, ReadonlyMap<string, Uint8Array>, RegExp][] = [
    ['a log is missing', new Map([['odd.bin', awkwardBytes]]), /"Süd 2.csv" is missing/],
    ['a log differs', new Map([...logs, ['Süd 2.csv', logBytes('B')]]), /other content/],
    [
      'a name leads out of the folder',
      new Map([...logs, ['../up.csv', logBytes('x')]]),
      /not a plain file name/,
    ],
    ['a name is too long for the disk', new Map([...logs, ['x'.repeat(400), logBytes('x')]]), /ENAMETOOLONG/],
  ];
  for (const [, given, message] of bad) {
    expect(() => writeFolder(folder, build, given)).toThrow(message);
    expect(readdirSync(root)).toEqual([]);
  }
});

test('a run is added to a folder in place; a clash changes nothing', async () => {
  writeFolder(folder, build, logs);
  const more = { ...build, runs: [...build.runs, sampleRun('r3', 'c.csv', logBytes('c'))] };
  await changeFolder(folder, more, { file: 'c.csv', log: logBytes('c') });
  expect(readFolder(folder).build).toEqual(more);
  expect(new Uint8Array(readFileSync(join(folder, 'logs', 'c.csv')))).toEqual(logBytes('c'));

  const before = readFileSync(join(folder, 'build.json'), 'utf8');
  const clash = { ...more, runs: [...more.runs, sampleRun('r4', 'notes.txt', logBytes('d'))] };
  const clashing = { file: 'notes.txt', log: logBytes('d') };
  await expect(changeFolder(folder, clash, clashing)).rejects.toThrow(BadInputError);
  await expect(changeFolder(folder, clash)).rejects.toThrow(BadInputError);
  expect(readFileSync(join(folder, 'build.json'), 'utf8')).toBe(before);
  expect(readFileSync(join(folder, 'logs', 'notes.txt'), 'utf8')).toBe('no run names this');
  expect(existsSync(join(folder, 'logs', 'd.csv'))).toBe(false);
});
