import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { filesOf } from '../../../examples/generator/files-of.mjs';
import {
  idealMounting,
  makeNetwork,
  restingRise_K,
  timeConstants_s,
} from '../../../examples/generator/network.mjs';
import { makeRandom } from '../../../examples/generator/noise.mjs';
import { demoSeed, makeBuild } from '../../../examples/generator/scenario.mjs';
import { soak } from '../../../examples/generator/soak.mjs';
import { boilingPoint_C, stationFromSeaLevel_hPa } from '../src/probes/index.js';
import { readBuild } from '../src/records/index.js';
import { readLog } from '../src/runs/index.js';

const folder = new URL('../../../examples/reedling-r2/', import.meta.url);
const made = makeBuild();
const build = readBuild(readFileSync(new URL('build.json', folder), 'utf8'));

const bytesOf = (file: string) => new Uint8Array(readFileSync(new URL(file, folder)));
const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');

describe('the demo folder', () => {
  const files = filesOf(made);

  test('holds exactly the files that the generator makes', () => {
    const kept = readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map(({ parentPath, name }) => (/[\\/]logs[\\/]?$/.test(parentPath) ? `logs/${name}` : name));
    expect(kept.sort()).toEqual([...files.keys()].sort());
  });

  test.each([...files.keys()])('%s is what the generator writes, byte for byte', (file) => {
    expect(Buffer.compare(bytesOf(file), files.get(file) as Uint8Array)).toBe(0);
  });

  test('says "invented" in every record and in the name of every log', () => {
    expect(build.invented).toBe(true);
    expect(made.truth.invented).toBe(true);
    for (const run of build.runs) expect(run.log.file).toContain('invented');
  });

  test('the README of the examples tells what is true of every log and set-up', () => {
    // The formatter pads table cells.
    const readme = readFileSync(new URL('../README.md', folder), 'utf8').replace(/ +/g, ' ');
    for (const { setup, rises_K } of made.truth.setups) {
      const name = build.setups.find(({ id }) => id === setup)?.name;
      const { z1 = 0, c1 = 0, c2 = 0 } = rises_K.load;
      expect(readme).toContain(`| ${name} | ${z1.toFixed(2)} | ${c1.toFixed(2)} | ${c2.toFixed(2)} |`);
    }
    for (const run of build.runs) expect(readme).toContain(run.log.file);
  });
});

describe('each log', () => {
  test.each(build.runs)('$log.file has its checksum, and its recipe reads every row', (run) => {
    const bytes = bytesOf(`logs/${run.log.file}`);
    expect(sha256(bytes)).toBe(run.log.sha256);
    const truth = made.truth.runs.find((candidate: { run: string }) => candidate.run === run.id);
    const reading = readLog(bytes, run.recipe, run.log.file);

    expect(reading.after_s.length).toBe(truth.end_s / 10 + 1);
    // Minutes are written to four decimals, so a stamp may be off by 0.003 s.
    expect(Math.abs((reading.after_s.at(-1) ?? 0) - truth.end_s)).toBeLessThan(0.01);
    if (reading.startedAt !== null)
      expect(Date.parse(reading.startedAt)).toBe(Date.parse(run.startedAt ?? ''));
    expect(reading.channels.map(({ probe }) => probe).sort()).toEqual(['a', 'c1', 'c2', 'z1']);

    const silent = reading.channels.flatMap(({ reading_C }) => [...reading_C].filter(Number.isNaN));
    expect(silent).toHaveLength(truth.missingCells + (truth.dropout?.for_s ?? 0) / 10);
    const levels_C = reading.channels.flatMap(({ reading_C }) => [...reading_C].filter(Number.isFinite));
    expect(Math.min(...levels_C)).toBeGreaterThan(20);
    expect(Math.max(...levels_C)).toBeLessThan(70);
  });
});

