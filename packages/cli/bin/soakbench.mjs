#!/usr/bin/env node
// @ts-check
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
