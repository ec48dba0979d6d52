// @ts-check
/**
 * Reads damaged logs by the thousand: `node bench/fuzz-logs.mjs [count] [first seed] [most seconds]`. Each is sniffed and read, and read by the recipe
 * of the log it was made from, by the general reader and by both engines for plain rows. Stops at the first log that is neither
 * read with every line accounted for nor refused by name, or not alike in all three ways.
 */
import * as room from '../packages/core/dist/runs/index.js';
import { LogIntake } from '../packages/core/dist/runs/log-intake.js';
import { corpusRecipes, damagedLog, readInEveryWay, tryLog } from './mutate-log.mjs';

const count = Number(process.argv[2] ?? 10_000);
const first = Number(process.argv[3] ?? 1);
const most_s = Number(process.argv[4] ?? Number.POSITIVE_INFINITY);
/** A log of a few kilobytes that takes longer than this hangs for practical purposes, s. */
const longest_s = 5;

const runs = { ...room, readLog: readInEveryWay(LogIntake) };
const tally = { read: 0, refused: 0, unfit: 0 };
let slowest = { seed: 0, took_s: 0 };
const recipes = corpusRecipes(runs);
const begin = performance.now();
let done = 0;
for (let seed = first; seed < first + count; seed++) {
  if ((performance.now() - begin) / 1000 > most_s) break;
  const started = performance.now();
  const { seen, fault } = tryLog(runs, seed, recipes);
  const took_s = (performance.now() - started) / 1000;
  if (took_s > slowest.took_s) slowest = { seed, took_s };
  if (fault !== null || took_s > longest_s) {
    console.error(`seed ${seed}, ${took_s.toFixed(2)} s: ${fault ?? 'too slow'}`);
    console.error(JSON.stringify(Buffer.from(damagedLog(seed).bytes).toString('latin1')));
    process.exitCode = 1;
    break;
  }
  for (const outcome of seen) tally[outcome]++;
  done++;
}
const took_s = (performance.now() - begin) / 1000;
console.log(
  `${done} damaged logs in ${took_s.toFixed(0)} s, ${(done / took_s).toFixed(0)} a second; a million take ${(1e6 / (done / took_s) / 60).toFixed(0)} min`,
);
console.log(
  `read ${tally.read}, refused by the sniffer or the reader ${tally.refused}, not fit for the recipe of its origin ${tally.unfit}`,
);
console.log(`slowest ${(slowest.took_s * 1000).toFixed(0)} ms, seed ${slowest.seed}`);
