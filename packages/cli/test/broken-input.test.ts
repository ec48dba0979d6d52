import { createHash } from 'node:crypto';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Fault } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { describe, expect, test } from 'vitest';
import { copyDemo, hashFolder, makeFolder, patience_ms, runCli } from './run-cli.js';

const folder = makeFolder();

/** Whatever is wrong: exit code 2, nothing on standard output, the place and what to do on standard error. */
function expectRefusal(ended: Awaited<ReturnType<typeof runCli>>, where: RegExp, remedy: RegExp) {
  expect({ code: ended.code, stdout: ended.stdout }).toEqual({ code: 2, stdout: '' });
  expect(ended.stderr).toMatch(where);
  expect(ended.stderr.replace(/\s+/g, ' ')).toMatch(remedy);
  expect(ended.stderr).not.toMatch(/\n\s+at .*:\d+/); // no stack trace
}

const rows = (times: readonly string[]) => times.map((time, at) => `${time},${30 + at / 10},24.0\n`).join('');
const goodTimes = Array.from({ length: 40 }, (_, at) =>
  new Date(Date.UTC(2025, 2, 29, 18, 0, 10 * at)).toISOString(),
);

describe('a log that cannot be imported', { timeout: patience_ms }, () => {
  test.each<{ what: string; file: string; content: string | Uint8Array; where: RegExp; remedy: RegExp }>([
    { what: 'is empty', file: 'empty.csv', content: '', where: /^empty\.csv/m, remedy: /export|log/i },
    {
      what: 'is binary',
      file: 'photo.csv',
      content: Uint8Array.from({ length: 4096 }, (_, at) => (at * 7919) % 256),
      where: /^photo\.csv/m,
      remedy: /export|text/i,
    },
    {
      what: 'has one column',
      file: 'narrow.csv',
      content: `C1\n${goodTimes.map((_, at) => `${30 + at / 10}\n`).join('')}`,
      where: /^narrow\.csv(:\d+)?$/m,
      remedy: /export|column/i,
    },
    {
      what: 'has a clock that jumps back',
      file: 'back.csv',
      content: `time,C1,A\n${rows([...goodTimes.slice(0, 20), ...goodTimes.slice(5)])}`,
      // The header is line 1 and twenty rows follow, so the first row out of order is line 22.
      where: /^back\.csv:22$/m,
      remedy: /split the file before line 22/i,
    },
    {
      what: 'has no row of numbers',
      file: 'words.csv',
      content: 'time,C1,A\nnone,none,none\nnone,none,none\n',
      where: /^words\.csv/m,
      remedy: /export|recipe|delimiter/i,
    },
  ])('$what', async ({ file, content, where, remedy }) => {
    const copy = copyDemo(folder, `build-for-${file}`);
    const log = join(folder, file);
    writeFileSync(log, content);
    const before = hashFolder(copy);
    const settled = ['--setup', 'plate', '--session', '2025-03-29', '--mounting', 'mounting 16'];
    for (const more of [[], ['--dry-run']]) {
      expectRefusal(await runCli(['runs', 'import', copy, log, ...settled, ...more]), where, remedy);
    }
    expect(hashFolder(copy)).toBe(before);
  });

  test('the same log is imported when nothing is wrong with it', async () => {
    const copy = copyDemo(folder, 'build-for-good');
    const log = join(folder, 'good.csv');
    writeFileSync(log, `time,C1,A\n${rows(goodTimes)}`);
    const settled = ['--setup', 'plate', '--session', '2025-03-29', '--mounting', 'mounting 16'];
    const { code, stderr } = await runCli(['runs', 'import', copy, log, ...settled]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  });

  test('is not there, or is a folder', async () => {
    const copy = copyDemo(folder, 'build-for-nothing');
    expectRefusal(
      await runCli(['runs', 'import', copy, join(folder, 'nothing.csv')]),
      /nothing\.csv/,
      /check the path/i,
    );
    expectRefusal(await runCli(['runs', 'import', copy, folder]), /This is a folder/, /name a file/i);
  });
});

describe('a build folder that cannot be used', { timeout: patience_ms }, () => {
  const spoil = (name: string, change: (build: Build) => void) => {
    const copy = copyDemo(folder, name);
    const path = join(copy, 'build.json');
    const build = JSON.parse(readFileSync(path, 'utf8')) as Build;
    change(build);
    writeFileSync(path, JSON.stringify(build, null, 2));
    return copy;
  };

  test.each<{ what: string; change: (build: Build) => void; where: RegExp; remedy: RegExp }>([
    {
      what: 'a wrong unit',
      change: ({ setups }) => {
        const layer = setups[2]?.layers[0] ?? { thickness_mm: 0 };
        Object.assign(layer, { thickness_in: layer.thickness_mm / 25.4 });
        Reflect.deleteProperty(layer, 'thickness_mm');
      },
      where: /build\.json: setups\[2\]\.layers\[0\]\.thickness_mm$/m,
      remedy: /"thickness_in" stands there instead.*in the unit/,
    },
    {
      what: 'an unknown set-up',
      change: ({ runs }) => {
        Object.assign(runs[3] ?? {}, { setup: 'plait' });
      },
      where: /build\.json: runs\[3\]\.setup$/m,
      remedy: /no set-up "plait".*use one of: bare, film, plate, strips/i,
    },
    {
      what: 'a newer version',
      change: (build) => {
        build.version = 99;
      },
      where: /build\.json: version$/m,
      remedy: /install a newer soakbench/i,
    },
    {
      what: 'another format',
      change: (build) => {
        Object.assign(build, { format: 'shopping-list' });
      },
      where: /build\.json: format$/m,
      remedy: /point to the build\.json/i,
    },
    {
      what: 'two runs with one id',
      change: ({ runs }) => {
        Object.assign(runs[1] ?? {}, { id: runs[0]?.id });
      },
      where: /build\.json: runs\[1\]\.id$/m,
      remedy: /give each its own id/i,
    },
  ])('$what', async ({ what, change, where, remedy }) => {
    const copy = spoil(what.replace(/\W/g, '-'), change);
    const before = hashFolder(copy);
    for (const verb of [['verdict'], ['probes', 'check'], ['runs', 'show'], ['compare'], ['life']]) {
      expectRefusal(await runCli([...verb, copy]), where, remedy);
    }
    expect(hashFolder(copy)).toBe(before);
  });

  test('text that is no JSON', async () => {
    const copy = copyDemo(folder, 'no-json');
    writeFileSync(join(copy, 'build.json'), '{ "format": "soakbench-build", ');
    expectRefusal(await runCli(['verdict', copy]), /build\.json$/m, /not JSON.*mend the text/i);
  });

  test('a log that is missing, or is not the one that was imported', async () => {
    const copy = copyDemo(folder, 'missing-log');
    const log = join(copy, 'logs', 'invented-01-bare.csv');
    writeFileSync(log, `${readFileSync(log, 'utf8')}\n`);
    expectRefusal(
      await runCli(['verdict', copy]),
      /build\.json: runs\[0\]\.log$/m,
      /not the file that was imported.*put the log back/i,
    );
    rmSync(log);
    expectRefusal(
      await runCli(['verdict', copy]),
      /build\.json: runs\[0\]\.log$/m,
      /no file logs\/invented-01-bare\.csv.*put the log back/i,
    );
  });

  test('a log that its recipe cannot read: the verdict from the others, and exit code 2', async () => {
    const rubbish = 'time,Z1,C1,C2,A\nno numbers here,,,,\n';
    const copy = spoil('unreadable-log', ({ runs }) => {
      Object.assign(runs[0]?.log ?? {}, { sha256: createHash('sha256').update(rubbish).digest('hex') });
    });
    writeFileSync(join(copy, 'logs', 'invented-01-bare.csv'), rubbish);
    const { code, stdout, stderr } = await runCli(['verdict', copy]);
    expect(code).toBe(2);
    expect(stdout).toMatch(/13 runs in 3 sessions/);
    expect(stderr.replace(/\s+/g, ' ')).toMatch(/run-01 is left out: invented-01-bare\.csv:2: .*recipe/);
  });

  test('a folder that is none', async () => {
    expectRefusal(
      await runCli(['verdict', join(folder, 'nowhere')]),
      /nowhere.build\.json/,
      /point to a build folder/i,
    );
  });

  test('--json gives the faults to programs as well', async () => {
    const { code, stdout, stderr } = await runCli(['verdict', join(folder, 'nowhere'), '--json']);
    expect(code).toBe(2);
    const { faults } = JSON.parse(stdout) as { faults: Fault[] };
    expect(faults).toEqual([
      { where: expect.stringContaining('build.json'), what: expect.any(String), remedy: expect.any(String) },
    ]);
    expect(stderr).toContain(faults[0]?.what ?? 'nothing');
  });
});

describe('a command line that does not fit', { timeout: patience_ms }, () => {
  test.each([
    { args: [], where: /Usage/, remedy: /--help/ },
    { args: ['verdcit', 'x'], where: /^verdcit$/m, remedy: /did you mean verdict/i },
    { args: ['probes'], where: /^probes$/m, remedy: /probes check/ },
    { args: ['runs', 'exprot'], where: /^runs$/m, remedy: /runs import, runs show/ },
    { args: ['verdict'], where: /^FOLDER$/m, remedy: /verdict --help/ },
    { args: ['verdict', 'a', 'b'], where: /^b$/m, remedy: /one argument too many/i },
    { args: ['verdict', 'a', '--jsno'], where: /^--jsno$/m, remedy: /did you mean --json/i },
    { args: ['verdict', 'a', '--json=yes'], where: /^--json$/m, remedy: /write --json alone/i },
    { args: ['dossier', 'a'], where: /^--out$/m, remedy: /--out FILE\.html/ },
    { args: ['dossier', 'a', '--out', 'build.json'], where: /^--out$/m, remedy: /does not end in \.html/ },
    { args: ['dossier', 'a', '--out'], where: /^--out$/m, remedy: /its value is missing/i },
    { args: ['serve', '--port', 'many'], where: /^--port$/m, remedy: /number from 1 to 65535/ },
    {
      args: ['builds', 'list', '--store', 'no/store.sqlite'],
      where: /store\.sqlite$/m,
      remedy: /no store here/i,
    },
  ])('$args', async ({ args, where, remedy }) => {
    const { code, stderr } = await runCli(args, { cwd: folder });
    expect(code).toBe(2);
    expect(stderr).toMatch(where);
    expect(stderr.replace(/\s+/g, ' ')).toMatch(remedy);
  });
});
