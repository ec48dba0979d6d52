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
import { basename, dirname, join, resolve } from 'node:path';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import { type Build, writeBuild } from '@soakbench/core/records';
import { refuseDifferentLogs } from './log-match.js';
import { hashLog } from './log-shelf.js';
import { listLogFiles, readBytes } from './read-folder.js';

/**
 * Writes a build folder. It appears complete or not at all.
 *
 * @param folder path to write to; it must be empty or not there
 * @param logs bytes of every log the runs name, and of any other to go with them
 * @throws BadInputError where the folder holds something, or a log is missing or differs from its SHA-256
 */
export function writeFolder(folder: string, build: Build, logs: ReadonlyMap<string, Uint8Array>): void {
  const target = resolve(folder);
  refuseFilledFolder(target);
  refuseOddNames(logs.keys());
  refuseDifferentLogs(build, logs);
  mkdirSync(dirname(target), { recursive: true });
  const partial = mkdtempSync(join(dirname(target), `.${basename(target)}.partial-`));
  try {
    mkdirSync(join(partial, 'logs'));
    for (const [file, bytes] of logs) writeDurably(join(partial, 'logs', file), bytes);
    writeDurably(join(partial, 'build.json'), writeBuild(build));
    if (existsSync(target)) rmdirSync(target);
    renameSync(partial, target);
  } catch (error) {
    rmSync(partial, { recursive: true, force: true });
    throw error;
  }
}

/**
 * Changes a build folder in place: first the new logs, then `build.json`, each of them complete or not at all.
 *
 * @param newLogs logs that are not in the folder yet
 * @throws BadInputError where a log of that name with other content is there, or a run's log is missing or differs
 */
export function changeFolder(folder: string, build: Build, newLogs: ReadonlyMap<string, Uint8Array>): void {
  const logs = new Map(
    listLogFiles(folder, build).map((file) => [file, readBytes(join(folder, 'logs', file))]),
  );
  const faults: Fault[] = [];
  for (const [file, bytes] of newLogs) {
    const there = logs.get(file);
    if (there && hashLog(there) !== hashLog(bytes)) {
      faults.push({
        where: join(folder, 'logs', file),
        what: 'Another log of this name is there already.',
        remedy: 'Give the new log another file name. Nothing was changed.',
      });
    }
    logs.set(file, bytes);
  }
  if (faults.length > 0) throw new BadInputError(faults);
  refuseOddNames(logs.keys());
  refuseDifferentLogs(build, logs);
  mkdirSync(join(folder, 'logs'), { recursive: true });
  for (const [file, bytes] of newLogs) replaceDurably(join(folder, 'logs', file), bytes);
  replaceDurably(join(folder, 'build.json'), writeBuild(build));
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
function writeDurably(path: string, content: Uint8Array | string): void {
  const handle = openSync(path, 'wx');
  try {
    writeFileSync(handle, content);
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

function replaceDurably(path: string, content: Uint8Array | string): void {
  const partial = join(dirname(path), `.${basename(path)}.partial-${process.pid}`);
  rmSync(partial, { force: true });
  try {
    writeDurably(partial, content);
    renameSync(partial, path);
  } catch (error) {
    rmSync(partial, { force: true });
    throw error;
  }
}
