import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { createServer, type Server } from 'node:net';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { afterAll, describe, expect, test } from 'vitest';
import { usualPort } from '../src/serve/serve-at-free-port.js';
import { ended, makeFolder, patience_ms, program } from './run-cli.js';

const children: ChildProcess[] = [];
afterAll(() => {
  for (const child of children) child.kill('SIGKILL');
});

function startServe(cwd: string, args: readonly string[]) {
  const child = spawn(process.execPath, [program, 'serve', ...args], {
    cwd,
    env: { ...process.env, CI: '1' },
  });
  children.push(child);
  const end = ended(child);
  const ready = once(createInterface({ input: child.stdout }), 'line').then(([line]) => {
    const address = /^Soakbench is at (http:\S+)/.exec(String(line))?.[1];
    if (address === undefined) throw new Error(`This is no address: ${line}`);
    return address;
  });
  return { child, end, ready };
}

async function portIsFree(port: number): Promise<boolean> {
  const probe = createServer();
  try {
    probe.listen(port, '127.0.0.1');
    await once(probe, 'listening');
    return true;
  } catch {
    return false;
  } finally {
    probe.close();
  }
}

async function occupy(port: number): Promise<Server> {
  const server = createServer();
  server.listen(port, '127.0.0.1');
  // Where another program has it already, it is occupied all the same.
  await Promise.race([once(server, 'listening'), once(server, 'error')]);
  return server;
}

const builds = async (address: string) =>
  (await (await fetch(`${address}api/builds`)).json()) as { id: string }[];

describe('serve', { timeout: patience_ms }, () => {
  test.each(['SIGTERM', 'SIGINT'] as const)('%s ends it with code 0, and frees the port', async (signal) => {
    const cwd = makeFolder();
    const { child, end, ready } = startServe(cwd, ['--port', '0', '--no-open']);
    const address = await ready;
    expect(await builds(address)).toEqual([]);
    // A browser that keeps its connection open must not hold the end up.
    const open = fetch(`${address}api/health`);
    await open;
    child.kill(signal);
    const { code, stdout, stderr } = await end;
    expect(code).toBe(0);
    expect(stdout).toBe(`Soakbench is at ${address}  (Ctrl-C ends it)\n`);
    expect(stderr).toContain('soakbench-data');
    expect(await portIsFree(Number(new URL(address).port))).toBe(true);
    expect(existsSync(join(cwd, 'soakbench-data', 'bench.sqlite'))).toBe(true);
  });

  test('--demo loads the invented example once, and not again for those who removed it', async () => {
    const cwd = makeFolder();
    const first = startServe(cwd, ['--port', '0', '--demo']);
    const address = await first.ready;
    expect((await builds(address)).map(({ id }) => id)).toEqual(['reedling-r2']);
    expect((await fetch(`${address}api/builds/reedling-r2`, { method: 'DELETE' })).status).toBe(204);
    first.child.kill('SIGTERM');
    expect((await first.end).code).toBe(0);

    const second = startServe(cwd, ['--port', '0', '--demo']);
    expect(await builds(await second.ready)).toEqual([]);
    second.child.kill('SIGTERM');
    expect((await second.end).code).toBe(0);
  });

  test('takes the next free port where the usual one is taken, and says so', async () => {
    const occupied = await occupy(usualPort);
    try {
      const { child, end, ready } = startServe(makeFolder(), []);
      expect(Number(new URL(await ready).port)).toBeGreaterThan(usualPort);
      child.kill('SIGTERM');
      const { stderr } = await end;
      expect(stderr).toMatch(new RegExp(`Port ${usualPort} is taken; using \\d+`));
    } finally {
      occupied.close();
    }
  });

  test('refuses a named port that is taken', async () => {
    const occupied = await occupy(0);
    try {
      const { port } = occupied.address() as { port: number };
      const { child, end } = startServe(makeFolder(), ['--port', String(port)]);
      const { code, stderr, stdout } = await end;
      expect({ code, stdout, killed: child.killed }).toEqual({ code: 2, stdout: '', killed: false });
      expect(stderr).toMatch(/--port/);
    } finally {
      occupied.close();
    }
  });
});
