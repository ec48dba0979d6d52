import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { BadInputError } from '@soakbench/core/measure';
import type { Store } from '@soakbench/store';

const usualFile = 'soakbench-data/bench.sqlite';

/** The option of every action that works on a store. */
export const storeOption = {
  type: 'string',
  value: 'FILE',
  about: `the store; ${usualFile} in the current folder where it is not named`,
} as const;

/** The path of the store a person means. */
export function storePath(named: string | undefined): string {
  return resolve(named ?? usualFile);
}

/**
 * Opens a store, does something with it and closes it again.
 *
 * @param isNewAllowed whether a store may be made where there is none
 * @throws BadInputError where there is none and none may be made
 */
export async function withStore<T>(
  named: string | undefined,
  isNewAllowed: boolean,
  work: (store: Store) => T,
): Promise<T> {
  const file = storePath(named);
  if (!isNewAllowed && !existsSync(file)) {
    throw new BadInputError([
      {
        where: file,
        what: 'There is no store here.',
        remedy: 'Name it with --store FILE, or make one: npx soakbench builds import FOLDER',
      },
    ]);
  }
  const { openStore } = await import('@soakbench/store');
  const store = await openStore(file);
  try {
    return work(store);
  } finally {
    store.close();
  }
}
