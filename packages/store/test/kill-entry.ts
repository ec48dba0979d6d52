/**
 * A process that kills itself just before the n-th thing it asks of the database.
 * Usage: node kill-entry.mjs open|import STORE N
 */
import { writeSync } from 'node:fs';
import { type Driver, openDriver } from '../src/driver.js';
import { openStoreOn } from '../src/store.js';
import { logBytes, sampleBuild, sampleRun } from './sample-build.js';

const [, , work, file = '', count] = process.argv;
let left = Number.POSITIVE_INFINITY;

function step(): void {
  left -= 1;
  if (left === 0) process.kill(process.pid, 'SIGKILL');
}

/** The driver itself, counted. */
function counted(driver: Driver): Driver {
  return {
    ...driver,
    exec(sql) {
      step();
      driver.exec(sql);
    },
    prepare(sql) {
      const statement = driver.prepare(sql);
      const count =
        <A extends unknown[], R>(call: (...values: A) => R) =>
        (...values: A) => {
          step();
          return call(...values);
        };
      return { run: count(statement.run), get: count(statement.get), all: count(statement.all) };
    },
  };
}

const driver = counted(await openDriver(file));
if (work === 'open') left = Number(count);
const store = openStoreOn(driver, file);
if (work === 'import') {
  const bytes = logBytes('t,cell\n0,20\n');
  left = Number(count);
  store.importRun(sampleBuild('one', [sampleRun('r1', 'a.csv', bytes)]), 1, 'a.csv', bytes);
}
left = Number.POSITIVE_INFINITY;
writeSync(1, 'acknowledged');
