import { BadInputError, type Fault } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { LogBytes } from '@soakbench/core/runs';
import type { Driver } from './driver.js';
import { hashLog, holdsLog } from './log-shelf.js';

/**
 * Which bytes each file name of a build stands for: one file, one content.
 *
 * @param loose logs that belong to the build though no run names them
 * @throws BadInputError where two runs give one file name two contents
 */
export function logsOf(build: Build, loose: ReadonlyMap<string, string> = new Map()): Map<string, string> {
  const contents = new Map(loose);
  const faults: Fault[] = [];
  for (const [index, { log }] of build.runs.entries()) {
    const known = contents.get(log.file);
    if (known !== undefined && known !== log.sha256) {
      faults.push({
        where: `runs[${index}].log.file`,
        what: `The build already holds another log called "${log.file}".`,
        remedy: 'Give the new log another file name.',
      });
    }
    contents.set(log.file, log.sha256);
  }
  if (faults.length > 0) throw new BadInputError(faults);
  return contents;
}

/**
 * Holds every run against the bytes that came with it.
 *
 * @param onlyFile where only runs of this file are in question; at least one must name it then
 */
export function refuseDifferentLogs(
  build: Build,
  logs: ReadonlyMap<string, LogBytes>,
  onlyFile?: string,
): void {
  refuseDifferentHashes(build, new Map([...logs].map(([file, log]) => [file, hashLog(log)])), onlyFile);
}

/** As `refuseDifferentLogs`, where the SHA-256 of each log is known already. */
export function refuseDifferentHashes(
  build: Build,
  hashes: ReadonlyMap<string, string>,
  onlyFile?: string,
): void {
  const runs = [...build.runs.entries()].filter(
    ([, run]) => onlyFile === undefined || run.log.file === onlyFile,
  );
  const faults = runs.flatMap(([index, { log }]) => {
    const actual = hashes.get(log.file);
    if (actual === log.sha256) return [];
    return [
      {
        where: `runs[${index}].log`,
        what: actual
          ? `The log "${log.file}" has other content than the build says: its SHA-256 is ${actual}.`
          : `The log "${log.file}" is missing.`,
        remedy: actual ? 'Give the log as it came from the logger.' : 'Give the log together with the build.',
      },
    ];
  });
  if (faults.length > 0) throw new BadInputError(faults);
  if (onlyFile !== undefined && runs.length === 0) {
    throw new BadInputError([
      {
        where: 'runs',
        what: `No run names the log "${onlyFile}".`,
        remedy: 'Add the run that the log belongs to.',
      },
    ]);
  }
}

/** A document may name only logs that some step of the same build holds; new ones come with `importRun`. */
export function refuseStrangeLogs(driver: Driver, build: Build, freshFile?: string): void {
  const faults = [...build.runs.entries()]
    .filter(([, { log }]) => log.file !== freshFile && !holdsLog(driver, build.id, log.sha256))
    .map(([index, { log }]) => ({
      where: `runs[${index}].log`,
      what: `The store holds no log "${log.file}" with this SHA-256 for the build.`,
      remedy: 'Import the log together with its run.',
    }));
  if (faults.length > 0) throw new BadInputError(faults);
}
