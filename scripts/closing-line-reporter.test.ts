import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

/** Runs a small suite of its own through the real runner and gives its last line. */
function closingLine(files: Record<string, string>): { line: string; code: number | null } {
  // Inside the repository, so that the suite finds the runner it imports.
  mkdirSync(join(root, '.cache'), { recursive: true });
  const folder = mkdtempSync(join(root, '.cache', 'closing-line-'));
  try {
    writeFileSync(join(folder, 'vitest.config.mjs'), 'export default {};'); // Else the one at the top is found.
    for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
    const reporters = ['--reporter=default', `--reporter=${join(root, 'scripts/closing-line-reporter.mjs')}`];
    const { stdout, status } = spawnSync(
      process.execPath,
      [join(root, 'node_modules/vitest/vitest.mjs'), 'run', `--root=${folder}`, ...reporters],
      { encoding: 'utf8', cwd: folder },
    );
    return { line: stdout.trimEnd().split('\n').at(-1) ?? '', code: status };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const start = "import { beforeAll, describe, expect, test } from 'vitest';\n";

test('passed, failed and skipped tests are counted', { timeout: 60_000 }, () => {
  const text = `${start}test('a', () => {}); test('b', () => {}); test('c', () => expect(1).toBe(2)); test.skip('d', () => {});`;
  expect(closingLine({ 'a.test.js': text })).toEqual({ line: '2 passed, 1 failed, 1 skipped', code: 1 });
});

test('what fails outside a test counts as a failure', { timeout: 60_000 }, () => {
  const result = closingLine({
    'good.test.js': `${start}test('a', () => {});`,
    'unreadable.test.js': "import './no-such-file.js';",
    'hook.test.js': `${start}describe('x', () => { beforeAll(() => { throw new Error('no'); }); test('b', () => {}); });`,
  });
  expect(result).toEqual({ line: '1 passed, 2 failed, 1 skipped', code: 1 });
});
