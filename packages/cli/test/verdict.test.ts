import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { plainText } from '@soakbench/core/measure';
import { assessBuild, outlookBuild } from '@soakbench/core/verdict';
import { readFolder } from '@soakbench/store';
import { describe, expect, test } from 'vitest';
import { copyDemo, demo, hashFolder, makeFolder, patience_ms, runCli } from './run-cli.js';

const { build, logOf } = readFolder(demo);
const assessment = assessBuild(build, logOf);
/** What JSON makes of it: the same numbers, digit for digit. */
const asJson = JSON.parse(JSON.stringify(assessment));

/** Text without the line breaks that laying it out put in. */
const unwrapped = (text: string) => text.replace(/\s+/g, ' ');
const soft = (text: string) => unwrapped(text.replace(/[\u00a0\u202f]/g, ' '));

describe('verdict on the demo', { timeout: patience_ms }, () => {
  test('prints the answer first, then margins, grounds, gaps and cautions', async () => {
    const { code, stdout, stderr } = await runCli(['verdict', demo]);
    expect(stderr).toBe('');
    expect(code).toBe(assessment.verdict.exitCode);
    const text = unwrapped(stdout);
    expect(text.startsWith(soft(plainText(assessment.verdict.answer)))).toBe(true);
    for (const line of [
      assessment.verdict.condition,
      ...assessment.verdict.restsOn,
      ...assessment.verdict.unresolved,
      ...assessment.verdict.missing,
      ...assessment.verdict.next.map(({ title }) => title),
    ]) {
      expect(text).toContain(soft(line));
    }
    expect(text).toContain('Lithium packs can burn.');
    expect(text).toContain('Invented example');
  });

  test('lists every margin with its level in words', async () => {
    const { stdout } = await runCli(['verdict', demo]);
    const count = (word: string) => stdout.split(word).length - 1;
    const levels = assessment.verdict.margins.map(({ level }) => level);
    expect(count('● holds')).toBe(levels.filter((level) => level === 'holds').length);
    expect(count('▲ look')).toBe(levels.filter((level) => level === 'look').length);
    expect(count('■ stop')).toBe(levels.filter((level) => level === 'stop').length);
  });

  test('--json prints the numbers of core, digit for digit, in the order of its parts', async () => {
    const { code, stdout } = await runCli(['verdict', demo, '--json']);
    expect(code).toBe(assessment.verdict.exitCode);
    const { format, version, build: which, answer, outlook, noForecast, ...parts } = JSON.parse(stdout);
    expect({ format, version, which }).toEqual({
      format: 'soakbench-answer',
      version: 1,
      which: { id: 'reedling-r2', name: 'Reedling R2', invented: true },
    });
    expect(answer).toBe(plainText(assessment.verdict.answer));
    expect(parts).toEqual(asJson);
    expect(Object.keys(parts)).toEqual(['probes', 'runs', 'compare', 'life', 'verdict', 'stages']);
    const brief = outlookBuild(build, assessment);
    if (!brief.ok) throw new Error(brief.reason.kind);
    expect(noForecast).toBeNull();
    expect(outlook.setups).toEqual(
      brief.value.outlook.setups.map(({ setup, years, chanceLongest }) => ({
        setup,
        years90: [years.p05, years.p95],
        chanceLongest,
        predicted: false,
      })),
    );
    const told = unwrapped((await runCli(['verdict', demo])).stdout);
    expect(told).toContain(`What the heat costs ${soft(outlook.answer)}`);
  });

  test('a set-up that was never soaked is predicted, marked so, and left out where that is asked', async () => {
    const folder = copyDemo(makeFolder());
    const file = join(folder, 'build.json');
    const record = JSON.parse(readFileSync(file, 'utf8'));
    record.setups.push({
      id: 'sheet',
      name: 'graphite sheet',
      layers: [{ material: 'graphite', name: 'graphite', thickness_mm: 0.1 }],
    });
    writeFileSync(file, JSON.stringify(record));
    const [told, json, measured] = [
      await runCli(['verdict', folder]),
      JSON.parse((await runCli(['verdict', folder, '--json'])).stdout),
      JSON.parse((await runCli(['verdict', folder, '--json', '--measured-only'])).stdout),
    ];
    expect(unwrapped(told.stdout)).toContain('Predicted, not measured: graphite sheet would run');
    expect(json.predicted.choices.map(({ setup }: { setup: string }) => setup)).toEqual(['sheet']);
    expect(json.predicted.margins.every(({ predicted }: { predicted: boolean }) => predicted)).toBe(true);
    expect(unwrapped(told.stdout)).toMatch(
      /In graphite sheet, predicted, never soaked: [\d.]+ to [\d.]+ times as long as in bare, and longest of all in \d+ % of the draws\./,
    );
    const withYears = (answer: typeof json) =>
      answer.outlook.setups
        .filter(({ predicted }: { predicted: boolean }) => predicted)
        .map(({ setup }: { setup: string }) => setup);
    expect(withYears(json)).toEqual(['sheet']);
    expect(withYears(measured)).toEqual([]);
    expect(measured.predicted).toBeUndefined();
    expect(json.verdict.setup).toBe(measured.verdict.setup);
  });

  test('the other verbs print their part of the same assessment', async () => {
    for (const [verb, part] of [
      [['probes', 'check'], 'probes'],
      [['runs', 'show'], 'runs'],
      [['compare'], 'compare'],
      [['life'], 'life'],
    ] as const) {
      const { code, stdout } = await runCli([...verb, demo, '--json']);
      expect(code).toBe(0);
      expect(JSON.parse(stdout)[part]).toEqual(asJson[part]);
    }
  });

  test('one run in detail has the numbers of the whole', async () => {
    const { code, stdout } = await runCli(['runs', 'show', demo, 'run-05', '--json']);
    expect(code).toBe(0);
    const whole = asJson.runs.runs.find(({ run }: { run: string }) => run === 'run-05');
    expect(JSON.parse(stdout).runs.runs).toEqual([whole]);
  });

  test('no verb calls anything safe, and every one says that the build is invented', async () => {
    for (const verb of [['verdict'], ['probes', 'check'], ['runs', 'show'], ['compare'], ['life']]) {
      const { stdout } = await runCli([...verb, demo]);
      expect(stdout).not.toMatch(/\bsafe/i);
      expect(stdout).toContain('Invented example');
    }
  });

  test('output that goes to no terminal has no colour codes', async () => {
    const { stdout } = await runCli(['verdict', demo], { env: { FORCE_COLOR: '1' } });
    expect(stdout).not.toContain('\u001b');
  });

  test('changes nothing in the folder', async () => {
    const copy = copyDemo(makeFolder());
    const before = hashFolder(copy);
    await runCli(['verdict', copy]);
    expect(hashFolder(copy)).toBe(before);
  });
});
