#!/usr/bin/env node
// @ts-check
import { setFlagsFromString } from 'node:v8';

// A command is over in a second, of which optimising code for the next hour would take a third. The server runs for hours.
if (process.argv[2] !== 'serve') setFlagsFromString('--interrupt-budget=1000000');

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
