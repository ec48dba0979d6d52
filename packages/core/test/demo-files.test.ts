import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { filesOf } from '../../../examples/generator/files-of.mjs';
import { makeRandom } from '../../../examples/generator/noise.mjs';
import { demoSeed, makeBuild } from '../../../examples/generator/scenario.mjs';
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
    expect(Math.max(...levels_C)).toBeLessThan(75);
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
    expect(other.truth.untried).toEqual(made.truth.untried);
    expect(other.build.runs.map(({ setup }) => setup)).toEqual(build.runs.map(({ setup }) => setup));
    for (const [index, run] of other.build.runs.entries()) {
      expect(run.log.sha256).not.toBe(build.runs[index]?.log.sha256);
    }
  });

  test.each([0, -1, 1.5, Number.NaN, 2147483647])('refuses the seed %d', (seed) => {
    expect(() => makeBuild({ seed })).toThrow(/seed must be a whole number/);
  });
});
