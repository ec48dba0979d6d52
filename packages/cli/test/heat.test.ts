import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Exploration, HeatAssessment } from '@soakbench/core/heat';
import { describe, expect, test } from 'vitest';
import { demo, ended, hashFolder, makeFolder, patience_ms, program, runCli } from './run-cli.js';

/** A calibration takes ten seconds, and a busy machine several times that. */
const long_ms = 4 * patience_ms;

interface Predicted {
  readonly answer: string;
  readonly predictions: HeatAssessment['predictions'];
  readonly leaveOneOut: HeatAssessment['leaveOneOut'];
}

describe('heat predict', { timeout: long_ms }, () => {
  test('tells a set-up as typed, marked as predicted, with the error of leaving set-ups out beside it', async () => {
    const args = ['heat', 'predict', demo, '--like', 'plate', '--layer', '2:copper=0.3,inset=6', '--json'];
    const before = hashFolder(demo);
    const { code, stdout, stderr } = await runCli(args);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const told = JSON.parse(stdout) as Predicted & {
      readonly asked: {
        readonly layers: readonly { readonly thickness_mm: number; readonly outline: unknown }[];
      };
    };
    expect(told.answer).toMatch(/^Predicted, not measured: plate, changed/);
    expect(told.asked.layers[1]).toMatchObject({
      material: 'copper',
      thickness_mm: 0.3,
      // By hand: the demo's pack lies at 27, 13 and is 118 by 50.
      outline: { x_mm: 33, y_mm: 19, length_mm: 106, width_mm: 38 },
    });
    expect(told.predictions).toHaveLength(1);
    expect(told.predictions[0]?.measured).toBe(false);
    expect(told.leaveOneOut?.cells_K).toBeGreaterThan(0);
    for (const { rise_K, parts } of told.predictions[0]?.rises ?? [])
      expect(rise_K.u).toBeCloseTo(Math.hypot(...Object.values(parts)), 9);
    expect(hashFolder(demo)).toBe(before);
  });

  test('tells every set-up for a person, measured ones among them', async () => {
    const { code, stdout } = await runCli(['heat', 'predict', demo]);
    expect(code).toBe(0);
    expect(stdout).toMatch(/left out in turn and predicted from the others, came out \d/);
    for (const name of ['bare', 'polyimide film', 'plate', 'plate on strips'])
      expect(stdout).toMatch(new RegExp(`^ {2}${name} .*● soaked$`, 'm'));
    expect(stdout).toContain('Caution: Lithium packs can burn.');
  });

  test.each([
    { what: 'an unknown set-up', args: ['--setup', 'nothing'], says: 'There is no such set-up.' },
    {
      what: 'an unknown material',
      args: ['--layer', 'wood=1'],
      says: 'There is no material wood for layers.',
    },
    {
      what: 'a thickness of nothing',
      args: ['--layer', 'aluminium=0'],
      says: '"0" is no thickness or width.',
    },
    { what: 'more than the bay has', args: ['--layer', 'aluminium=5'], says: 'too thick for the bay' },
    {
      what: 'strips that overlap',
      args: ['--like', 'plate', '--layer', '3:paper=0.3,strips=30x5'],
      says: '30 strips of 5 mm overlap on 110 mm.',
    },
    {
      what: 'a layer beyond the last',
      args: ['--like', 'plate', '--layer', '9:paper=0.3'],
      says: 'There is no layer 9',
    },
    { what: 'two ways at once', args: ['--setup', 'plate', '--like', 'plate'], says: 'It cannot go with' },
  ])('refuses $what with code 2', async ({ args, says }) => {
    const { code, stdout, stderr } = await runCli(['heat', 'predict', demo, ...args]);
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr.replaceAll(/\s+/g, ' ')).toContain(says);
  });
});

