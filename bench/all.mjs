// @ts-check
/** All benches one after the other, and at the end everything they are held to as one table: npm run bench. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { printGoals, readGoals } from './goals.mjs';

const benches = [
  ['verdict'],
  ['second-start'],
  ['quantiles'],
  ['read-log'],
  ['drop-log'],
  ['life'],
  ['heat-solve'],
  ['heat-cancel'],
  ['heat-explore'],
  ['heat-page'],
  ['life-page'],
];
/** Minutes long, and about what is true rather than what is fast: run by themselves. */
const apart = ['heat-coverage [devices] [full]', 'error-rates', 'flag-rates', 'fuzz-logs', 'log-corpus'];

const folder = mkdtempSync(path.join(tmpdir(), 'soakbench-goals-'));
const file = path.join(folder, 'goals');
writeFileSync(file, '');
/** @type {string[]} */
const failed = [];
for (const [name = '', ...words] of benches) {
  console.log(`\n== ${name}`);
  const script = fileURLToPath(new URL(`${name}.mjs`, import.meta.url));
  const { status } = spawnSync(process.execPath, [script, ...words], {
    stdio: 'inherit',
    env: { ...process.env, SOAKBENCH_GOALS: file },
  });
  if (status !== 0) failed.push(name);
}
printGoals(readGoals(file));
console.log(`\nrun apart, as node bench/NAME.mjs: ${apart.join(', ')}`);
if (failed.length > 0) {
  console.log(`failed: ${failed.join(', ')}`);
  process.exitCode = 1;
}
rmSync(folder, { recursive: true });
