import { closeSync, existsSync, fsyncSync, openSync, renameSync, rmSync } from 'node:fs';
import { BadInputError } from '@soakbench/core/measure';
import { type Driver, inTransaction } from './driver.js';

/** One change of the tables. Its place in the list, counted from 1, is the version it leads to. */
export type Migration = string;

/**
 * Every change the tables went through, oldest first. An entry that was released is never edited.
 *
 * `builds.revision` rises with every change, undo and redo included, so that a number seen once never comes back for
 * another state. `builds.step` is the place in the history; steps above it are what can be redone.
 * `build_logs` holds the logs of every step: the foreign keys keep a document from naming a log that is not there.
 */
export const migrations: readonly Migration[] = [
  `
  CREATE TABLE builds (
    id TEXT PRIMARY KEY,
    revision INTEGER NOT NULL,
    step INTEGER NOT NULL,
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)),
    updatedAt TEXT NOT NULL
  ) STRICT;
  CREATE TABLE build_revisions (
    build TEXT NOT NULL REFERENCES builds (id),
    step INTEGER NOT NULL,
    revision INTEGER NOT NULL,
    document TEXT NOT NULL,
    what TEXT NOT NULL,
    at TEXT NOT NULL,
    PRIMARY KEY (build, step)
  ) STRICT;
  CREATE TABLE logs (
    sha256 TEXT PRIMARY KEY,
    size INTEGER NOT NULL CHECK (size = length(bytes)),
    bytes BLOB NOT NULL
  ) STRICT;
  CREATE TABLE build_logs (
    build TEXT NOT NULL,
    step INTEGER NOT NULL,
    file TEXT NOT NULL,
    sha256 TEXT NOT NULL REFERENCES logs (sha256),
    PRIMARY KEY (build, step, file),
    FOREIGN KEY (build, step) REFERENCES build_revisions (build, step) ON DELETE CASCADE
  ) STRICT, WITHOUT ROWID;
  CREATE INDEX build_logs_by_sha256 ON build_logs (sha256);
  `,
];

/** Marks a database file as ours: the letters "SOAK". */
const applicationId = 0x534f414b;

/**
 * Brings the tables of a database up to date. A store that already holds something is copied beside itself first.
 *
 * @param file path of the database, for the copy and for messages
 * @param list the migrations to apply; another list than ours serves tests
 * @returns path of the copy, or null where none was needed
 * @throws BadInputError where the file belongs to another program or to a newer Soakbench; it is left as it was
 */
export function migrate(
  driver: Driver,
  file: string,
  list: readonly Migration[] = migrations,
): string | null {
  const found = readVersion(driver, file);
  if (found.version > list.length) throw newerFile(file, found.version, list.length);
  if (found.version === list.length) return null;
  const copy = found.version > 0 ? copyStore(driver, file, found.version) : null;
  inTransaction(driver, () => {
    // Read again: another process may have migrated the file while this one waited for the lock.
    const { version } = readVersion(driver, file);
    if (version > list.length) throw newerFile(file, version, list.length);
    for (const migration of list.slice(version)) driver.exec(migration);
    driver.exec(`PRAGMA application_id = ${applicationId}`);
    driver.exec(`PRAGMA user_version = ${list.length}`);
  });
  return copy;
}

function readVersion(driver: Driver, file: string): { version: number } {
  let tables: number;
  try {
    tables = Number(driver.prepare('SELECT count(*) AS tables FROM sqlite_schema').get()?.['tables']);
  } catch (error) {
    if (!/not a database|malformed|encrypted/i.test((error as Error).message)) throw error;
    throw foreignFile(file);
  }
  const ours = Number(driver.prepare('PRAGMA application_id').get()?.['application_id']) === applicationId;
  if (!ours && tables > 0) throw foreignFile(file);
  return { version: Number(driver.prepare('PRAGMA user_version').get()?.['user_version']) };
}

function foreignFile(file: string): BadInputError {
  return new BadInputError([
    {
      where: file,
      what: 'This file is not a Soakbench store.',
      remedy: 'Name another file, or move this one away to start with an empty store. Nothing was changed.',
    },
  ]);
}

function newerFile(file: string, version: number, known: number): BadInputError {
  return new BadInputError([
    {
      where: file,
      what: `The store has version ${version}; this Soakbench knows up to version ${known}.`,
      remedy: 'Install a newer Soakbench, or name another file. Nothing was changed.',
    },
  ]);
}

/** A complete copy beside the store, under a name that is not taken. It gets that name only once it is on the disk. */
function copyStore(driver: Driver, file: string, version: number): string {
  let copy = `${file}.v${version}-backup`;
  for (let count = 2; existsSync(copy); count += 1) copy = `${file}.v${version}-backup-${count}`;
  const partial = `${copy}.partial-${process.pid}`;
  rmSync(partial, { force: true });
  driver.prepare('VACUUM INTO ?').run(partial);
  const handle = openSync(partial, 'r+');
  fsyncSync(handle);
  closeSync(handle);
  renameSync(partial, copy);
  return copy;
}
