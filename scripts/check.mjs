// @ts-check
/** All checks in order, cheapest first; the first that fails ends the run. `npm test` runs this after prepare.mjs. */
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ensureChromium } from './prepare/chromium.mjs';
import { runCommand, stop } from './prepare/run-command.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));

/** @param {string} script below node_modules, or from the top of the repository */
const tool = (script) => join(root, script.startsWith('scripts/') ? script : `node_modules/${script}`);

const checks = [
  { name: 'types', args: [tool('typescript/bin/tsc'), '-b', root] },
  {
    name: 'types of tests and scripts',
    args: [tool('typescript/bin/tsc'), '-p', join(root, 'tsconfig.tests.json')],
  },
  { name: 'lint and format', args: [tool('@biomejs/biome/bin/biome'), 'check', '--error-on-warnings', '.'] },
  {
    name: 'architecture',
    args: [
      tool('dependency-cruiser/bin/dependency-cruise.mjs'),
      '--config',
      '.dependency-cruiser.cjs',
      'packages',
    ],
  },
  { name: 'unused code', args: [tool('knip/bin/knip.js'), '--no-progress'] },
  { name: 'documents', args: [tool('scripts/check/documents.mjs')] },
];

for (const { name, args } of checks) {
  const started = Date.now();
  process.stdout.write(`${name} ... `);
  const { code, output } = await runCommand(process.execPath, args, { cwd: root, quiet: true });
  if (code !== 0) {
    console.log('failed');
    stop(
      `\n${output.trim()}\n\nThe check "${name}" failed; the reason stands above. The tests were not run.`,
    );
  }
  console.log(`ok, ${((Date.now() - started) / 1000).toFixed(1)} s`);
}

console.log('tests ...');
const env = { ...process.env, SOAKBENCH_CHROMIUM: await ensureChromium() };
const { code } = await runCommand(process.execPath, [tool('vitest/vitest.mjs'), 'run'], { cwd: root, env });
process.exitCode = code;
