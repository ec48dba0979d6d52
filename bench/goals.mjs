// @ts-check
/**
 * What the benches are held to, as one table. Each bench notes its figures; run by itself it prints those, and run by
 * bench/all.mjs it leaves them in a file, from which all are printed at the end.
 *
 * @typedef {{ goal: string, figure: string, wanted: string, reference: string, reached: string }} GoalRow
 */
import { appendFileSync, readFileSync } from 'node:fs';
import process from 'node:process';

const file = process.env['SOAKBENCH_GOALS'];
/** @type {GoalRow[]} */
const noted = [];

/**
 * @param {string} goal what it is about, in a word or two
 * @param {string} figure what was measured
 * @param {string} wanted at least, and better
 * @param {string} reference what it is held against, or why that was skipped
 * @param {string} reached a ratio, or yes or no
 */
export function noteGoal(goal, figure, wanted, reference, reached) {
  const row = { goal, figure, wanted, reference, reached };
  noted.push(row);
  if (file) appendFileSync(file, `${JSON.stringify(row)}\n`);
}

/** Prints what this bench noted, unless another will print all. */
export function printNoted() {
  if (!file) printGoals(noted);
}

/** @param {string} from @returns {GoalRow[]} */
export function readGoals(from) {
  return readFileSync(from, 'utf8')
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line));
}

/** @param {readonly GoalRow[]} rows */
export function printGoals(rows) {
  const head = {
    goal: 'goal',
    figure: 'figure',
    wanted: 'wanted',
    reference: 'reference',
    reached: 'reached',
  };
  const keys = /** @type {(keyof GoalRow)[]} */ (Object.keys(head));
  const all = [head, ...rows];
  const widths = keys.map((key) => Math.max(...all.map((row) => row[key].length)));
  console.log('');
  for (const row of all) {
    console.log(
      keys
        .map((key, at) => row[key].padEnd(Number(widths[at]) + 2))
        .join('')
        .trimEnd(),
    );
  }
}
