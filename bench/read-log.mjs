// @ts-check
/** Reading a long log against the same text split by the language itself, in turn, in one process. */
import { readLog, sniffLog } from '../packages/core/dist/runs/index.js';

const rows = 200_000;
const passes = 5;
const start_ms = Date.UTC(2024, 4, 1);
const lines = ['time,a (°C),b (°C),c (°C),d (°C)'];
for (let row = 0; row < rows; row++) {
  const level = (20 + (row % 997) / 40).toFixed(2);
  lines.push(`${new Date(start_ms + row * 1000).toISOString()},${level},${level},${level},${level}`);
}
const bytes = new TextEncoder().encode(lines.join('\n'));
const { recipe } = sniffLog(bytes, { file: 'long.csv', probes: [] });

/** The least a reader could do: decode, split, parse; no fault is found, no row is checked. */
function readPlainly() {
  let sum = 0;
  for (const line of new TextDecoder().decode(bytes).split('\n').slice(1)) {
    const [stamp, ...cells] = line.split(',');
    sum += Date.parse(stamp ?? '');
    for (const cell of cells) sum += Number(cell);
  }
  return sum;
}

/** @param {() => unknown} work @returns {number} s */
function time(work) {
  const begin = performance.now();
  work();
  return (performance.now() - begin) / 1000;
}

/** @param {number[]} values */
const median = (values) => [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;

const times = Array.from({ length: passes }, () => ({
  ours: time(() => readLog(bytes, recipe, 'long.csv')),
  plain: time(readPlainly),
}));
const megabytes = bytes.length / 1e6;
console.log(
  `read-log               ${(megabytes / median(times.map((t) => t.ours))).toFixed(0)} MB/s, median of ${passes}, ${megabytes.toFixed(0)} MB`,
);
console.log(
  `split by the language  ${(megabytes / median(times.map((t) => t.plain))).toFixed(0)} MB/s, nothing checked`,
);
console.log(`ratio of times         ${median(times.map((t) => t.ours / t.plain)).toFixed(2)}`);
