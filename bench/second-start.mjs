// @ts-check
/** From the start of `soakbench serve --demo` to the line with the address, with the store and the demo already there. */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'soakbench-bench-'));
const args = [
  'packages/cli/bin/soakbench.mjs',
  'serve',
  '--demo',
  '--no-open',
  '--port',
  '0',
  '--store',
  join(folder, 'b.sqlite'),
];

/** @returns {Promise<number>} s */
async function start() {
  const begin = performance.now();
  const server = spawn(process.execPath, args, { cwd: root, stdio: ['ignore', 'pipe', 'ignore'] });
  await new Promise((resolve) => server.stdout.once('data', resolve));
  const took = (performance.now() - begin) / 1000;
  const ended = new Promise((resolve) => server.once('exit', resolve));
  server.kill('SIGTERM');
  await ended;
  return took;
}

await start(); // makes the store
const times = [];
for (let pass = 0; pass < 5; pass++) times.push(await start());
rmSync(folder, { recursive: true, force: true });
times.sort((a, b) => a - b);
console.log(`second start           ${times[2]?.toFixed(2)} s to the address, median of 5 (goal: under 3 s)`);
