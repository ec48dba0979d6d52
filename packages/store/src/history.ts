import { BadInputError } from '@soakbench/core/measure';
import { type Build, checkBuild, writeBuild } from '@soakbench/core/records';
import type { Driver } from './driver.js';
import { NoSuchStepError, RevisionConflictError, UnknownBuildError } from './errors.js';
import { dropUnusedLogs, listLogs } from './log-shelf.js';

/** How many steps back can be undone; older ones are dropped, so that a store does not grow for ever. */
export const keptSteps = 200;

export interface Stored {
  readonly build: Build;
  readonly revision: number;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
}

export interface Place {
  readonly id: string;
  readonly revision: number;
  readonly step: number;
}

/** Where the build stands in its history; undefined where there is none or it was removed. */
export function findPlace(driver: Driver, id: string): Place | undefined {
  const row = driver.prepare('SELECT revision, step FROM builds WHERE id = ? AND removed = 0').get(id);
  return row && { id, revision: Number(row['revision']), step: Number(row['step']) };
}

/** As `findPlace`. @throws UnknownBuildError, RevisionConflictError where the caller's revision is not the latest */
export function requirePlace(driver: Driver, id: string, expectedRevision?: number): Place {
  const place = findPlace(driver, id);
  if (!place) throw new UnknownBuildError(id);
  if (expectedRevision !== undefined && expectedRevision !== place.revision) {
    throw new RevisionConflictError(id, expectedRevision, place.revision);
  }
  return place;
}

export function readDocument(driver: Driver, { id, step }: Place): string {
  return String(
    driver.prepare('SELECT document FROM build_revisions WHERE build = ? AND step = ?').get(id, step)?.[
      'document'
    ],
  );
}

export function readStored(driver: Driver, place: Place): Stored {
  const ends = driver
    .prepare('SELECT min(step) AS oldest, max(step) AS newest FROM build_revisions WHERE build = ?')
    .get(place.id);
  return {
    build: readKept(readDocument(driver, place), `build "${place.id}"`),
    revision: place.revision,
    canUndo: Number(ends?.['oldest']) < place.step,
    canRedo: Number(ends?.['newest']) > place.step,
  };
}

/** A document as the store wrote it: one that is no JSON was damaged since, and nobody can mend it by hand. */
function readKept(text: string, where: string): Build {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    throw new BadInputError([
      {
        where,
        what: 'What the store keeps of it is damaged.',
        remedy:
          'Take the store from a copy, or import the build anew from its folder. The other builds are as they were.',
      },
    ]);
  }
  return checkBuild(data, where);
}

/** Logs of the current step that no run names, by file: they came with a folder and are carried along. */
export function readLooseLogs(driver: Driver, place: Place): Map<string, string> {
  const named = new Set(readStored(driver, place).build.runs.map((run) => run.log.file));
  const loose = listLogs(driver, place.id, place.step).filter((log) => !named.has(log.file));
  return new Map(loose.map((log) => [log.file, log.sha256]));
}

/**
 * Writes the next step of a build: the document and the logs that belong to it. What could be redone is gone after it.
 *
 * Belongs inside a transaction, with the bytes of every log already on the shelf.
 */
export function writeStep(
  driver: Driver,
  place: Place,
  build: Build,
  logs: ReadonlyMap<string, string>,
  what: string,
  at: string,
): Place {
  const next: Place = { id: place.id, revision: place.revision + 1, step: place.step + 1 };
  driver
    .prepare('DELETE FROM build_revisions WHERE build = ? AND (step > ? OR step <= ?)')
    .run(next.id, place.step, next.step - 1 - keptSteps);
  driver
    .prepare(
      'INSERT INTO build_revisions (build, step, revision, document, what, at) VALUES (?, ?, ?, ?, ?, ?)',
    )
    .run(next.id, next.step, next.revision, writeBuild(build), what, at);
  const link = driver.prepare('INSERT INTO build_logs (build, step, file, sha256) VALUES (?, ?, ?, ?)');
  for (const [file, sha256] of logs) link.run(next.id, next.step, file, sha256);
  movePlace(driver, next, at);
  dropUnusedLogs(driver);
  return next;
}

/** One step back or forth. The revision rises all the same: the state is another one than before. */
export function walkStep(driver: Driver, place: Place, direction: 'undo' | 'redo', at: string): Place {
  const step = place.step + (direction === 'undo' ? -1 : 1);
  const there = driver
    .prepare('SELECT 1 AS there FROM build_revisions WHERE build = ? AND step = ?')
    .get(place.id, step);
  if (!there) throw new NoSuchStepError(place.id, direction);
  const next: Place = { id: place.id, revision: place.revision + 1, step };
  movePlace(driver, next, at);
  return next;
}

function movePlace(driver: Driver, place: Place, at: string): void {
  driver
    .prepare('UPDATE builds SET revision = ?, step = ?, updatedAt = ? WHERE id = ?')
    .run(place.revision, place.step, at, place.id);
}
