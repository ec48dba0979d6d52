import { createHash } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  renameSync,
  rmdirSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { open as openFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { BadInputError } from '@soakbench/core/measure';
import { type Build, writeBuild } from '@soakbench/core/records';
import type { LogBytes } from '@soakbench/core/runs';
import { openLogFile, piecesIn } from './log-file.js';
import { refuseDifferentHashes, refuseDifferentLogs } from './log-match.js';
import { hashLog } from './log-shelf.js';
import { listLogFiles } from './read-folder.js';

/**
 * Writes a build folder. It appears complete or not at all.
 *
 * @param folder path to write to; it must be empty or not there
 * @param logs every log the runs name, and any other to go with them; each is gone through when its turn comes
 * @throws BadInputError where the folder holds something, or a log is missing or differs from its SHA-256
 */
export function writeFolder(folder: string, build: Build, logs: ReadonlyMap<string, LogBytes>): void {
  const target = resolve(folder);
  refuseFilledFolder(target);
  refuseOddNames(logs.keys());
  refuseDifferentLogs(build, logs);
  mkdirSync(dirname(target), { recursive: true });
  const partial = mkdtempSync(join(dirname(target), `.${basename(target)}.partial-`));
  try {
    mkdirSync(join(partial, 'logs'));
    for (const [file, log] of logs) writeDurably(join(partial, 'logs', file), piecesIn(log));
    writeDurably(join(partial, 'build.json'), [writeBuild(build)]);
    if (existsSync(target)) rmdirSync(target);
    renameSync(partial, target);
  } catch (error) {
    rmSync(partial, { recursive: true, force: true });
    throw error;
  }
}

/**
 * Changes a build folder in place: first the new log, then `build.json`, each of them complete or not at all.
 *
 * The log is copied piece by piece, so that it may be longer than memory and the process stays awake to a signal. A process
 * that ends in the midst of it calls `signal` off first: what was copied is removed at once then, before `abort` returns.
 *
 * @param newLog a log that is not in the folder yet, or lies there with the same content
 * @throws BadInputError where a log of that name with other content is there, a run's log is missing or differs, or the log
 *   changes while it is copied; the signal's reason where that is called off
 */
export async function changeFolder(
  folder: string,
  build: Build,
  newLog?: { readonly file: string; readonly log: LogBytes },
  signal?: AbortSignal,
): Promise<void> {
  const hashes = new Map(
    listLogFiles(folder, build).map((file) => [file, hashLog(openLogFile(join(folder, 'logs', file)))]),
  );
  if (newLog !== undefined) {
    const there = hashes.get(newLog.file);
    const sha256 = hashLog(newLog.log);
    if (there !== undefined && there !== sha256) {
      throw new BadInputError([
        {
          where: join(folder, 'logs', newLog.file),
          what: 'Another log of this name is there already.',
          remedy: 'Give the new log another file name. Nothing was changed.',
        },
      ]);
    }
    hashes.set(newLog.file, sha256);
  }
  refuseOddNames(hashes.keys());
  refuseDifferentHashes(build, hashes);
  mkdirSync(join(folder, 'logs'), { recursive: true });
  if (newLog === undefined) {
    replaceDurably(join(folder, 'build.json'), writeBuild(build));
    return;
  }
  const path = join(folder, 'logs', newLog.file);
  const partial = partialOf(path);
  const drop = () => rmSync(partial, { force: true });
  drop();
  signal?.addEventListener('abort', drop);
  try {
    await copyDurably(newLog.log, partial, hashes.get(newLog.file) as string, signal);
    // No pause between the two, so that nobody finds a log that no run names.
    renameSync(partial, path);
    replaceDurably(join(folder, 'build.json'), writeBuild(build));
  } finally {
    signal?.removeEventListener('abort', drop);
    drop();
  }
}

/** @throws BadInputError where what was copied is not what was looked at */
async function copyDurably(log: LogBytes, to: string, sha256: string, signal?: AbortSignal): Promise<void> {
  signal?.throwIfAborted();
  const hash = createHash('sha256');
  const handle = await openFile(to, 'wx');
  try {
    for (const piece of piecesIn(log)) {
      signal?.throwIfAborted();
      hash.update(piece);
      await handle.writeFile(piece);
    }
    await handle.sync();
    signal?.throwIfAborted();
  } finally {
    await handle.close();
  }
  if (hash.digest('hex') === sha256) return;
  throw new BadInputError([
    {
      where: basename(to),
      what: 'The log changed while it was copied.',
      remedy: 'Stop the logger, or copy the log first, and import the copy. Nothing was changed.',
    },
  ]);
}

function refuseFilledFolder(target: string): void {
  if (!existsSync(target)) return;
  if (lstatSync(target).isDirectory() && readdirSync(target).length === 0) return;
  throw new BadInputError([
    {
      where: target,
      what: 'There is something here already.',
      remedy: 'Name a folder that is empty or not there. Nothing was changed.',
    },
  ]);
}

function refuseOddNames(files: Iterable<string>): void {
  const faults = [...files]
    .filter((file) => file === '' || file === '.' || file === '..' || /[\\/\0]/.test(file))
    .map((file) => ({
      where: `logs/${file}`,
      what: 'This is not a plain file name.',
      remedy: 'Rename the log.',
    }));
  if (faults.length > 0) throw new BadInputError(faults);
}

/** Refuses a name that is taken, which two names that differ only in case are on some disks. */
function writeDurably(path: string, pieces: Iterable<Uint8Array | string>): void {
  const handle = openSync(path, 'wx');
  try {
    for (const piece of pieces) writeFileSync(handle, piece);
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

function replaceDurably(path: string, content: string): void {
  const partial = partialOf(path);
  rmSync(partial, { force: true });
  try {
    writeDurably(partial, [content]);
    renameSync(partial, path);
  } catch (error) {
    rmSync(partial, { force: true });
    throw error;
  }
}

/** Hidden, so that a reader of the folder passes over what a power failure left. */
function partialOf(path: string): string {
  return join(dirname(path), `.${basename(path)}.partial-${process.pid}`);
}
