import { existsSync, lstatSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import { type Build, readBuild } from '@soakbench/core/records';
import type { LogPieces } from '@soakbench/core/runs';
import { openLogFile, unreadable } from './log-file.js';
import { hashLog } from './log-shelf.js';

/** A build folder as it lies on the disk, checked. */
export interface BuildFolder {
  readonly build: Build;
  /** All bytes of a log, read when asked for. */
  logOf(file: string): Uint8Array | undefined;
  /** The same log piece by piece, for one that is better not held in memory. */
  piecesOf(file: string): LogPieces | undefined;
  /** Every file in `logs/`, in order of name, whether or not a run names it. */
  readonly logFiles: string[];
}

/**
 * Reads a build folder and holds every log against the SHA-256 that `build.json` gives it.
 *
 * @param folder path of the folder that holds `build.json` and `logs/`
 * @param onRead called while a log is read, with its name and the share read so far, 0 to 1
 * @throws BadInputError naming the file or field that is missing, unreadable or different
 */
export function readFolder(folder: string, onRead?: (file: string, share: number) => void): BuildFolder {
  const path = join(folder, 'build.json');
  const build = readBuild(readText(path), path);
  const logFiles = listLogFiles(folder, build);
  const inFolder = new Set(logFiles);
  const pathOf = (file: string) => join(folder, 'logs', file);
  const piecesOf = (file: string) =>
    inFolder.has(file) ? openLogFile(pathOf(file), (share) => onRead?.(file, share)) : undefined;
  const faults = build.runs.flatMap(({ log }, index): Fault[] => {
    const pieces = piecesOf(log.file);
    const where = `${path}: runs[${index}].log`;
    if (!pieces) {
      return [
        {
          where,
          what: `There is no file logs/${log.file}.`,
          remedy: 'Put the log back into logs/, or take the run out.',
        },
      ];
    }
    const actual = hashLog(pieces);
    if (actual === log.sha256) return [];
    return [
      {
        where,
        what: `logs/${log.file} is not the file that was imported: its SHA-256 is ${actual}.`,
        remedy: 'Put the log back as it came from the logger, or import the changed file as a new run.',
      },
    ];
  });
  if (faults.length > 0) throw new BadInputError(faults);
  return {
    build,
    logOf: (file) => (inFolder.has(file) ? readBytes(pathOf(file)) : undefined),
    piecesOf,
    logFiles,
  };
}

function readText(path: string): string {
  if (!existsSync(path)) {
    throw new BadInputError([
      {
        where: path,
        what: 'There is no such file.',
        remedy:
          'Point to a build folder: one that holds build.json and logs/. To begin one: npx soakbench builds new --help',
      },
    ]);
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(readBytes(path));
  } catch (error) {
    if (error instanceof BadInputError) throw error;
    throw new BadInputError([
      { where: path, what: 'This is not a text in UTF-8.', remedy: 'Save the file as UTF-8.' },
    ]);
  }
}

function readBytes(path: string): Uint8Array {
  try {
    const bytes = readFileSync(path);
    return new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  } catch (error) {
    throw unreadable(path, error);
  }
}

/**
 * The names of the logs in a folder, in order.
 *
 * Plain files only: a link in a folder from elsewhere must not pull in what lies outside it. Hidden files are left by
 * file managers and are no logs, unless a run says so.
 */
export function listLogFiles(folder: string, build: Build): string[] {
  const logs = join(folder, 'logs');
  if (!existsSync(logs)) return [];
  const named = new Set(build.runs.map((run) => run.log.file));
  return readdirSync(logs)
    .filter((file) => (!file.startsWith('.') || named.has(file)) && lstatSync(join(logs, file)).isFile())
    .sort();
}