describe('heat explore', { timeout: long_ms }, () => {
  const asked = ['heat', 'explore', demo, '--budget-mm', '1', '--most', '60', '--json'];

  test('stopped by Ctrl-C keeps what is done, and going on gives what an undisturbed sweep gives', async () => {
    const keep = join(makeFolder(), 'sweep.json');
    const child = spawn(process.execPath, [program, ...asked, '--keep', keep]);
    const end = ended(child);
    const watch = setInterval(() => {
      if (!existsSync(keep)) return;
      clearInterval(watch);
      child.kill('SIGINT');
    }, 20);
    const stopped = await end;
    clearInterval(watch);
    expect(stopped.code).toBe(130);
    expect(stopped.stdout).toBe('');
    expect(stopped.stderr).toMatch(/^Stopped after (20|40|60) of 60 set-ups, kept in/);
    const state = JSON.parse(readFileSync(keep, 'utf8')) as { done: unknown[] };
    expect(state.done.length).toBeGreaterThanOrEqual(20);

    const goneOn = await runCli([...asked, '--keep', keep]);
    expect({ code: goneOn.code, stderr: goneOn.stderr }).toEqual({ code: 0, stderr: '' });
    const whole = await runCli(asked);
    expect(goneOn.stdout).toBe(whole.stdout);
    const exploration = JSON.parse(whole.stdout) as Exploration;
    expect(exploration.ranked).toHaveLength(60);
    for (const { thickness_mm } of exploration.ranked) expect(thickness_mm).toBeLessThanOrEqual(1);

    const other = await runCli([
      ...asked,
      '--keep',
      keep,
      '--material',
      'polyimide=0.06',
      '--family',
      'film',
    ]);
    expect(other.code).toBe(2);
    expect(other.stderr.replaceAll(/\s+/g, ' ')).toContain('It belongs to another sweep');
  });

  test.each([
    { what: 'a negative budget', args: ['--budget-mm=-1'], says: '-1 mm is no room for layers.' },
    { what: 'more than the bay has', args: ['--budget-mm', '20'], says: '20 mm is more than the' },
    { what: 'an unknown material', args: ['--material', 'wood=1'], says: 'There is no such material' },
    { what: 'a sheet of nothing', args: ['--material', 'copper=0'], says: 'A sheet of 0 mm is none.' },
    { what: 'an unknown kind', args: ['--family', 'magic'], says: 'There is no such kind of set-up.' },
    { what: 'a price for what is not there', args: ['--price', 'wood=1'], says: 'not among the materials' },
    { what: 'a budget in words', args: ['--budget-mm', 'some'], says: '"some" is not a number.' },
  ])('refuses $what with code 2, before anything is computed', async ({ args, says }) => {
    const { code, stdout, stderr } = await runCli(['heat', 'explore', demo, ...args]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr.replaceAll(/\s+/g, ' ')).toContain(says);
  });
});

describe('heat calibrate and heat bench', { timeout: long_ms }, () => {
  test('the calibration tells every measured rise beside the modelled one', async () => {
    const { code, stdout } = await runCli(['heat', 'calibrate', demo, '--json']);
    expect(code).toBe(0);
    const { heat } = JSON.parse(stdout) as { heat: HeatAssessment };
    expect(heat.fitted.length).toBeGreaterThan(10);
    expect(heat.leaveOneOut?.rows.length).toBeGreaterThan(5);
    expect(heat.paces.length).toBeGreaterThan(2);
  });

  // A finite-volume mean of 62.1 K over the first chip was found for these boxes at 61 272 cells by a sparse direct solver; see bench/heat.
  test('the bench solves the standard stack to its known temperature, alike by every engine', async () => {
    const { code, stdout } = await runCli(['heat', 'bench', '--json']);
    expect(code).toBe(0);
    const { timings } = JSON.parse(stdout) as {
      timings: readonly { cells: number; threads: number; chip_K: number; differ_K: number | null }[];
    };
    const large = timings.at(-1);
    expect(large?.cells).toBe(61_272);
    expect(Math.abs((large?.chip_K ?? 0) - 62.1)).toBeLessThan(0.05);
    // Both stop at a residual of 1e-8, which is some 1e-6 K here.
    for (const { differ_K, threads } of timings) {
      expect(differ_K ?? 0).toBeLessThan(1e-5);
      if (threads > 1) expect(differ_K).toBe(0);
    }
  });

  test('a build without soaks has no model, and says what is missing', async () => {
    const { code, stdout, stderr } = await runCli(['heat', 'calibrate', makeEmptyBuild()]);
    expect({ code, stdout }).toEqual({ code: 1, stdout: '' });
    expect(stderr).toContain('no settled rise under load');
  });
});

function makeEmptyBuild(): string {
  const folder = makeFolder();
  const build = JSON.parse(readFileSync(join(demo, 'build.json'), 'utf8')) as Record<string, unknown>;
  mkdirSync(join(folder, 'logs'));
  writeFileSync(join(folder, 'build.json'), JSON.stringify({ ...build, runs: [] }));
  return folder;
}
