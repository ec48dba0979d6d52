#!/usr/bin/env node
// @ts-check
import { setFlagsFromString } from 'node:v8';

// A command is over in a second. Without the quick compiler that came with V8 11.7, a third of it would go into optimising code for
// the next hour; the flag puts that off, and is known to those older versions only. The server does run for hours.
const [major = 0, minor = 0] = process.versions.v8.split('.').map(Number);
const isShort = process.argv[2] !== 'serve';
if (isShort && (major < 11 || (major === 11 && minor < 7))) setFlagsFromString('--interrupt-budget=1000000');

/** Whatever is missing of the built program shows here and nowhere else, so here it is put in words. */
try {
  const { main } = await import('../dist/main.js');
  await main(process.argv.slice(2));
} catch (error) {
  if (/** @type {NodeJS.ErrnoException} */ (error).code !== 'ERR_MODULE_NOT_FOUND') throw error;
  console.error(
    'Soakbench is not built yet. Run `npm run build` or `npm start` once in its folder, then this again.',
  );
  process.exitCode = 70;
}
