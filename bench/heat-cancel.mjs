// @ts-check
/** How soon a heat command is gone after Ctrl-C while it solves: node bench/heat-cancel.mjs [turns]. It needs the built packages. */
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { noteGoal, printNoted } from './goals.mjs';

const turns = Number(process.argv[2] ?? 7);
const goal_ms = 100;
/** By then runs are read and the first set-ups are being solved; longer where the machine is busy. The whole takes many seconds. */
let into_ms = 2500;
const program = fileURLToPath(new URL('../packages/cli/bin/soakbench.mjs', import.meta.url));
const demo = fileURLToPath(new URL('../examples/reedling-r2', import.meta.url));

/** @type {number[]} */
const times_ms = [];
while (times_ms.length < turns) {
  const child = spawn(process.execPath, [program, 'heat', 'predict', demo], { stdio: 'ignore' });
  const gone = new Promise((resolve) => child.on('exit', resolve));
  await new Promise((resolve) => setTimeout(resolve, into_ms + 100 * times_ms.length));
  const from = performance.now();
  child.kill('SIGINT');
  const code = await gone;
  if (code === null && into_ms < 20_000) {
    into_ms *= 2;
    continue;
  }
  if (code !== 130) throw new Error(`heat predict ended with ${code} before or instead of being stopped.`);
  times_ms.push(performance.now() - from);
}
times_ms.sort((one, other) => one - other);
const [median = Number.NaN, worst = Number.NaN] = [times_ms[turns >> 1], times_ms.at(-1)];
console.log(
  `heat predict is gone ${median.toFixed(0)} ms after Ctrl-C, median of ${turns}; worst ${worst.toFixed(0)} ms`,
);
noteGoal(
  'heat, cancel',
  `${median.toFixed(0)} ms after Ctrl-C, worst ${worst.toFixed(0)}`,
  `${goal_ms} ms`,
  '',
  median <= goal_ms ? 'yes' : 'no',
);
printNoted();
