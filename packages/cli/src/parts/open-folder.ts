import type { Build } from '@soakbench/core/records';
import type { LogBytes } from '@soakbench/core/runs';
import { type Assessment, assessBuild } from '@soakbench/core/verdict';
import { readFolder } from '@soakbench/store';
import type { ExitCode } from './action.js';
import { note, notePage } from './output.js';
import { paint, wrap } from './page.js';
import { ProgressLine, quiet_ms } from './progress-line.js';

export interface AssessedFolder {
  readonly build: Build;
  readonly assessment: Assessment;
  logOf(file: string): LogBytes | undefined;
}

/** The operand of every action that works on a build folder. */
export const folderOperand = { about: 'a build folder: build.json and logs/' } as const;

/**
 * Reads a build folder and computes everything there is to know about it. No server and no database take part.
 *
 * @param narrow takes out of the build what the question does not need, so that it is not computed
 * @throws BadInputError naming every file or field that is wrong
 */
export function openFolder(
  folder: string,
  narrow: (build: Build) => Build = (build) => build,
): AssessedFolder {
  return withProgress((tell) => {
    const { build, piecesOf } = readFolder(folder, tell);
    return { build, logOf: piecesOf, assessment: assessBuild(narrow(build), piecesOf) };
  });
}

/** A terminal is told which log is being read, once that takes long enough to wonder. */
function withProgress<T>(work: (tell: (file: string, share: number) => void) => T): T {
  const progress = new ProgressLine(quiet_ms);
  try {
    return work((file, share) => {
      progress.tell(share, share < 1 ? `reading ${file}` : `measuring ${file}`);
    });
  } finally {
    progress.clear();
  }
}

/**
 * Says which parts of the build could not be used, if any.
 *
 * @returns the exit code: an answer that had to leave out a log or a probe check rests on less than the folder holds, and a script must not
 *   take it for the whole
 */
export function reportLeftOut({ probes, runs }: Assessment, otherwise: ExitCode): ExitCode {
  const leftOut = [
    ...probes.notes,
    ...runs.unreadable.map(({ run, reason }) => `${run} is left out: ${reason}`),
  ];
  if (leftOut.length === 0) return otherwise;
  const page = notePage();
  note([
    paint(page, 'strong', 'Not all of the build could be used'),
    ...leftOut.flatMap((line) => wrap(page, line, '  ')),
  ]);
  return 2;
}
