import { readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { correctProbes } from '@soakbench/core/probes';
import { readBuild } from '@soakbench/core/records';
import { measureRun } from '@soakbench/core/runs';
import { readFolder } from '@soakbench/store';
import { describe, expect, test } from 'vitest';
import { copyDemo, demo, hashFolder, makeFolder, patience_ms, runCli } from './run-cli.js';

const folder = makeFolder();
const { build: demoBuild, logOf } = readFolder(demo);

/** The demo without one run and its log: what stood on the bench before that log was imported. */
function copyWithout(run: string, name: string): { copy: string; log: string } {
  const copy = copyDemo(folder, name);
  const { file } = demoBuild.runs.find(({ id }) => id === run)?.log ?? { file: '' };
  const log = join(folder, `${name}-${file}`);
  renameSync(join(copy, 'logs', file), log);
  const left = { ...demoBuild, runs: demoBuild.runs.filter(({ id }) => id !== run) };
  writeFileSync(join(copy, 'build.json'), `${JSON.stringify(left, null, 2)}\n`);
  return { copy, log };
}

const settled = ['--session', '2025-03-29', '--mounting', 'mounting 16'];

describe('runs import', { timeout: patience_ms }, () => {
  test('copies the log byte for byte, adds the run, and gives the numbers of the same run before', async () => {
    const { copy, log } = copyWithout('run-06', 'whole');
    const bytes = readFileSync(log);
    const { code, stdout, stderr } = await runCli([
      'runs',
      'import',
      copy,
      log,
      '--setup',
      'bare',
      '--load',
      '5,2',
      ...settled,
    ]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toMatch(/^Imported as run-16 \(bare, not charging\)/);
    expect(stdout).toContain('Invented example');

    const after = readFolder(copy);
    const run = after.build.runs.at(-1);
    expect(run).toMatchObject({
      setup: 'bare',
      session: '2025-03-29',
      mounting: 'mounting 16',
      conditions: { load_W: 5.2, charging: false },
    });
    expect(Buffer.from(after.logOf(run?.log.file ?? '') ?? [])).toEqual(bytes);
    expect(after.build.runs.slice(0, -1)).toEqual(demoBuild.runs.filter(({ id }) => id !== 'run-06'));

    const known = demoBuild.runs.find(({ id }) => id === 'run-06');
    if (run === undefined || known === undefined) throw new Error('The run is missing.');
    const corrections = correctProbes(demoBuild);
    const here = measureRun(demoBuild, run, corrections, bytes);
    const there = measureRun(demoBuild, known, corrections, logOf(known.log.file) ?? new Uint8Array());
    expect(here.plateaus).toEqual(there.plateaus);
  });

  test('asks what the log leaves open, and takes the answer', async () => {
    const { copy, log } = copyWithout('run-02', 'asked');
    const before = hashFolder(copy);
    const command = ['runs', 'import', copy, log, '--afresh', '--setup', 'film', ...settled];
    const refused = await runCli(command);
    expect(refused.code).toBe(2);
    expect(refused.stderr).toMatch(/^--answer time\.order$/m);
    expect(refused.stderr).toContain('Nothing was changed.');
    expect(hashFolder(copy)).toBe(before);

    const { code } = await runCli([...command, '--answer', 'time.order=1']);
    expect(code).toBe(0);
    expect(readFolder(copy).build.runs.at(-1)?.recipe.time).toEqual(demoBuild.runs[1]?.recipe.time);
  });

  test('--dry-run shows recipe, conclusions and what is missing, and changes nothing', async () => {
    const { copy, log } = copyWithout('run-02', 'dry');
    const before = hashFolder(copy);
    const human = await runCli(['runs', 'import', copy, log, '--afresh', '--dry-run']);
    expect(human.code).toBe(0);
    for (const word of [
      '--setup',
      '--session',
      '--mounting',
      '--answer time.order=1',
      'nothing was changed',
      'semicolon',
    ]) {
      expect(human.stdout.replace(/\s+/g, ' ')).toContain(word);
    }
    const machine = await runCli(['runs', 'import', copy, log, '--afresh', '--dry-run', '--json']);
    expect(machine.code).toBe(0);
    expect(JSON.parse(machine.stdout)).toMatchObject({
      format: 'soakbench-import',
      changed: false,
      recipe: { delimiter: ';', decimal: ',' },
      questions: [{ field: 'time.order', answered: false }],
      run: null,
      result: null,
    });
    expect(hashFolder(copy)).toBe(before);
  });

  test('reads a log by the recipe of the last one with the same columns, and says so', async () => {
    const { copy, log } = copyWithout('run-05', 'reused');
    const command = ['runs', 'import', copy, log, '--setup', 'film', ...settled];
    const human = await runCli([...command, '--dry-run']);
    expect(human.stdout.replace(/\s+/g, ' ')).toMatch(/It has the columns of the log of .*--afresh/);
    const machine = await runCli([...command, '--dry-run', '--json']);
    const { reused, questions, open } = JSON.parse(machine.stdout);
    expect(reused.run).toBe('run-01');
    expect({ questions, open }).toEqual({ questions: [], open: [] });
    expect((await runCli(command)).code).toBe(0);
    const { time, channels } = readFolder(copy).build.runs.at(-1)?.recipe ?? {};
    expect({ time, channels }).toEqual({
      time: demoBuild.runs[0]?.recipe.time,
      channels: demoBuild.runs[0]?.recipe.channels,
    });
    const afresh = await runCli([...command, '--dry-run', '--json', '--afresh']);
    expect(JSON.parse(afresh.stdout).reused).toBeNull();
  });

  test('takes every conclusion from the person instead', async () => {
    const { copy, log } = copyWithout('run-02', 'set');
    const command = ['runs', 'import', copy, log, '--setup', 'film', ...settled, '--dry-run', '--json'];
    const parts = ['--set', 'time.order=day-month', '--set', 'delimiter=semicolon', '--set', 'missing=OL,-1'];
    const { code, stdout } = await runCli([...command, ...parts, '--unit', '3=F']);
    expect(code).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({
      reused: null,
      recipe: { delimiter: ';', time: { order: 'day-month' }, missing: ['OL', '-1'] },
      open: [],
    });
    expect(JSON.parse(stdout).recipe.channels[0].unit).toBe('F');
    const wrong = await runCli([...command, '--set', 'time.order=sideways']);
    expect(wrong.code).toBe(2);
    expect(wrong.stderr).toContain('day-month or month-day');
    const unknown = await runCli([...command, '--set', 'colour=blue']);
    expect(unknown.code).toBe(2);
    expect(unknown.stderr).toContain('no part of a recipe');
  });

  test('reads standard input, under a name', async () => {
    const { copy, log } = copyWithout('run-06', 'piped');
    const command = ['runs', 'import', copy, '-', '--setup', 'bare', ...settled];
    const nameless = await runCli(command, { input: readFileSync(log) });
    expect(nameless.code).toBe(2);
    expect(nameless.stderr).toContain('--name');
    const { code } = await runCli([...command, '--name', 'evening.csv'], { input: readFileSync(log) });
    expect(code).toBe(0);
    expect(readFileSync(join(copy, 'logs', 'evening.csv'))).toEqual(readFileSync(log));
  });

  test('a column is given to a probe by header or number, over what its header says', async () => {
    const { copy, log } = copyWithout('run-06', 'mapped');
    const swap = ['--map', 'C1 (°F)=c2', '--map', '4=c1', '--map', '2='];
    const { code } = await runCli(['runs', 'import', copy, log, '--setup', 'bare', ...settled, ...swap]);
    expect(code).toBe(0);
    const channels = readFolder(copy).build.runs.at(-1)?.recipe.channels;
    expect(channels?.map(({ column, probe }) => [column + 1, probe])).toEqual([
      [2, undefined],
      [3, 'c2'],
      [4, 'c1'],
      [5, 'a'],
    ]);
  });

  test('a log that is in the build already is not counted twice', async () => {
    const copy = copyDemo(folder, 'twice');
    const before = hashFolder(copy);
    const log = join(demo, 'logs', 'invented-06-bare.csv');
    const { code, stderr } = await runCli(['runs', 'import', copy, log, '--setup', 'bare', ...settled]);
    expect(code).toBe(2);
    expect(stderr).toContain('run-06');
    expect(hashFolder(copy)).toBe(before);
  });

  test('another log of the same name gets a number; nothing is overwritten', async () => {
    const { copy, log } = copyWithout('run-06', 'named');
    const first = readFileSync(join(copy, 'logs', 'invented-01-bare.csv'));
    const { code } = await runCli([
      'runs',
      'import',
      copy,
      log,
      '--setup',
      'bare',
      ...settled,
      '--name',
      'invented-01-bare.csv',
    ]);
    expect(code).toBe(0);
    expect(readFileSync(join(copy, 'logs', 'invented-01-bare.csv'))).toEqual(first);
    expect(readFolder(copy).build.runs.at(-1)?.log.file).toBe('invented-01-bare-2.csv');
    expect(readdirSync(join(copy, 'logs')).filter((name) => name.includes('partial'))).toEqual([]);
  });

  test('fields that this version does not know survive', async () => {
    const { copy, log } = copyWithout('run-06', 'unknown');
    const path = join(copy, 'build.json');
    const before = { ...JSON.parse(readFileSync(path, 'utf8')), colour: 'olive' };
    before.runs[0].weather = 'rain';
    writeFileSync(path, JSON.stringify(before));
    const { code } = await runCli(['runs', 'import', copy, log, '--setup', 'bare', ...settled]);
    expect(code).toBe(0);
    const after = JSON.parse(readFileSync(path, 'utf8'));
    expect(after.colour).toBe('olive');
    expect(after.runs[0].weather).toBe('rain');
    expect(() => readBuild(readFileSync(path, 'utf8'))).not.toThrow();
  });

  test('a set-up, probe or figure that is none is named, and nothing is changed', async () => {
    const { copy, log } = copyWithout('run-06', 'wrong');
    const before = hashFolder(copy);
    for (const [wrong, where, remedy] of [
      [['--setup', 'plait'], /^--setup$/m, /bare, film/],
      [['--load', 'much'], /^--load$/m, /watts/],
      [['--map', 'C9=c1'], /^--map C9=c1$/m, /"C1 \(°F\)" or 3/],
      [['--map', '3=c9'], /^--map 3=c9$/m, /z1, c1, c2, a/],
      [
        ['--map', '3=', '--map', '4=', '--map', '2='],
        /^--map$/m,
        /No column belongs to a probe on the device/,
      ],
      [['--answer', 'time.order=1'], /^--answer time\.order=1$/m, /does not leave this open/],
      [['--interval', '0'], /^--interval$/m, /more than 0/],
      [['--name', '../x.csv'], /^--name$/m, /plain file name/],
    ] as const) {
      const { code, stderr } = await runCli([
        'runs',
        'import',
        copy,
        log,
        '--setup',
        'bare',
        ...settled,
        ...wrong,
      ]);
      expect(code).toBe(2);
      expect(stderr).toMatch(where);
      expect(stderr.replace(/\s+/g, ' ')).toMatch(remedy);
    }
    expect(hashFolder(copy)).toBe(before);
  });

  test('a log of one reading a line is read by the columns that are said to name and hold it', async () => {
    const copy = copyDemo(folder, 'long-form');
    const before = hashFolder(copy);
    const log = join(folder, 'long-form.csv');
    // The voltage beside the reading is a column of numbers too, so the log alone does not say which of them is meant.
    const lines = Array.from({ length: 200 }, (_, row) =>
      ['C1', 'A'].map((name, at) =>
        [
          `2025-04-01T10:${String(Math.floor(row / 6)).padStart(2, '0')}:${(row % 6) * 10}`.padEnd(19, '0'),
          name,
          3.7 + at / 10,
          at === 0 ? 30 + row / 100 : 21,
        ].join(','),
      ),
    );
    writeFileSync(log, `time,what,battery,reading\n${lines.flat().join('\n')}\n`);
    const run = (...more: string[]) =>
      runCli(['runs', 'import', copy, log, '--setup', 'bare', ...settled, '--dry-run', ...more]);

    const said = await run(
      '--set',
      'long.name=2',
      '--set',
      'long.value=4',
      '--set',
      'long.by=stamp',
      '--json',
    );
    expect(said.stderr).toBe('');
    const { recipe, rows } = JSON.parse(said.stdout);
    expect(recipe.layout).toEqual({ form: 'long', name: 1, value: 3, by: 'stamp' });
    expect(
      recipe.channels.map(({ header, probe }: { header: string; probe: string }) => [header, probe]),
    ).toEqual([
      ['C1', 'c1'],
      ['A', 'a'],
    ]);
    expect(rows).toBe(200);

    for (const [wrong, where, what] of [
      [['layout=long'], /^long-form\.csv:2$/m, /in more than one column: 3 and 4/],
      [['long.value=9'], /^long-form\.csv:2$/m, /Column 9 is to hold the value .* 4 columns/],
      [['long.name=4', 'long.value=4'], /^long-form\.csv:2$/m, /cannot hold both the name and the value/],
      [['long.name=0'], /^--set long\.name$/m, /the column, from 1, that names the reading/],
      [['long.by=day'], /^--set long\.by$/m, /stamp or cycle/],
      [['layout=delimited', 'long.name=2'], /^--set long\.name$/m, /says that it is another \(delimited\)/],
    ] as const) {
      const { code, stderr } = await run(...wrong.flatMap((set) => ['--set', set]));
      expect(code).toBe(2);
      expect(stderr).toMatch(where);
      expect(stderr.replace(/\s+/g, ' ')).toMatch(what);
    }
    expect(hashFolder(copy)).toBe(before);
  });
});
