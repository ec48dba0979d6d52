import { expect, test } from 'vitest';
import { corpusRecipes, readInEveryWay, tryLog } from '../../../bench/mutate-log.mjs';
import * as room from '../src/runs/index.js';
import { LogIntake } from '../src/runs/log-intake.js';

/** Enough that every damage meets every log of the corpus; `bench/fuzz-logs.mjs` runs any number. */
const count = 2000;

test('a damaged log is read with every line accounted for, or refused by name, and the same in every way', () => {
  const runs = { ...room, readLog: readInEveryWay(LogIntake) };
  const recipes = corpusRecipes(runs);
  const seen = { read: 0, refused: 0, unfit: 0 };
  const faults: string[] = [];
  for (let seed = 1; seed <= count; seed++) {
    const { seen: outcomes, fault } = tryLog(runs, seed, recipes);
    if (fault !== null) faults.push(`seed ${seed}: ${fault}`);
    for (const outcome of outcomes) seen[outcome]++;
  }
  expect(faults).toEqual([]);
  // All roads are taken, or the test would prove nothing.
  expect(Math.min(seen.read, seen.refused, seen.unfit)).toBeGreaterThan(count / 20);
}, 120_000);
