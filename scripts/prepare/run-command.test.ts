import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { expect, test } from 'vitest';
import { runCommand } from './run-command.mjs';

test('a command reports its exit code and output, and a missing one reports 127', async () => {
  const child = await runCommand(process.execPath, ['-e', 'console.log("said"); process.exit(3)'], {
    quiet: true,
  });
  expect(child).toEqual({ code: 3, output: 'said\n' });
  expect((await runCommand('/no/such/program', [], { quiet: true })).code).toBe(127);
});

test.each([
  ['SIGTERM', 143],
  ['SIGINT', 130],
] as const)(
  '%s to the script ends what the command started, grandchildren included',
  async (signal, code) => {
    const wait = 'setInterval(() => {}, 1000)';
    const grandchild = `console.log(process.pid); ${wait}`;
    const child = `require('node:child_process').spawn(process.execPath, ['-e', ${JSON.stringify(grandchild)}], { stdio: 'inherit' }); ${wait}`;
    const module = new URL('./run-command.mjs', import.meta.url).href;
    const script = `const { runCommand } = await import(${JSON.stringify(module)}); await runCommand(process.execPath, ['-e', ${JSON.stringify(child)}]);`;
    const parent = spawn(process.execPath, ['--input-type=module', '-e', script], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const [line] = await once(createInterface({ input: parent.stdout }), 'line');
    let closed = false;
    // All three hold this pipe, so it closes when the last of them has gone.
    parent.stdout.on('close', () => {
      closed = true;
    });

    try {
      parent.kill(signal);
      const [exitCode] = await once(parent, 'exit');

      expect(exitCode).toBe(code);
      await expect.poll(() => closed, { timeout: 5000 }).toBe(true);
    } finally {
      if (!closed) process.kill(Number(line), 'SIGKILL');
    }
  },
);
