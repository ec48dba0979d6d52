// @ts-check
/**
 * Processor time of a whole `soakbench verdict` on the demo, against a Node that starts and ends, in pairs, so that a slow
 * moment of the machine hits both. Prints medians and their ratio. Run it with: npm run bench
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const pairs = 9;

/** @param {string[]} args @returns {number} user and system time of the process, s */
function processorTime(args) {
  const { stderr } = spawnSync(process.execPath, ['--import', './bench/report-processor-time.mjs', ...args], {
    cwd: root,
    encoding: 'utf8',
  });
  return Number(/processor time (\d+) us/.exec(stderr)?.[1]) / 1e6;
}

/** @param {number[]} values */
const median = (values) => [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;

const verdict = ['packages/cli/bin/soakbench.mjs', 'verdict', 'examples/reedling-r2'];
const nothing = ['--eval', '0'];
processorTime(verdict); // the first run warms the file cache
const times = Array.from({ length: pairs }, () => ({
  verdict: processorTime(verdict),
  nothing: processorTime(nothing),
}));
const [ours, theirs] = [median(times.map((t) => t.verdict)), median(times.map((t) => t.nothing))];
console.log(
  `verdict on the demo   ${ours.toFixed(2)} s of processor time, median of ${pairs} (goal: under 1 s)`,
);
console.log(`node that does nothing ${theirs.toFixed(2)} s`);
console.log(`ratio                 ${median(times.map((t) => t.verdict / t.nothing)).toFixed(1)}`);
