import { defineConfig } from 'vitest/config';
import { findChromium } from './scripts/prepare/chromium.mjs';
import { sourceAliases } from './scripts/source-aliases.mjs';

/** Tests run on the sources, so that a failing line is a line a person wrote. Browser tests drive the built server. */
export default defineConfig({
  resolve: { alias: sourceAliases },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    reporters: ['default', './scripts/closing-line-reporter.mjs'],
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['packages/*/{src,test}/**/*.test.{ts,tsx}', 'scripts/**/*.test.ts'],
          exclude: ['**/browser/**'],
          setupFiles: ['./scripts/draw-alike.ts'],
          testTimeout: 30_000, // Some start real processes, and a busy machine starts them slowly.
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['packages/web/test/browser/**/*.test.ts'],
          env: { SOAKBENCH_CHROMIUM: findChromium() ?? '' },
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
