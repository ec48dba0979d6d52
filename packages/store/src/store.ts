import { mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { BadInputError } from '@soakbench/core/measure';
import { type Build, writeBuild } from '@soakbench/core/records';
import type { LogBytes } from '@soakbench/core/runs';
import { type Driver, inTransaction, makeDurable, openDriver } from './driver.js';
import {
  findPlace,
  type Place,
  readDocument,
  readLooseLogs,
  readStored,
  requirePlace,
  type Stored,
  walkStep,
  writeStep,
} from './history.js';
import { findDamage } from './integrity.js';
import { logsOf, refuseDifferentLogs, refuseStrangeLogs } from './log-match.js';
import { fetchLog, listLogs, type StoredLog, shelveLog } from './log-shelf.js';
import { migrate } from './migrations.js';

export interface BuildSummary {
  readonly id: string;
  readonly name: string;
  readonly invented: boolean;
  readonly revision: number;
  /** ISO 8601 in UTC. */
  readonly updatedAt: string;
  /** How many runs the build holds; 0 where its document cannot be read. */
  readonly runs: number;
  /** False where what is kept is no JSON, as after a fault of the disk: the other builds are listed all the same. */
  readonly isReadable: boolean;
}

/** Builds and their logs in one SQLite file. Every write is one transaction: all of it is kept, or nothing. */
export interface Store {
  /** The builds that are not removed, latest change first. */
  builds(): BuildSummary[];
  /** Every id that cannot be given to a new build, removed builds included. */
  takenIds(): string[];
  build(id: string): Stored | undefined;
  /** Adds a build with its logs, each read when its turn comes. @throws BadInputError where the id is taken, or a run's log is missing or differs */
  addBuild(build: Build, logs: ReadonlyMap<string, LogBytes>): Stored;
  /** @throws RevisionConflictError, UnknownBuildError, BadInputError where a run names a log the build does not hold */
  saveBuild(build: Build, expectedRevision: number, what: string): Stored;
  /** Keeps a log and the document that names it, both or neither. @throws as `saveBuild` */
  importRun(build: Build, expectedRevision: number, file: string, bytes: Uint8Array): Stored;
  log(id: string, file: string): Uint8Array | undefined;
  logs(id: string): StoredLog[];
  /** @throws NoSuchStepError, RevisionConflictError, UnknownBuildError */
  undo(id: string, expectedRevision: number): Stored;
  /** @throws as `undo` */
  redo(id: string, expectedRevision: number): Stored;
  /** Takes the build off the list. Its id stays taken, and `restoreBuild` brings it back as it was. */
  removeBuild(id: string): void;
  restoreBuild(id: string): Stored;
  /** What is wrong with the file, one sentence each; empty where all is well. */
  checkIntegrity(): string[];
  close(): void;
}

export interface StoreOptions {
  /** The time of a change, ISO 8601 in UTC. */
  readonly clock?: () => string;
  /** Forces a SQLite library; see `openDriver`. */
  readonly sqlite?: string | undefined;
}

/**
 * Opens a store, and creates it where there is none. An older file is migrated after a copy was put beside it.
 *
 * @param file path of the database
 * @throws BadInputError where the file is not a store, or a newer Soakbench wrote it; it is left as it was
 */
export async function openStore(file: string, options: StoreOptions = {}): Promise<Store> {
  mkdirSync(dirname(file), { recursive: true });
  const driver = await openDriver(file, options.sqlite);
  try {
    return openStoreOn(driver, file, options.clock);
  } catch (error) {
    driver.close();
    throw error;
  }
}

/** As `openStore`, on a database that is open already. */
export function openStoreOn(driver: Driver, file: string, clock = () => new Date().toISOString()): Store {
  driver.exec('PRAGMA busy_timeout = 5000; PRAGMA foreign_keys = ON;');
  migrate(driver, file);
  // Only now is the file known to be ours and may be touched.
  makeDurable(driver);
  return makeStore(driver, clock);
}

function makeStore(driver: Driver, clock: () => string): Store {
  const write = (work: () => Place) => inTransaction(driver, () => readStored(driver, work()));
  const saveStep = (
    build: Build,
    expectedRevision: number,
    what: string,
    fresh?: { file: string; bytes: Uint8Array },
  ) => {
    const place = requirePlace(driver, build.id, expectedRevision);
    const logs = logsOf(build, readLooseLogs(driver, place));
    if (fresh) logs.set(fresh.file, shelveLog(driver, fresh.bytes));
    else if (writeBuild(build) === readDocument(driver, place)) return place;
    refuseStrangeLogs(driver, build, fresh?.file);
    return writeStep(driver, place, build, logs, what, clock());
  };

  return {
    builds: () => listBuilds(driver),
    takenIds: () =>
      driver
        .prepare('SELECT id FROM builds')
        .all()
        .map((row) => String(row['id'])),
    build(id) {
      const place = findPlace(driver, id);
      return place && readStored(driver, place);
    },
    addBuild: (build, logs) =>
      write(() => {
        refuseTakenId(driver, build.id);
        refuseDifferentLogs(build, logs);
        const at = clock();
        driver
          .prepare('INSERT INTO builds (id, revision, step, updatedAt) VALUES (?, 0, 0, ?)')
          .run(build.id, at);
        const loose = new Map([...logs].map(([file, log]) => [file, shelveLog(driver, log)]));
        return writeStep(
          driver,
          { id: build.id, revision: 0, step: 0 },
          build,
          logsOf(build, loose),
          'Add build',
          at,
        );
      }),
    saveBuild: (build, expectedRevision, what) => write(() => saveStep(build, expectedRevision, what)),
    importRun: (build, expectedRevision, file, bytes) =>
      write(() => {
        requirePlace(driver, build.id, expectedRevision);
        // First, because a name that is taken explains more than a hash that differs.
        logsOf(build);
        refuseDifferentLogs(build, new Map([[file, bytes]]), file);
        return saveStep(build, expectedRevision, `Import ${file}`, { file, bytes });
      }),
    log(id, file) {
      const place = findPlace(driver, id);
      return place && fetchLog(driver, id, place.step, file);
    },
    logs(id) {
      const place = findPlace(driver, id);
      return place ? listLogs(driver, id, place.step) : [];
    },
    undo: (id, expectedRevision) =>
      write(() => walkStep(driver, requirePlace(driver, id, expectedRevision), 'undo', clock())),
    redo: (id, expectedRevision) =>
      write(() => walkStep(driver, requirePlace(driver, id, expectedRevision), 'redo', clock())),
    removeBuild: (id) =>
      inTransaction(driver, () => {
        requirePlace(driver, id);
        driver.prepare('UPDATE builds SET removed = 1 WHERE id = ?').run(id);
      }),
    restoreBuild: (id) =>
      write(() => {
        driver.prepare('UPDATE builds SET removed = 0 WHERE id = ?').run(id);
        return requirePlace(driver, id);
      }),
    checkIntegrity: () => findDamage(driver),
    close: () => driver.close(),
  };
}

function listBuilds(driver: Driver): BuildSummary[] {
  return driver
    .prepare(
      `SELECT builds.id, builds.revision, builds.updatedAt,
         json_valid(document) AS readable,
         CASE WHEN json_valid(document) THEN json_extract(document, '$.name') ELSE builds.id END AS name,
         CASE WHEN json_valid(document) THEN json_extract(document, '$.invented') END AS invented,
         CASE WHEN json_valid(document) THEN json_array_length(document, '$.runs') END AS runs
       FROM builds JOIN build_revisions ON build_revisions.build = builds.id AND build_revisions.step = builds.step
       WHERE removed = 0 ORDER BY builds.updatedAt DESC, builds.id`,
    )
    .all()
    .map((row) => ({
      id: String(row['id']),
      name: String(row['name']),
      invented: row['invented'] === 1,
      revision: Number(row['revision']),
      updatedAt: String(row['updatedAt']),
      runs: Number(row['runs']),
      isReadable: row['readable'] === 1,
    }));
}

function refuseTakenId(driver: Driver, id: string): void {
  const row = driver.prepare('SELECT removed FROM builds WHERE id = ?').get(id);
  if (!row) return;
  throw new BadInputError([
    {
      where: 'id',
      what:
        row['removed'] === 1 ? `A removed build has the id "${id}".` : `There is a build "${id}" already.`,
      remedy:
        row['removed'] === 1
          ? 'Restore that build, or use another id.'
          : 'Use another id. Nothing was changed.',
    },
  ]);
}
