import { existsSync, readFileSync } from 'node:fs';
import { BadInputError } from '@soakbench/core/measure';
import { replaceFile } from '../dossier/replace-file.js';

/** The state of a sweep that was kept; undefined where there is none yet. @throws BadInputError where the file is no JSON */
export function readState(path: string): unknown {
  if (!existsSync(path)) return undefined;
  try {
    return JSON.parse(readFileSync(path, 'utf8'));
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    throw new BadInputError([
      { where: path, what: 'It is not the state of a sweep.', remedy: 'Name another file for --keep.' },
    ]);
  }
}

export function writeState(path: string, state: unknown): void {
  replaceFile(path, `${JSON.stringify(state)}\n`);
}
