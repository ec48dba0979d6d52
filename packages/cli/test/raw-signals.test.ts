import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeSensor } from '@soakbench/core/probes';
import { type Build, readBuild, type SensorFacts, writeBuild } from '@soakbench/core/records';
import { readLog } from '@soakbench/core/runs';
import { readFolder } from '@soakbench/store';
import { describe, expect, test } from 'vitest';
import { copyDemo, demo, makeFolder, patience_ms, runCli } from './run-cli.js';

const terminals_C = 24.3;
const sensors: Readonly<Record<string, SensorFacts>> = {
  c1: { kind: 'thermocouple', type: 'K', class: '2', coldJunction: { kind: 'logged' } },
  z1: { kind: 'thermocouple', type: 'T', class: '1', coldJunction: { kind: 'logged' } },
  a: { kind: 'platinum', element: 'Pt100', class: 'B' },
};

/** The demo with sensors on its probes, without one of its runs, and that run's log as the raw signals they would have given. */
function makeRaw() {
  const copy = copyDemo(makeFolder(), 'raw');
  const { build, logOf } = readFolder(copy);
  const run = build.runs.find(({ id }) => id === 'run-01') as Build['runs'][number];
  const reading = readLog(logOf(run.log.file) ?? new Uint8Array(), run.recipe, run.log.file);
  const used = reading.channels.filter(({ probe }) => probe !== undefined && sensors[probe] !== undefined);
  const columns = used.map(({ probe, reading_C }) => {
    const made = makeSensor(sensors[probe as string] as SensorFacts);
    if (!made.ok) throw new Error(made.reason.what);
    const sensor = made.value;
    return {
      head: `${probe} (${sensor.unit})`,
      cells: [...reading_C].map((t_C) =>
        Number.isNaN(t_C) ? '' : sensor.signalAt(t_C, terminals_C).toFixed(9),
      ),
    };
  });
  const head = ['elapsed s', ...columns.map((column) => column.head), 'cold junction (°C)'].join(';');
  const rows = [...reading.after_s].map((after_s, row) =>
    [after_s, ...columns.map(({ cells }) => cells[row]), terminals_C].join(';'),
  );
  const log = join(copy, 'raw.csv');
  writeFileSync(log, `${[head, ...rows].join('\n')}\n`);
  writeFileSync(
    join(copy, 'build.json'),
    writeBuild({
      ...build,
      runs: build.runs.filter(({ id }) => id !== 'run-01'),
      probes: build.probes.map(({ maker_u_K: _, ...probe }) => {
        const sensor = sensors[probe.id];
        return sensor === undefined ? probe : { ...probe, sensor };
      }),
    }),
  );
  return { copy, log, run };
}

describe('a log of raw signals', { timeout: patience_ms }, () => {
  const { copy, log, run } = makeRaw();
  const facts = ['--setup', run.setup, '--session', run.session, '--mounting', run.mounting];

  test('is understood by its header, and gives the plateaus of the temperatures it was made from', async () => {
    const raw = await runCli(['runs', 'import', copy, log, ...facts, '--dry-run', '--json']);
    expect(raw.stderr).toBe('');
    const answer = JSON.parse(raw.stdout);
    expect(answer.recipe.channels).toContainEqual({
      column: 1,
      header: expect.any(String),
      probe: expect.any(String),
      unit: expect.stringMatching(/mV|ohm/),
    });
    expect(answer.recipe.channels.at(-1)).toMatchObject({ unit: 'C', coldJunction: true });

    // The same readings, once through the signals and back: nanovolts rounded off are less than a millikelvin.
    const there = await runCli(['runs', 'show', demo, 'run-01', '--json']);
    const original = JSON.parse(there.stdout).runs.runs[0];
    for (const { probe, phase, result } of answer.result.plateaus) {
      const same = original.plateaus.find(
        (plateau: { probe: string; phase: string }) => plateau.probe === probe && plateau.phase === phase,
      );
      expect(result.ok).toBe(same.result.ok);
      if (result.ok) expect(result.value.rise_K.value).toBeCloseTo(same.result.value.rise_K.value, 3);
    }
    expect(answer.result.plateaus.length).toBeGreaterThanOrEqual(4);
  });

  test('is read in the unit that is said, however it is typed', async () => {
    const command = ['runs', 'import', copy, log, ...facts, '--dry-run', '--json'];
    for (const unit of ['µV', 'uv']) {
      const { code, stdout } = await runCli([...command, '--unit', `2=${unit}`]);
      expect(code).toBe(0);
      expect(JSON.parse(stdout).recipe.channels[0].unit).toBe('uV');
    }
    const { code, stderr } = await runCli([...command, '--unit', '2=furlongs']);
    expect(code).toBe(2);
    expect(stderr).toContain('C, F, K, mV, uV, ohm or kohm');
  });

  test('is refused with a remedy where a probe states no sensor', async () => {
    const file = join(copy, 'build.json');
    const before = readFileSync(file, 'utf8');
    const build = readBuild(before);
    writeFileSync(
      file,
      writeBuild({ ...build, probes: build.probes.map(({ sensor: _, ...probe }) => probe) }),
    );
    const { code, stderr } = await runCli(['runs', 'import', copy, log, ...facts, '--dry-run']);
    writeFileSync(file, before);
    expect(code).toBe(2);
    expect(stderr.replace(/\s+/g, ' ')).toContain('does not state what sensor makes a temperature of it');
    expect(stderr).toContain('State the sensor');
  });

  test('has its sensors told by the probe check, in words and in JSON', async () => {
    const { stdout } = await runCli(['probes', 'check', copy]);
    const text = stdout.replace(/\s+/g, ' ');
    expect(text).toContain('Type K thermocouple, class 2, cold junction logged');
    expect(text).toContain('Pt100, class B');
    const json = JSON.parse((await runCli(['probes', 'check', copy, '--json'])).stdout);
    expect(json.probes.sensors.find(({ probe }: { probe: string }) => probe === 'c1')).toMatchObject({
      signal: 'mV',
      tolerance_K: 2.5,
      source: 'NIST-MONO-175',
    });
  });
});