describe('the generator', () => {
  // S. K. Park, K. W. Miller, Commun. ACM 31 (1988) 1192, p. 1195: from seed 1, the 10 000th number is 1043618065.
  test('draws the published numbers', () => {
    const random = makeRandom(1);
    let last = 0;
    // The first 40 are drawn and dropped before the generator is handed out.
    for (let draw = 41; draw <= 10_000; draw++) last = random.uniform();
    expect(Math.round(last * 2147483647)).toBe(1043618065);
  });

  // Conservation of energy: at rest, the shell gives the room what the zones and cells make; 0.394 W/K is its one way out.
  test.each(['bare', 'film', 'plate', 'strips'] as const)(
    'gives off all heat it makes at rest: %s',
    (setup) => {
      const heat = { zone_W: 2.9, board_W: 2.3, cell1_W: 0.3, cell2_W: 0.3 };
      const shell_K = restingRise_K(makeNetwork(setup), heat).at(-1) as number;
      expect(0.394 * shell_K).toBeCloseTo(5.8, 10);
    },
  );

  // Conservation of energy on the way: heat made is heat stored plus heat given off. The trapezoidal rule over the rows errs by
  // h^2/12 times the change of slope from end to end (Euler-Maclaurin): none at the start, where the shell is still at the
  // room's temperature, and 5.2 W / 1434 s x exp(-7200/1434) = 2.4e-5 W/s at the end, so 2e-4 J.
  test('keeps its books while warming up', () => {
    const network = makeNetwork('plate');
    const room_C = 20;
    const interval_s = 10;
    const rows = 721;
    const heat = { zone_W: 2.9, board_W: 2.3, cell1_W: 0, cell2_W: 0 };
    const history = soak(network, {
      start_C: network.capacity.map(() => room_C),
      room_C: () => room_C,
      heat: () => heat,
      rows,
      interval_s,
    });
    const stored_J = network.capacity.reduce(
      (sum: number, capacity: number, node: number) =>
        sum + capacity * ((history.at(-1)?.[node] as number) - room_C),
      0,
    );
    const given_J = history.reduce((sum, levels_C, row) => {
      const weight = row === 0 || row === rows - 1 ? 0.5 : 1;
      return sum + weight * interval_s * 0.394 * ((levels_C.at(-1) as number) - room_C);
    }, 0);
    expect(Math.abs(stored_J + given_J - 5.2 * 7200)).toBeLessThan(4e-4);
  });

  test('settles at its resting rises, at the rate of its slowest time constant', () => {
    const network = makeNetwork('bare', idealMounting);
    const heat = { zone_W: 2.9, board_W: 2.3, cell1_W: 0, cell2_W: 0 };
    const rest_K = restingRise_K(network, heat);
    const [slowest_s = 0] = timeConstants_s(network);
    const history = soak(network, {
      start_C: rest_K.map(() => 0),
      room_C: () => 0,
      heat: () => heat,
      rows: 3001,
      interval_s: 10,
    });
    const toGo_K = (after_s: number) => (rest_K[3] as number) - (history[after_s / 10]?.[3] as number);
    // Twenty time constants leave 2e-9 of the step.
    expect(Math.abs(toGo_K(30_000))).toBeLessThan(1e-6);
    // After two hours only the slowest mode is left, and its decay gives its time constant back.
    expect(1200 / Math.log(toGo_K(7200) / toGo_K(8400))).toBeCloseTo(slowest_s, 1);
  });

  // ISO 2533 and IAPWS R7-97, as the probe check itself computes them.
  test('boiled its water at the boiling point of its kettle', () => {
    const reference = made.build.probeChecks[0]?.points[1]?.reference;
    if (reference?.kind !== 'boiling')
      throw new Error('the second point of the probe check is not boiling water');
    const station_hPa = stationFromSeaLevel_hPa(reference.seaLevel_hPa ?? 0, reference.altitude_m ?? 0);
    expect(Math.abs(boilingPoint_C(station_hPa) - 98.5)).toBeLessThan(0.005);
  });

  test('keeps the set-ups and changes the chance when the seed changes', () => {
    const other = makeBuild({ seed: demoSeed + 1 });
    expect(other.truth.setups).toEqual(made.truth.setups);
    expect(other.build.runs.map(({ setup }) => setup)).toEqual(build.runs.map(({ setup }) => setup));
    for (const [index, run] of other.build.runs.entries()) {
      expect(run.log.sha256).not.toBe(build.runs[index]?.log.sha256);
    }
  });

  test.each([0, -1, 1.5, Number.NaN, 2147483647])('refuses the seed %d', (seed) => {
    expect(() => makeBuild({ seed })).toThrow(/seed must be a whole number/);
  });
});
