import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { demo, hashFolder, makeFolder, patience_ms, runCli } from './run-cli.js';

describe('builds', { timeout: patience_ms }, () => {
  const cwd = makeFolder();

  test('a folder goes into a store and comes out the same, byte for byte', async () => {
    expect((await runCli(['builds', 'import', demo], { cwd })).code).toBe(0);
    expect(existsSync(join(cwd, 'soakbench-data', 'bench.sqlite'))).toBe(true);

    const listed = await runCli(['builds', 'list', '--json'], { cwd });
    expect(JSON.parse(listed.stdout)).toMatchObject([{ id: 'reedling-r2', invented: true, runs: 15 }]);
    expect((await runCli(['builds', 'list'], { cwd })).stdout).toContain('invented example');

    expect((await runCli(['builds', 'export', 'reedling-r2', '--out', 'out'], { cwd })).code).toBe(0);
    expect(readFileSync(join(cwd, 'out', 'build.json'), 'utf8')).toBe(
      readFileSync(join(demo, 'build.json'), 'utf8'),
    );
    expect(hashFolder(join(cwd, 'out', 'logs'))).toBe(hashFolder(join(demo, 'logs')));
  });

  test('an id that is taken, a build that is not there, a folder that is not empty: refused, and nothing changed', async () => {
    const again = await runCli(['builds', 'import', demo], { cwd });
    expect(again.code).toBe(2);
    expect(again.stderr).toContain('There is a build "reedling-r2" already.');
    expect((await runCli(['builds', 'import', demo, '--id', 'another'], { cwd })).code).toBe(0);

    const unknown = await runCli(['builds', 'export', 'nothing', '--out', 'new'], { cwd });
    expect(unknown.code).toBe(2);
    expect(unknown.stderr).toContain('another, reedling-r2');
    expect(existsSync(join(cwd, 'new'))).toBe(false);

    const before = hashFolder(join(cwd, 'out'));
    expect((await runCli(['builds', 'export', 'reedling-r2', '--out', 'out'], { cwd })).code).toBe(2);
    expect(hashFolder(join(cwd, 'out'))).toBe(before);
  });

  test('a file that is no store is left as it was', async () => {
    const file = join(cwd, 'notes.sqlite');
    writeFileSync(file, 'These are notes and no database. '.repeat(100));
    const { code, stderr } = await runCli(['builds', 'list', '--store', file], { cwd });
    expect(code).toBe(2);
    expect(stderr).toContain('notes.sqlite');
    expect(readFileSync(file, 'utf8')).toContain('These are notes');
  });
});

describe('builds new', { timeout: patience_ms }, () => {
  const cwd = makeFolder();

  test('begins a folder that takes its first log', async () => {
    const begun = await runCli(
      [
        ...['builds', 'new', 'mine', '--name', 'Mine', '--probe', 'Z1=zone', '--probe', 'C1=cell'],
        ...['--probe', 'C2=cell:2', '--probe', 'Air=ambient'],
        ...['--setup', 'bare', '--setup', 'plate: polyimide=0.06 aluminium=0.5'],
      ],
      { cwd },
    );
    expect(begun.stderr).toBe('');
    expect(begun.code).toBe(0);
    expect(begun.stdout).toContain('common practice, no source');
    const build = JSON.parse(readFileSync(join(cwd, 'mine', 'build.json'), 'utf8'));
    expect(build).toMatchObject({
      id: 'mine',
      baseline: 'bare',
      probes: [
        { id: 'z1', name: 'Z1', place: 'zone' },
        { id: 'c1', place: 'cell' },
        { id: 'c2', place: 'cell', cell: 2 },
        { id: 'air', place: 'ambient' },
      ],
      setups: [
        { id: 'bare', layers: [] },
        { id: 'plate', layers: [{ material: 'polyimide' }, { material: 'aluminium', thickness_mm: 0.5 }] },
      ],
    });

    const log = join(cwd, 'evening.csv');
    const rows = Array.from({ length: 90 }, (_, row) => `${row * 60},${40 + row / 100},30.2,30.1,22.0`);
    writeFileSync(log, ['s,Z1,C1,C2,Air', ...rows].join('\n'));
    const taken = await runCli(
      ['runs', 'import', 'mine', log, '--setup', 'bare', '--session', 'first', '--mounting', '1', '--json'],
      { cwd },
    );
    expect(taken.stderr).toBe('');
    expect(JSON.parse(taken.stdout).run.recipe.channels).toMatchObject([
      { probe: 'z1' },
      { probe: 'c1' },
      { probe: 'c2' },
      { probe: 'air' },
    ]);
  });

  test('says all that cannot be, and writes nothing', async () => {
    const { code, stderr } = await runCli(
      [
        ...['builds', 'new', 'wrong', '--probe', 'Z1=kitchen', '--probe', 'C1=zone:2'],
        ...['--setup', 'plate: unobtainium=0.5', '--setup', 'film: polyimide=0.06,inset=4'],
      ],
      { cwd },
    );
    expect(code).toBe(2);
    for (const words of ['--probe Z1=kitchen', '--probe C1=zone:2', 'unobtainium', 'has no outline'])
      expect(stderr).toContain(words);
    expect(existsSync(join(cwd, 'wrong'))).toBe(false);
  });

  test('leaves a folder that holds something as it was', async () => {
    const before = hashFolder(demo);
    expect((await runCli(['builds', 'new', demo])).code).toBe(2);
    expect(hashFolder(demo)).toBe(before);
  });
});

describe('dossier', { timeout: patience_ms }, () => {
  test('has the heat model where it is asked for, and says in the rest that none was made', async () => {
    const [plain, modelled] = [
      await runCli(['dossier', demo, '--out', '-']),
      await runCli(['dossier', demo, '--out', '-', '--heat']),
    ];
    expect(modelled.stderr).toBe('');
    expect(modelled.stdout).toContain('What would an untried set-up do?');
    expect(modelled.stdout).toContain('How far to trust it');
    expect(plain.stdout).not.toContain('What would an untried set-up do?');
  });

  test('is one HTML file that stands by itself and says what is invented', async () => {
    const cwd = makeFolder();
    const { code, stdout } = await runCli(['dossier', demo, '--out', 'report.html'], { cwd });
    expect(code).toBe(0);
    expect(stdout).toContain('invented example');
    const html = readFileSync(join(cwd, 'report.html'), 'utf8');
    expect(html).toMatch(/^<!doctype html>/i);
    expect(html).toMatch(/invented/i);
    expect(html).not.toMatch(/<script|<link[^>]+href="http|<img[^>]+src="http/i);
    const piped = await runCli(['dossier', demo, '--out', '-'], { cwd });
    expect(piped.stdout).toBe(html);
  });

  test('a place that cannot be written to is named, and leaves no partial file', async () => {
    const cwd = makeFolder();
    const { code, stderr } = await runCli(['dossier', demo, '--out', 'no/such/folder/report.html'], { cwd });
    expect(code).toBe(2);
    expect(stderr).toMatch(/^no\/such\/folder\/report\.html\n/);
  });
});
