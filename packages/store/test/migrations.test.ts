import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { BadInputError } from '@soakbench/core/measure';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openDriver } from '../src/driver.js';
import { findDrivers, openStore } from '../src/index.js';
import { migrate, migrations } from '../src/migrations.js';
import { logBytes, sampleBuild, sampleRun } from './sample-build.js';

describe.each(await findDrivers())('migrations on %s', (sqlite) => {
  let folder: string;
  let file: string;
  const bytes = logBytes('t,cell\n0,20\n');
  const build = sampleBuild('one', [sampleRun('r1', 'a.csv', bytes)]);

  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'soakbench-migrations-'));
    file = join(folder, 'store.db');
    const store = await openStore(file, { sqlite });
    store.addBuild(build, new Map([['a.csv', bytes]]));
    store.close();
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  test('a new store needs no copy, and opening it again changes nothing', async () => {
    const before = readFileSync(file);
    (await openStore(file, { sqlite })).close();
    expect(readdirSync(folder)).toEqual(['store.db']);
    expect(readFileSync(file).equals(before)).toBe(true);
  });

  test('an older store is copied, then migrated; the copy opens as the store it was', async () => {
    const driver = await openDriver(file, sqlite);
    const copy = migrate(driver, file, [
      ...migrations,
      "ALTER TABLE builds ADD COLUMN colour TEXT DEFAULT 'grey'",
    ]);
    expect(copy).toBe(`${file}.v${migrations.length}-backup`);
    expect(driver.prepare('SELECT id, colour FROM builds').get()).toMatchObject({
      id: 'one',
      colour: 'grey',
    });
    driver.close();
    const old = await openStore(String(copy), { sqlite });
    expect(old.build('one')?.build).toEqual(build);
    expect(old.log('one', 'a.csv')).toEqual(bytes);
    expect(old.checkIntegrity()).toEqual([]);
    old.close();
  });

  test('a copy never takes the place of an earlier one', async () => {
    writeFileSync(`${file}.v${migrations.length}-backup`, 'kept');
    const driver = await openDriver(file, sqlite);
    expect(migrate(driver, file, [...migrations, 'CREATE TABLE more (a)'])).toMatch(/-backup-2$/);
    driver.close();
    expect(readFileSync(`${file}.v${migrations.length}-backup`, 'utf8')).toBe('kept');
  });

  test('a migration that fails half-way leaves the store as it was', async () => {
    const driver = await openDriver(file, sqlite);
    const failing = [...migrations, 'CREATE TABLE half (a); DELETE FROM build_logs; SELECT * FROM nowhere'];
    expect(() => migrate(driver, file, failing)).toThrow(/nowhere/);
    driver.close();
    const store = await openStore(file, { sqlite });
    expect(store.build('one')?.build).toEqual(build);
    expect(store.checkIntegrity()).toEqual([]);
    store.close();
  });

  test('a store of a newer Soakbench is refused and left as it was, byte for byte', async () => {
    const driver = await openDriver(file, sqlite);
    driver.exec(`PRAGMA user_version = ${migrations.length + 1}`);
    driver.close();
    const before = readFileSync(file);
    await expect(openStore(file, { sqlite })).rejects.toThrow(BadInputError);
    await expect(openStore(file, { sqlite })).rejects.toThrow(
      new RegExp(
        `version ${migrations.length + 1}; this Soakbench knows up to version ${migrations.length}\\. Install a newer`,
      ),
    );
    expect(readFileSync(file).equals(before)).toBe(true);
    expect(readdirSync(folder)).toEqual(['store.db']);
  });

  test('a file that is no store is refused and left as it was: text, and another program’s database', async () => {
    const text = join(folder, 'letter.txt');
    writeFileSync(text, 'Dear reader, this is a letter and by no means a database.\n'.repeat(40));
    const foreign = join(folder, 'foreign.db');
    const driver = await openDriver(foreign, sqlite);
    driver.exec('CREATE TABLE songs (title)');
    driver.close();
    for (const path of [text, foreign]) {
      const before = readFileSync(path);
      await expect(openStore(path, { sqlite })).rejects.toThrow(/is not a Soakbench store/);
      expect(readFileSync(path).equals(before)).toBe(true);
    }
  });

  test('a folder in the store’s place is named in the message', async () => {
    const path = join(folder, 'sub');
    mkdirSync(path);
    await expect(openStore(path, { sqlite })).rejects.toThrow(path);
  });
});

test('an unknown SQLite library is refused with the names it takes', async () => {
  await expect(openDriver(':memory:', 'pgsql')).rejects.toThrow(/"pgsql"; it takes "node" or "better"/);
});

test('where the wanted library does not load, the message says what was tried and the remedy', async () => {
  const usable = await findDrivers();
  const absent = (['node', 'better'] as const).find((name) => !usable.includes(name));
  // Where both load there is nothing to refuse; then both must open.
  if (!absent) return expect(usable).toEqual(['node', 'better']);
  await expect(openDriver(':memory:', absent)).rejects.toThrow(
    /No SQLite library could be loaded \((node:sqlite|better-sqlite3): .+\)\. Use Node 22\.13 or newer/,
  );
});
