import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { presentLife } from '@soakbench/core/life';
import { plainText } from '@soakbench/core/measure';
import { assessBuild, forecastBuild } from '@soakbench/core/verdict';
import { readFolder } from '@soakbench/store';
import { describe, expect, test } from 'vitest';
import { copyDemo, makeFolder, patience_ms, runCli } from './run-cli.js';

/** The demo with the pack's chemistry changed, and its duty where one is given. */
function demoOf(chemistry: string, duty: object = {}): string {
  const folder = copyDemo(makeFolder());
  const file = join(folder, 'build.json');
  const build = JSON.parse(readFileSync(file, 'utf8'));
  build.newPack.chemistry = chemistry;
  build.dutyYear = { ...build.dutyYear, ...duty };
  writeFileSync(file, JSON.stringify(build));
  return folder;
}
const soft = (text: string) => text.replace(/\s+/g, ' ');
const few = ['--draws', '200', '--seed', '7'];

describe('life', { timeout: patience_ms }, () => {
  test('says first which set-up lasts longest, then years, cells, models and cautions', async () => {
    const folder = demoOf('LCO');
    const { build, logOf } = readFolder(folder);
    const made = forecastBuild(build, assessBuild(build, logOf), { draws: 200, seed: 7 });
    if (!made.ok) throw new Error(made.reason.kind);
    const view = presentLife(made.value.forecast);
    const { code, stdout, stderr } = await runCli(['life', folder, ...few]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const text = soft(stdout);
    expect(text.startsWith(soft(plainText(view.answer)))).toBe(true);
    for (const part of [...view.rows.map(({ years }) => years), view.whyDiffer, ...view.cautions])
      expect(text).toContain(soft(part));
    expect(text).toMatch(/By cell .* Why do models differ\? .* Taken for granted/);
    expect(text).not.toContain('What if');
  });

  test('holds other habits against this one where asked, as JSON with the same figures', async () => {
    const folder = demoOf('LCO');
    const asked = ['life', folder, ...few, '--what-ifs', '--setup', 'strips'];
    const { stdout } = await runCli(asked);
    expect(soft(stdout)).toMatch(/What if, in plate on strips .* charge to 80 %/);
    const json = JSON.parse((await runCli([...asked, '--json'])).stdout);
    expect(json.noForecast).toBeNull();
    expect(json.whatIfs.setup).toBe('strips');
    expect(json.forecast.setups).toHaveLength(4);
    expect(json.life.rows).toHaveLength(4);
    expect(json.assumed.length).toBeGreaterThan(0);
  });

  test('counts with the use that a log shows, and names the line of one that cannot be read', async () => {
    const folder = demoOf('LCO');
    const log = join(makeFolder(), 'use.csv');
    const rows = Array.from({ length: 2 * 144 }, (_, i) => `${600 * i},${i % 144 < 18 ? 4 : 0.02}`);
    writeFileSync(log, `time (s),power (W)\n${rows.join('\n')}\n`);
    const { code, stdout } = await runCli(['life', folder, ...few, '--use-log', log, '--json']);
    expect(code).toBe(0);
    const json = JSON.parse(stdout);
    expect(json.useLog.duty.activities[0]).toMatchObject({ id: 'use', use_W: 4 });
    // Of 287 steps between the rows, 35 end in use.
    expect(json.forecast.hours.find(({ state }: { state: string }) => state === 'use').h_per_day).toBeCloseTo(
      (24 * 35) / 287,
      2,
    );
    writeFileSync(log, 'time (s),power (W)\n0,3\nnoon,3\n');
    const bad = await runCli(['life', folder, '--use-log', log]);
    expect(bad.code).toBe(2);
    expect(soft(bad.stderr)).toMatch(/use\.csv:3 "noon" is no time/);
  });

  test('falls back on the bracket where the chemistry names no cathode, and says why', async () => {
    const folder = demoOf('lithium-ion pouch');
    const { code, stdout } = await runCli(['life', folder]);
    expect(code).toBe(0);
    expect(soft(stdout)).toMatch(
      /^With plate on strips the cells last .* No years yet\. "lithium-ion pouch" names/,
    );
    const json = JSON.parse((await runCli(['life', folder, '--json'])).stdout);
    expect(json.forecast).toBeNull();
    expect(json.noForecast.kind).toBe('unknown-chemistry');
  });

  const dayOf = (...hours: number[]) => ({
    activities: hours.map((h_per_day, i) => ({ id: `use-${i}`, name: `use ${i}`, h_per_day, use_W: 3 })),
  });
  const charged = (charging: object) => ({ charging: { habit: 'docked', ...charging } });
  test.each([
    [
      'one activity of more than 24 hours a day',
      dayOf(25),
      /dutyYear\.activities\[0\]\.h_per_day It is 25; at most 24 hours a day\. Enter 24 hours a day or less\./,
    ],
    ['activities of more than 24 hours together', dayOf(20, 5), /dutyYear\.activities .*25 hours a day/],
    ['a charge limit near empty', charged({ limit: 0.2 }), /dutyYear\.charging\.limit .*0\.3 to 1/],
    [
      'a charge limit beyond full',
      charged({ limit: 1.1 }),
      /dutyYear\.charging\.limit It is 1\.1; at most 1\. Enter 1 or less\./,
    ],
  ])('refuses %s by name, and leaves the file as it is', async (_, duty, said) => {
    const folder = demoOf('LCO', duty);
    const before = readFileSync(join(folder, 'build.json'), 'utf8');
    const { code, stdout, stderr } = await runCli(['life', folder]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(soft(stderr)).toMatch(said);
    expect(readFileSync(join(folder, 'build.json'), 'utf8')).toBe(before);
  });

  test('falls back on the bracket where a charge limit in volts is none of this chemistry', async () => {
    const { code, stdout } = await runCli(['life', demoOf('LFP', charged({ limit_V: 4.2 })), '--json']);
    expect(code).toBe(0);
    const { forecast, noForecast, life } = JSON.parse(stdout);
    expect(forecast).toBeNull();
    expect(noForecast.kind).toBe('limit-outside');
    expect(noForecast.remedy).toMatch(/4\.2/);
    expect(life.rows).toHaveLength(4);
  });

  test('counts with a model beyond where it was tested, and says so', async () => {
    const folder = demoOf('LCO', { room: { monthly_C: [45] } });
    const { code, stdout } = await runCli(['life', folder, ...few]);
    expect(code).toBe(0);
    expect(soft(stdout)).toMatch(
      /Models asked beyond where they were tested .* of the year the cell is away from the/,
    );
  });

  test('refuses draws, seeds and set-ups that are none, all at once', async () => {
    const { code, stdout, stderr } = await runCli([
      'life',
      demoOf('LCO'),
      '--draws',
      '3',
      '--seed',
      'x',
      '--setup',
      'tinfoil',
    ]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(soft(stderr)).toMatch(/--draws.*--seed.*tinfoil/);
  });
});
