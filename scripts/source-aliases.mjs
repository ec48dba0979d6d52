// @ts-check
import { fileURLToPath } from 'node:url';

/** @param {string} path from the top of the repository */
const fromRoot = (path) => fileURLToPath(new URL('..', import.meta.url)) + path;

/** Our own packages by their sources: tests and the page bundle then never depend on what `dist` happens to hold. */
export const sourceAliases = [
  { find: /^@soakbench\/core\/stages$/, replacement: fromRoot('packages/core/src/stages.ts') },
  { find: /^@soakbench\/core\/(.*)$/, replacement: fromRoot('packages/core/src/$1/index.ts') },
  {
    find: /^@soakbench\/server\/(heat|solver)-threads$/,
    replacement: fromRoot('packages/server/src/$1-threads.ts'),
  },
  { find: /^@soakbench\/(store|server)$/, replacement: fromRoot('packages/$1/src/index.ts') },
];
