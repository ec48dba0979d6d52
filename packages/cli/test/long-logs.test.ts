/** Logs so long that reading them takes time: a terminal is told how far it is, and Ctrl-C ends it with the folder as it was. */
import { spawn } from 'node:child_process';
import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { copyDemo, ended, hashFolder, makeFolder, patience_ms, program, runCli } from './run-cli.js';

const root = makeFolder();
const log = join(root, 'long.csv');
writeFileSync(log, longLog(1_200_000));

/** A soak of four hours, 48 MB: idle, load, cool-down. */
function longLog(rows: number): string {
  const lines = ['time,C1 (C),ambient (C)'];
  const begin_ms = Date.UTC(2025, 3, 5, 8);
  const step_ms = (4 * 3_600_000) / rows;
  for (let row = 0; row < rows; row++) {
    const after_h = (4 * row) / rows;
    const load_K = after_h < 1 ? 0 : after_h < 3 ? 1 - Math.exp(1 - after_h) : 0.86 * Math.exp(3 - after_h);
    const noise_K = 0.02 * Math.sin(12.9898 * row);
    const stamp = new Date(begin_ms + Math.round(row * step_ms)).toISOString().replace('Z', '');
    lines.push(`${stamp},${(21 + 18 * load_K + noise_K).toFixed(3)},21.300`);
  }
  return `${lines.join('\n')}\n`;
}

const facts = ['--setup', 'plate', '--session', 'a day in April', '--mounting', 'm9', '--map', '3=a'];

test(
  'Ctrl-C while a log is copied ends with 130, and the folder is as it was',
  async () => {
    const copy = copyDemo(root, 'stopped');
    const before = hashFolder(copy);
    const child = spawn(process.execPath, [program, 'runs', 'import', copy, log, ...facts]);
    const end = ended(child);
    const isCopying = () => readdirSync(join(copy, 'logs')).some((name) => name.includes('.partial-'));
    while (!isCopying() && child.exitCode === null) await setImmediate();
    child.kill('SIGINT');
    const { code, stdout } = await end;
    expect({ code, stdout }).toEqual({ code: 130, stdout: '' });
    expect(hashFolder(copy)).toBe(before);
  },
  patience_ms,
);

/** The terminal comes from util-linux, which is not everywhere. */
const terminal = '/usr/bin/script';

/** Runs the program on a terminal of its own, types Ctrl-C where `stopAt` is seen, and gives what the terminal showed. */
function onTerminal(args: readonly string[], stopAt?: RegExp) {
  const words = [process.execPath, program, ...args].map((word) => `'${word}'`).join(' ');
  const child = spawn(terminal, ['-qec', words, '/dev/null']);
  let isStopped = false;
  let seen = '';
  child.stdout.on('data', (chunk: Buffer) => {
    seen += chunk;
    if (isStopped || !stopAt?.test(seen)) return;
    isStopped = true;
    child.stdin.write('\u0003');
  });
  return ended(child);
}

test.skipIf(!existsSync(terminal))(
  'a terminal is told how far the reading is; Ctrl-C ends it there, and beside JSON nothing is told',
  async () => {
    const copy = copyDemo(root, 'told');
    const before = hashFolder(copy);
    const stopped = await onTerminal(['runs', 'import', copy, log, ...facts], /\d+ % {2}reading /);
    expect(stopped.code).toBe(130);
    expect(stopped.stdout).not.toContain('Imported');
    expect(hashFolder(copy)).toBe(before);

    const imported = await onTerminal(['runs', 'import', copy, log, ...facts]);
    expect(imported.code).toBe(0);
    // The line is wiped before the answer begins.
    expect(imported.stdout).toMatch(/\d+ % {2}reading /);
    expect(imported.stdout).toContain('\r\u001b[KImported as run-16');

    const shown = await onTerminal(['runs', 'show', copy], /\d+ % {2}reading long\.csv/);
    expect(shown.code).toBe(130);
    const json = await onTerminal(['runs', 'show', copy, '--json']);
    expect(json.stdout).not.toContain('reading long.csv');
    const piped = await runCli(['runs', 'show', copy]);
    expect(piped.stderr).toBe('');
  },
  patience_ms,
);
