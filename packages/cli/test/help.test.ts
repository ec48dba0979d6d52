import { spawn } from 'node:child_process';
import { cpSync, mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { verbs } from '../src/verbs.js';
import { demo, ended, hashFolder, makeFolder, patience_ms, program, root, runCli } from './run-cli.js';

/** Examples are typed in the repository; here they run beside a copy of what they name. */
function workplace(): string {
  const folder = makeFolder();
  mkdirSync(join(folder, 'examples'));
  cpSync(demo, join(folder, 'examples', 'reedling-r2'), { recursive: true });
  return folder;
}

/** `npx soakbench` finds the program of the repository; this is that program. */
const asTyped = (command: string) =>
  command.replaceAll('npx soakbench', `"${process.execPath}" "${program}"`);

/** The commands below "Example" in a help text, as printed. */
function examplesIn(help: string): string[] {
  const [, below = ''] = help.split(/^Examples?$/m);
  return below.split('\n').flatMap((line) => (/^ {2}npx /.test(line) ? [line.trim()] : []));
}

describe('--help', { timeout: patience_ms }, () => {
  test('of the program names every verb and the exit codes', async () => {
    const { code, stdout } = await runCli(['--help']);
    expect(code).toBe(0);
    for (const { words } of verbs) expect(stdout).toContain(words);
    expect(stdout).toMatch(/Exit codes\n {2}0 /);
    expect(examplesIn(stdout)).toHaveLength(1);
  });

  test('of a word with several verbs behind it names them', async () => {
    const { code, stdout } = await runCli(['builds', '--help']);
    expect(code).toBe(0);
    for (const verb of ['builds list', 'builds import', 'builds export']) expect(stdout).toContain(verb);
  });

  test('--version is that of the package', async () => {
    const { stdout } = await runCli(['--version']);
    expect(stdout).toMatch(/^soakbench \d+\.\d+\.\d+\n$/);
  });

  test.each(verbs)(
    'of $words has an example, and every example runs',
    { timeout: 2 * patience_ms },
    async ({ words }) => {
      const { code, stdout } = await runCli([...words.split(' '), '--help']);
      expect(code).toBe(0);
      const examples = examplesIn(stdout);
      expect(examples.length).toBeGreaterThan(0);
      for (const example of examples) {
        const cwd = workplace();
        const before = hashFolder(join(cwd, 'examples'));
        const child = spawn('bash', ['-c', `exec ${asTyped(example)}`.replace(/^exec (?=.*&&)/, '')], {
          cwd,
          env: { ...process.env, CI: '1' },
        });
        const end = ended(child);
        // The one example that would go on for ever is ended as a person would.
        if (words === 'serve') child.stdout.once('data', () => child.kill('SIGINT'));
        const result = await end;
        // The verdict on the demo is that one limit fails, and its example says so.
        expect({ example, code: result.code, stderr: words === 'serve' ? '' : result.stderr }).toEqual({
          example,
          code: words === 'verdict' ? 1 : 0,
          stderr: '',
        });
        expect(result.stdout.length).toBeGreaterThan(20);
        expect(hashFolder(join(cwd, 'examples'))).toBe(before);
      }
    },
  );

  test('the repository has the folder the examples name', () => {
    expect(readdirSync(join(root, 'examples', 'reedling-r2'))).toContain('build.json');
  });
});
