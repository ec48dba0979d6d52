/** The probe check on the command line: how often each probe was read in a bath, and how far its readings scatter. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Build, writeBuild } from '@soakbench/core/records';
import { expect, test } from 'vitest';
import { copyDemo, makeFolder, patience_ms, runCli } from './run-cli.js';

test('tells how many readings a probe has in each bath, and their scatter', {
  timeout: patience_ms,
}, async () => {
  const copy = copyDemo(makeFolder());
  const file = join(copy, 'build.json');
  const build = JSON.parse(readFileSync(file, 'utf8')) as Build;
  const readings = [0.2, 0.5, 0.3].map((reading_C) => ({ probe: 'z1', reading_C }));
  const points = [
    { reference: { kind: 'ice' as const }, readings: [...readings, { probe: 'c1', reading_C: -0.1 }] },
  ];
  writeFileSync(file, writeBuild({ ...build, probeChecks: [{ id: 'evening', model: 'offset', points }] }));

  const { stdout } = await runCli(['probes', 'check', copy]);
  const rowOf = (probe: string) =>
    stdout.split('\n').find((line) => line.includes(probe) && /\btimes?\b/.test(line));
  // By hand: mean 1.0/3, deviations −0.133, 0.167 and −0.033 K, so √((0.0178 + 0.0278 + 0.0011) / 2) = 0.153 K.
  expect(rowOf('Z1')).toMatch(/3 times +0\.33 +0\.15 .*0\.20, 0\.50, 0\.30$/);
  expect(rowOf('C1')).toMatch(/1 time +−0\.10 +0\.00 +−0\.10$/);

  const { probes } = JSON.parse((await runCli(['probes', 'check', copy, '--json'])).stdout);
  expect(probes.baths).toMatchObject([
    { probe: 'z1', check: 'evening', bath: 1, readings_C: [0.2, 0.5, 0.3] },
    { probe: 'c1', readings_C: [-0.1], scatter_K: null },
  ]);
  expect(probes.baths[0].scatter_K).toBeCloseTo(0.152753, 6);
});

test('makes a temperature of a signal, and refuses one of a probe without a sensor', {
  timeout: patience_ms,
}, async () => {
  const copy = copyDemo(makeFolder());
  const file = join(copy, 'build.json');
  const build = JSON.parse(readFileSync(file, 'utf8')) as Build;
  const check = (probe: string): Build['probeChecks'][number] => ({
    id: 'evening',
    model: 'offset',
    points: [
      {
        reference: { kind: 'reference', reference_C: 100, u_K: 0.1 },
        readings: [{ probe, reading_mV: 3.096, terminals_C: 25 }],
      },
    ],
  });
  const write = (id: string) =>
    writeFileSync(
      file,
      writeBuild({
        ...build,
        probes: build.probes.map(({ sensor: _, ...probe }) =>
          probe.id === 'c1' ? { ...probe, sensor: { kind: 'thermocouple', type: 'K' } } : probe,
        ),
        probeChecks: [check(id)],
      }),
    );

  // [NIST-MONO-175], type K: 4.096 mV at 100 °C less 1.000 mV at the terminals' 25 °C, each rounded to a microvolt: within 0.03 K.
  write('c1');
  const { stdout, code } = await runCli(['probes', 'check', copy]);
  expect(code).toBe(0);
  const told = /(\d+\.\d+) \(3\.096 mV\)/.exec(stdout)?.[1];
  expect(Math.abs(Number(told) - 100)).toBeLessThan(0.03);

  write('c2');
  const refused = await runCli(['probes', 'check', copy]);
  expect(refused.code).toBe(2);
  expect(refused.stderr.replace(/\s+/g, ' ')).toContain(
    'probe check evening, point 1, reading 1: 3.096 mV was read, and probe "c2" does not state what sensor',
  );
});
