import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { BadInputError } from '@soakbench/core/measure';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { makeDurable, openDriver } from '../src/driver.js';
import { keptSteps } from '../src/history.js';
import {
  findDrivers,
  hashLog,
  NoSuchStepError,
  openStore,
  RevisionConflictError,
  type Store,
  UnknownBuildError,
} from '../src/index.js';
import { awkwardBytes, logBytes, sampleBuild, sampleRun } from './sample-build.js';

const drivers = await findDrivers();

test('at least one SQLite library loads here', () => {
  expect(drivers.length).toBeGreaterThan(0);
});

describe.each(drivers)('a store on %s', (sqlite) => {
  let folder: string;
  let file: string;
  let store: Store;
  let ticks: number;

  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'soakbench-store-'));
    file = join(folder, 'deeper', 'store.db');
    ticks = 0;
    store = await openStore(file, {
      sqlite,
      clock: () => new Date(Date.UTC(2031, 0, 1, 0, 0, ticks++)).toISOString(),
    });
  });
  afterEach(() => {
    store.close();
    rmSync(folder, { recursive: true });
  });

  async function reopen(): Promise<void> {
    store.close();
    store = await openStore(file, { sqlite });
  }

  /** A second look at the tables, past the store's own functions. */
  async function count(table: string): Promise<number> {
    const driver = await openDriver(file, sqlite);
    try {
      return Number(driver.prepare(`SELECT count(*) AS n FROM ${table}`).get()?.['n']);
    } finally {
      driver.close();
    }
  }

  test('gives back a build and its logs byte for byte after it was closed and opened again', async () => {
    const build = sampleBuild('one', [sampleRun('r1', 'odd.bin', awkwardBytes)]);
    const added = store.addBuild(build, new Map([['odd.bin', awkwardBytes]]));
    expect(added).toEqual({ build, revision: 1, canUndo: false, canRedo: false });
    await reopen();
    expect(store.build('one')?.build).toEqual(build);
    expect(store.log('one', 'odd.bin')).toEqual(awkwardBytes);
    expect(store.logs('one')).toEqual([
      { file: 'odd.bin', sha256: hashLog(awkwardBytes), size: awkwardBytes.length },
    ]);
    expect(store.checkIntegrity()).toEqual([]);
  });

  test('keeps fields it does not know, at every depth, in their order', () => {
    const run = { ...sampleRun('r1', 'a.csv', logBytes('a')), later: { deep: [1, { x_Q: null }] } };
    const build = { ...sampleBuild('one', [run]), 'von später': 'Zürich \u{1F321}', aFirst: 0.1 };
    store.addBuild(build, new Map([['a.csv', logBytes('a')]]));
    expect(JSON.stringify(store.build('one')?.build)).toBe(JSON.stringify(build));
  });

  test('lists builds, the one changed last first, with what a list shows', () => {
    store.addBuild({ ...sampleBuild('one'), invented: true }, new Map());
    store.addBuild(sampleBuild('two', [sampleRun('r', 'a', logBytes('a'))]), new Map([['a', logBytes('a')]]));
    store.saveBuild({ ...sampleBuild('one'), invented: true, name: 'First' }, 1, 'Rename');
    expect(store.builds()).toEqual([
      {
        id: 'one',
        name: 'First',
        invented: true,
        revision: 2,
        updatedAt: '2031-01-01T00:00:02.000Z',
        runs: 0,
        isReadable: true,
      },
      {
        id: 'two',
        name: 'Build two',
        invented: false,
        revision: 1,
        updatedAt: '2031-01-01T00:00:01.000Z',
        runs: 1,
        isReadable: true,
      },
    ]);
  });

  test('lists the other builds beside one whose document is damaged, and says of that one what to do', async () => {
    store.addBuild(sampleBuild('one'), new Map());
    store.addBuild(sampleBuild('two'), new Map());
    const driver = await openDriver(file, sqlite);
    driver.exec("UPDATE build_revisions SET document = substr(document, 1, 40) WHERE build = 'one'");
    driver.close();
    expect(store.builds().map(({ id, name, isReadable }) => [id, name, isReadable])).toEqual([
      ['two', 'Build two', true],
      ['one', 'one', false],
    ]);
    expect(() => store.build('one')).toThrow(/build "one": .*is damaged.*Take the store from a copy/);
    expect(store.build('two')?.build.name).toBe('Build two');
  });

  test('adds all of a build or nothing: a missing or different log, a taken id', async () => {
    const build = sampleBuild('one', [
      sampleRun('r1', 'a.csv', logBytes('a')),
      sampleRun('r2', 'b.csv', logBytes('b')),
    ]);
    expect(() => store.addBuild(build, new Map([['a.csv', logBytes('a')]]))).toThrow(
      /runs\[1\].log: The log "b.csv" is missing/,
    );
    const other = new Map([
      ['a.csv', logBytes('a')],
      ['b.csv', logBytes('B')],
    ]);
    expect(() => store.addBuild(build, other)).toThrow(/runs\[1\].log: .*other content/);
    expect(store.builds()).toEqual([]);
    expect(await count('logs')).toBe(0);

    store.addBuild(sampleBuild('one'), new Map());
    expect(() => store.addBuild({ ...sampleBuild('one'), name: 'Other' }, new Map())).toThrow(BadInputError);
    expect(store.build('one')?.build.name).toBe('Build one');
  });

  test('two writers: the second to save is refused, and the first one’s work stays', async () => {
    store.addBuild(sampleBuild('one'), new Map());
    const second = await openStore(file, { sqlite });
    try {
      const seen = second.build('one')?.revision ?? 0;
      store.saveBuild({ ...sampleBuild('one'), name: 'From the first' }, 1, 'Rename');
      const late = { ...sampleBuild('one'), name: 'From the second' };
      expect(() => second.saveBuild(late, seen, 'Rename')).toThrow(RevisionConflictError);
      expect(() => second.importRun(late, seen, 'a', logBytes('a'))).toThrow(RevisionConflictError);
      expect(() => second.undo('one', seen)).toThrow(RevisionConflictError);
      expect(second.build('one')).toMatchObject({ revision: 2, build: { name: 'From the first' } });
    } finally {
      second.close();
    }
  });

  test('a revision never comes back: undo and then another change do not revive a stale writer', () => {
    store.addBuild(sampleBuild('one'), new Map());
    const stale = store.saveBuild({ ...sampleBuild('one'), name: 'A' }, 1, 'Rename').revision;
    const undone = store.undo('one', stale);
    store.saveBuild({ ...sampleBuild('one'), name: 'B' }, undone.revision, 'Rename');
    expect(() => store.saveBuild({ ...sampleBuild('one'), name: 'C' }, stale, 'Rename')).toThrow(
      RevisionConflictError,
    );
  });

  test('undo and redo walk through every state, logs included, and outlive a restart', async () => {
    const bytes = logBytes('t,cell\n0,20\n');
    const empty = sampleBuild('one');
    const filled = sampleBuild('one', [sampleRun('r1', 'a.csv', bytes)]);
    store.addBuild(empty, new Map());
    store.importRun(filled, 1, 'a.csv', bytes);
    const renamed = store.saveBuild({ ...filled, name: 'Named' }, 2, 'Rename');
    expect(renamed).toMatchObject({ canUndo: true, canRedo: false });

    await reopen();
    store.undo('one', store.build('one')?.revision ?? 0);
    const first = store.undo('one', store.build('one')?.revision ?? 0);
    expect(first).toMatchObject({ build: empty, canUndo: false, canRedo: true });
    expect(store.logs('one')).toEqual([]);
    expect(store.log('one', 'a.csv')).toBeUndefined();
    expect(() => store.undo('one', first.revision)).toThrow(NoSuchStepError);
    expect(store.checkIntegrity()).toEqual([]);

    const again = store.redo('one', first.revision);
    expect(again.build).toEqual(filled);
    expect(store.log('one', 'a.csv')).toEqual(bytes);
    const last = store.redo('one', again.revision);
    expect(last).toMatchObject({ build: { name: 'Named' }, canRedo: false });
    expect(() => store.redo('one', last.revision)).toThrow(NoSuchStepError);
  });

  test('a change after an undo drops what could be redone, and the bytes only that needed', async () => {
    const bytes = logBytes('first');
    store.addBuild(sampleBuild('one'), new Map());
    store.importRun(sampleBuild('one', [sampleRun('r1', 'a.csv', bytes)]), 1, 'a.csv', bytes);
    store.undo('one', 2);
    expect(await count('logs')).toBe(1);
    const second = logBytes('second, under the same name');
    const stored = store.importRun(
      sampleBuild('one', [sampleRun('r1', 'a.csv', second)]),
      3,
      'a.csv',
      second,
    );
    expect(stored.canRedo).toBe(false);
    expect(store.log('one', 'a.csv')).toEqual(second);
    expect(await count('logs')).toBe(1);
    expect(store.checkIntegrity()).toEqual([]);
  });

  test('saving what is there already is no step', () => {
    const { build } = store.addBuild(sampleBuild('one'), new Map());
    expect(store.saveBuild(build, 1, 'Nothing')).toMatchObject({ revision: 1, canUndo: false });
  });

  test('history is bounded: the oldest steps go, the latest can still be undone', async () => {
    let { revision } = store.addBuild(sampleBuild('one'), new Map());
    for (let n = 0; n < keptSteps + 10; n += 1) {
      revision = store.saveBuild({ ...sampleBuild('one'), note: `${n}` }, revision, 'Note').revision;
    }
    expect(await count('build_revisions')).toBe(keptSteps + 1);
    let steps = 0;
    for (let at = store.build('one'); at?.canUndo; at = store.undo('one', at.revision)) steps += 1;
    expect(steps).toBe(keptSteps);
    expect(store.build('one')?.build.note).toBe('9');
    // Some four hundred commits, each of which waits for the disk.
  }, 60_000);

  test('the same bytes under two names and in two builds are kept once', async () => {
    const bytes = logBytes('same');
    const logs = new Map([
      ['a.csv', bytes],
      ['b.csv', bytes],
    ]);
    const runs = [sampleRun('r1', 'a.csv', bytes), sampleRun('r2', 'b.csv', bytes)];
    store.addBuild(sampleBuild('one', runs), logs);
    store.addBuild(sampleBuild('two', runs), logs);
    expect(await count('logs')).toBe(1);
    expect(store.log('two', 'b.csv')).toEqual(bytes);
  });

  test('an import keeps log and document, or neither', async () => {
    store.addBuild(sampleBuild('one'), new Map());
    const bytes = logBytes('a');
    const wrong = sampleBuild('one', [sampleRun('r1', 'a.csv', logBytes('something else'))]);
    expect(() => store.importRun(wrong, 1, 'a.csv', bytes)).toThrow(/other content/);
    expect(() => store.importRun(sampleBuild('one'), 1, 'a.csv', bytes)).toThrow(/No run names the log/);
    const broken = { ...sampleBuild('one', [{ ...sampleRun('r1', 'a.csv', bytes), setup: 'nowhere' }]) };
    expect(() => store.importRun(broken, 1, 'a.csv', bytes)).toThrow(/There is no set-up "nowhere"/);
    expect(store.build('one')).toEqual({
      build: sampleBuild('one'),
      revision: 1,
      canUndo: false,
      canRedo: false,
    });
    expect(await count('logs')).toBe(0);
  });

  test('one file name has one content; a document cannot name a log that is not there', () => {
    const bytes = logBytes('a');
    const r1 = sampleRun('r1', 'a.csv', bytes);
    store.addBuild(sampleBuild('one', [r1]), new Map([['a.csv', bytes]]));
    const clash = sampleBuild('one', [r1, sampleRun('r2', 'a.csv', logBytes('b'))]);
    expect(() => store.importRun(clash, 1, 'a.csv', logBytes('b'))).toThrow(BadInputError);
    const strange = sampleBuild('one', [r1, sampleRun('r2', 'b.csv', logBytes('b'))]);
    expect(() => store.saveBuild(strange, 1, 'Cheat')).toThrow(/holds no log "b.csv"/);
    // The bytes are in the store, but they are another build's.
    store.addBuild(
      sampleBuild('two', [sampleRun('r', 'b.csv', logBytes('b'))]),
      new Map([['b.csv', logBytes('b')]]),
    );
    expect(() => store.saveBuild(strange, 1, 'Cheat')).toThrow(/holds no log "b.csv"/);
  });

  test('logs that no run names are carried along, empty ones too, until their name is used', () => {
    const logs = new Map([
      ['a.csv', logBytes('a')],
      ['notes.txt', new Uint8Array(0)],
    ]);
    const build = sampleBuild('one', [sampleRun('r1', 'a.csv', logBytes('a'))]);
    store.addBuild(build, logs);
    store.saveBuild({ ...build, note: 'x' }, 1, 'Note');
    expect(store.logs('one').map((log) => log.file)).toEqual(['a.csv', 'notes.txt']);
    expect(store.log('one', 'notes.txt')).toEqual(new Uint8Array(0));
    store.saveBuild({ ...build, runs: [] }, 2, 'Remove run');
    expect(store.logs('one').map((log) => log.file)).toEqual(['notes.txt']);
    expect(store.checkIntegrity()).toEqual([]);
  });

  test('a removed build is gone from every answer, keeps its id, and comes back whole', () => {
    const bytes = logBytes('a');
    const build = sampleBuild('one', [sampleRun('r1', 'a.csv', bytes)]);
    store.addBuild(build, new Map([['a.csv', bytes]]));
    store.removeBuild('one');
    expect(store.builds()).toEqual([]);
    expect(store.build('one')).toBeUndefined();
    expect(store.log('one', 'a.csv')).toBeUndefined();
    expect(store.logs('one')).toEqual([]);
    expect(store.takenIds()).toEqual(['one']);
    expect(() => store.saveBuild(build, 1, 'Late')).toThrow(UnknownBuildError);
    expect(() => store.removeBuild('one')).toThrow(UnknownBuildError);
    expect(() => store.addBuild(build, new Map([['a.csv', bytes]]))).toThrow(/Restore that build/);
    expect(store.restoreBuild('one').build).toEqual(build);
    expect(store.log('one', 'a.csv')).toEqual(bytes);
    expect(() => store.restoreBuild('two')).toThrow(UnknownBuildError);
  });

  test('the check finds a log that was changed behind its back, and one that is lost or left over', async () => {
    const bytes = logBytes('a');
    store.addBuild(sampleBuild('one', [sampleRun('r1', 'a.csv', bytes)]), new Map([['a.csv', bytes]]));
    const driver = await openDriver(file, sqlite);
    driver.exec("PRAGMA foreign_keys = OFF; UPDATE logs SET bytes = x'62'");
    expect(store.checkIntegrity().join()).toMatch(/has other content/);
    driver.exec('DELETE FROM build_logs');
    expect(store.checkIntegrity().join()).toMatch(
      /belongs to no build.*names the log "a.csv", which is not there/,
    );
    driver.exec("UPDATE build_revisions SET document = '{}'");
    expect(store.checkIntegrity().join()).toMatch(/Step 1 of the build "one" cannot be read/);
    driver.exec('DELETE FROM build_revisions');
    expect(store.checkIntegrity().join()).toMatch(/The build "one" has no document/);
    driver.close();
  });

  test('a commit waits for the disk, and a reader does not wait for a writer', async () => {
    const driver = await openDriver(file, sqlite);
    makeDurable(driver);
    expect(driver.prepare('PRAGMA journal_mode').get()).toMatchObject({ journal_mode: 'wal' });
    // 2 is FULL.
    expect(driver.prepare('PRAGMA synchronous').get()).toMatchObject({ synchronous: 2 });
    driver.exec('BEGIN IMMEDIATE');
    const second = await openStore(file, { sqlite });
    expect(second.builds()).toEqual([]);
    driver.exec('COMMIT');
    second.addBuild(sampleBuild('one'), new Map());
    expect(store.builds()).toHaveLength(1);
    second.close();
    driver.close();
  });
});
