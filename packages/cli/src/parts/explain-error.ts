/** What went wrong, in words a person can act on, and the exit code that says whose fault it was. */
import { debuglog } from 'node:util';
import { BadInputError, type Fault, OutOfRangeError } from '@soakbench/core/measure';
import type { ExitCode } from './action.js';

export interface Explanation {
  readonly code: ExitCode;
  readonly faults: readonly Fault[];
}

const debug = debuglog('soakbench');

/** What the system says most often, in words; anything else comes as the system put it. */
const systemWords: Readonly<Record<string, readonly [what: string, remedy: string]>> = {
  ENOENT: ['There is no such file or folder.', 'Check the path.'],
  ENOTDIR: ['A part of this path is a file, not a folder.', 'Check the path.'],
  EISDIR: ['This is a folder, not a file.', 'Name a file.'],
  EACCES: ['Access was refused.', 'Change the permissions, or choose another place.'],
  EPERM: ['Access was refused.', 'Change the permissions, or choose another place.'],
  EROFS: ['This disk can only be read.', 'Choose another place.'],
  ENOSPC: ['The disk is full.', 'Free some space and run the command again.'],
};

export function explainError(error: unknown): Explanation {
  debug('%O', error);
  if (error instanceof BadInputError) return { code: 2, faults: error.faults };
  if (error instanceof OutOfRangeError) {
    const { parameter, value, allowed } = error.fault;
    return badInput(parameter, `${value} lies outside ${allowed.join(' to ')}.`, 'Correct it in build.json.');
  }
  const { name, message, code, path } = asRecord(error);
  // The store is loaded only when it is needed, so its errors are known by name here.
  if (name === 'UnknownBuildError') return badInput('build', message, 'See: npx soakbench builds list');
  if (name === 'RevisionConflictError') return badInput('build', message, 'Run the command again.');
  if (/^SQLITE_BUSY/.test(code) || /database is locked/i.test(message)) {
    return badInput(
      'store',
      'Another program is writing to it.',
      'Wait for it to end, or end it, and run the command again.',
    );
  }
  if (code === 'ERR_MODULE_NOT_FOUND') {
    return {
      code: 70,
      faults: [
        {
          where: 'Soakbench',
          what: 'A part of the program is not built.',
          remedy: 'Run `npm run build` or `npm start` once in its folder.',
        },
      ],
    };
  }
  const words = systemWords[code];
  if (words !== undefined) return badInput(path, words[0], words[1]);
  if (/^E[A-Z]+$/.test(code)) return badInput(path, `${message}.`, 'Check the path and the disk.');
  return {
    code: 70,
    faults: [
      {
        where: 'Soakbench',
        what: `The program stumbled over a fault of its own: ${message}.`,
        remedy: 'Run the command again with NODE_DEBUG=soakbench in front of it, and report what it prints.',
      },
    ],
  };
}

function badInput(where: string, what: string, remedy: string): Explanation {
  return { code: 2, faults: [{ where, what, remedy }] };
}

function asRecord(error: unknown): { name: string; message: string; code: string; path: string } {
  if (!(error instanceof Error)) return { name: '', message: String(error), code: '', path: '' };
  const { code = '', path = 'file', dest } = error as NodeJS.ErrnoException & { dest?: string };
  return {
    name: error.name,
    message: error.message.replace(/\.$/, ''),
    code: String(code),
    path: dest ?? path,
  };
}
