// @ts-check
/**
 * Reading a 100 MB two-channel ISO log, against the fastest of several generic parsers for JavaScript and against the CSV
 * reader of a general analytical database with one thread. All do the same work: bytes in memory to three columns of
 * 64-bit numbers in JavaScript, the time in seconds and two temperatures. They take turns in one process; medians
 * and ratios are printed, whether or not they reach what we want. Run it with: node bench/read-log.mjs [MB]
 *
 * The others are no part of Soakbench: they are installed into `bench/node_modules` when this is first run.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { readLog, sniffLog } from '../packages/core/dist/runs/index.js';
import { noteGoal, printNoted } from './goals.mjs';

const here = fileURLToPath(new URL('.', import.meta.url));
const wanted_bytes = Number(process.argv[2] ?? 100) * 1e6;
const passes = 5;

if (!existsSync(path.join(here, 'node_modules'))) {
  console.error('installing what to measure against into bench/node_modules ...');
  const install = spawnSync('npm', ['install', '--no-audit', '--no-fund', '--no-package-lock'], {
    cwd: here,
    stdio: 'inherit',
  });
  if (install.status !== 0)
    throw new Error('npm install in bench/ failed; the bench needs the registry once.');
}
const need = createRequire(path.join(here, 'package.json'));

const bytes = writeLog();
const folder = mkdtempSync(path.join(tmpdir(), 'soakbench-bench-'));
const file = path.join(folder, 'long.csv');
writeFileSync(file, bytes);

/** A run logged at ten readings a second, with stamps to the millisecond. */
function writeLog() {
  const encoder = new TextEncoder();
  const start_ms = Date.UTC(2024, 4, 1);
  const parts = [encoder.encode('time,pack (°C),room (°C)\n')];
  let size = 0;
  for (let row = 0; size < wanted_bytes; ) {
    let text = '';
    for (let next = 0; next < 10_000; next++, row++) {
      const stamp = new Date(start_ms + row * 100).toISOString();
      text += `${stamp},${(20 + (row % 9973) / 400).toFixed(3)},${(24 + (row % 97) / 500).toFixed(3)}\n`;
    }
    const part = encoder.encode(text);
    parts.push(part);
    size += part.length;
  }
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** @typedef {{ rows: number, sum: number }} Answer what a reader came to, so that none can leave work out */

/** @param {ArrayLike<number>[]} columns @returns {Answer} */
function answerOf(columns) {
  const [time, ...readings] = columns.map((column) => ({ column, rows: column.length }));
  let sum = 0;
  for (const { column, rows } of readings) for (let row = 0; row < rows; row++) sum += column[row] ?? 0;
  const rows = time?.rows ?? 0;
  return { rows, sum: sum + ((time?.column[rows - 1] ?? 0) - (time?.column[0] ?? 0)) };
}

class Columns {
  time = [];
  one = [];
  other = [];
  /** @param {string} stamp @param {string} one @param {string} other */
  push(stamp, one, other) {
    /** @type {number[]} */ (this.time).push(Date.parse(stamp) / 1000);
    /** @type {number[]} */ (this.one).push(Number(one));
    /** @type {number[]} */ (this.other).push(Number(other));
  }
  typed() {
    return [this.time, this.one, this.other].map((column) => Float64Array.from(column));
  }
}

const { recipe } = sniffLog(bytes, { file: 'long.csv', probes: [] });
const papa = need('papaparse');
const dsv = need('d3-dsv');
const { parse: csvParse } = need('csv-parse');
const udsv = need('udsv');
const duck = need('@duckdb/node-api');
const database = await duck.DuckDBInstance.create(':memory:', { threads: '1' });
const connection = await database.connect();

/** @type {{ name: string, kind: 'ours' | 'script' | 'database', read: () => ArrayLike<number>[] | Promise<ArrayLike<number>[]> }[]} */
const readers = [
  {
    name: 'readLog',
    kind: 'ours',
    read: () => {
      const { after_s, channels } = readLog(bytes, recipe, 'long.csv');
      return [after_s, ...channels.map(({ reading_C }) => reading_C)];
    },
  },
  {
    name: `papaparse ${need('papaparse/package.json').version}`,
    kind: 'script',
    read: () => {
      const columns = new Columns();
      let isHeader = true;
      papa.parse(new TextDecoder().decode(bytes), {
        fastMode: true,
        skipEmptyLines: true,
        step: (/** @type {{ data: [string, string, string] }} */ { data }) => {
          if (!isHeader) columns.push(...data);
          isHeader = false;
        },
      });
      return columns.typed();
    },
  },
  {
    name: 'd3-dsv 3',
    kind: 'script',
    read: () => {
      const columns = new Columns();
      dsv.csvParseRows(
        new TextDecoder().decode(bytes),
        (/** @type {[string, string, string]} */ row, /** @type {number} */ index) => {
          if (index > 0) columns.push(...row);
          return null;
        },
      );
      return columns.typed();
    },
  },
  {
    name: 'csv-parse',
    kind: 'script',
    read: async () => {
      const columns = new Columns();
      const parser = csvParse({ from_line: 2 });
      const done = (async () => {
        for await (const [stamp, one, other] of parser) columns.push(stamp, one, other);
      })();
      for (let at = 0; at < bytes.length; at += 1_048_576) {
        if (!parser.write(Buffer.from(bytes.subarray(at, at + 1_048_576))))
          await new Promise((resolve) => parser.once('drain', resolve));
      }
      parser.end();
      await done;
      return columns.typed();
    },
  },
  {
    name: 'udsv, typed columns',
    kind: 'script',
    read: () => {
      const text = new TextDecoder().decode(bytes);
      const schema = udsv.inferSchema(text.slice(0, 4000));
      schema.cols[0].type = 't';
      const [time, one, other] = udsv.initParser(schema).typedCols(text);
      return [
        Float64Array.from(time, (/** @type {number} */ at_ms) => at_ms / 1000),
        Float64Array.from(one),
        Float64Array.from(other),
      ];
    },
  },
  {
    name: `duckdb ${need('@duckdb/node-api/package.json').version}, 1 thread`,
    kind: 'database',
    read: async () => {
      // Times as seconds and readings as doubles, fetched column by column without a value being made an object.
      const result = await connection.stream(
        `SELECT epoch(time)::DOUBLE, pack, room FROM read_csv('${file}', header = true, delim = ',', quote = '', escape = '',
         columns = {'time': 'TIMESTAMP', 'pack': 'DOUBLE', 'room': 'DOUBLE'})`,
      );
      /** @type {Float64Array[][]} */
      const parts = [[], [], []];
      for (
        let chunk = await result.fetchChunk();
        chunk && chunk.rowCount > 0;
        chunk = await result.fetchChunk()
      ) {
        for (const [index, part] of parts.entries()) part.push(chunk.getColumnVector(index).items.slice());
      }
      return parts.map((part) => {
        const column = new Float64Array(part.reduce((sum, each) => sum + each.length, 0));
        let at = 0;
        for (const each of part) {
          column.set(each, at);
          at += each.length;
        }
        return column;
      });
    },
  },
];

/** @param {number[]} values */
const median = (values) => [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;

/** @typedef {{ wall_s: number, processor_s: number }} Turn */
/** @type {Map<string, Turn[]>} */
const times = new Map(readers.map(({ name }) => [name, []]));
/** @type {Map<string, Answer>} */
const answers = new Map();
try {
  for (let pass = 0; pass < passes; pass++) {
    for (const { name, read, kind } of readers) {
      // The slow ones take ten seconds a turn; three turns tell their median well enough.
      if (kind === 'script' && pass >= 3) continue;
      const begin = performance.now();
      const processor = process.cpuUsage();
      const columns = await read();
      const { user, system } = process.cpuUsage(processor);
      times
        .get(name)
        ?.push({ wall_s: (performance.now() - begin) / 1000, processor_s: (user + system) / 1e6 });
      answers.set(name, answerOf(columns));
    }
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** @param {string} name @param {keyof Turn} clock */
const medianOf = (name, clock) => median((times.get(name) ?? []).map((turn) => turn[clock]));
const megabytes = bytes.length / 1e6;
const ours = answers.get('readLog');
console.log(
  `${megabytes.toFixed(1)} MB, ${ours?.rows} rows; Node ${process.version}; medians of ${passes} turns, generic parsers of 3`,
);
console.log(`${''.padEnd(30)}  on the clock         processor time`);
for (const { name } of readers) {
  const answer = answers.get(name);
  const agrees = answer?.rows === ours?.rows && Math.abs((answer?.sum ?? 0) - (ours?.sum ?? 0)) < 1e-3;
  const cells = /** @type {const} */ (['wall_s', 'processor_s']).map((clock) => {
    const time_s = medianOf(name, clock);
    return `${time_s.toFixed(2).padStart(6)} s ${(megabytes / time_s).toFixed(0).padStart(4)} MB/s`;
  });
  console.log(`${name.padEnd(30)} ${cells.join('   ')}${agrees ? '' : '   ANOTHER ANSWER'}`);
}
// Where the machine is shared the clock tells how busy it is; the processor time does so less.
for (const [words, kind, goal] of /** @type {const} */ ([
  ['the fastest generic parser', 'script', 9],
  ['the database, one thread', 'database', 2.3],
])) {
  const names = readers.filter((reader) => reader.kind === kind).map(({ name }) => name);
  const [wall, processor] = /** @type {const} */ (['wall_s', 'processor_s']).map(
    (clock) => Math.min(...names.map((name) => medianOf(name, clock))) / medianOf('readLog', clock),
  );
  const reached = (wall ?? 0) >= goal && (processor ?? 0) >= goal;
  console.log(
    `times as fast as ${words}: ${wall?.toFixed(1)} on the clock, ${processor?.toFixed(1)} in processor time (goal ${goal}: ${reached ? 'reached' : 'not reached'})`,
  );
  noteGoal(
    'log of 100 MB',
    `${(megabytes / medianOf('readLog', 'wall_s')).toFixed(0)} MB/s`,
    `${goal} times`,
    words,
    `${wall?.toFixed(1)} times on the clock, ${processor?.toFixed(1)} in processor time`,
  );
}
printNoted();
console.log(`resident at the end, all readers: ${(process.memoryUsage().rss / 1e6).toFixed(0)} MB`);
