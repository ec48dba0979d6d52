/** Runs the program as a person does: a process of its own, in a folder of its own. */
import { type ChildProcess, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';

export const root = fileURLToPath(new URL('../../../', import.meta.url));
export const program = join(root, 'packages/cli/bin/soakbench.mjs');
export const demo = join(root, 'examples/reedling-r2');

/** Long enough for a busy machine; a process that hangs fails all the same. */
export const patience_ms = 120_000;

export interface Ended {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** What a process printed and how it ended. */
export function ended(child: ChildProcess): Promise<Ended> {
  let stdout = '';
  let stderr = '';
  child.stdout?.on('data', (chunk: Buffer) => {
    stdout += chunk;
  });
  child.stderr?.on('data', (chunk: Buffer) => {
    stderr += chunk;
  });
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code) => resolve({ code, stdout, stderr }));
  });
}

/** Runs `soakbench` with these arguments. Output goes to pipes, so there is no terminal and no colour. */
export function runCli(
  args: readonly string[],
  { cwd, input, env }: { cwd?: string; input?: string | Uint8Array; env?: NodeJS.ProcessEnv } = {},
): Promise<Ended> {
  const child = spawn(process.execPath, [program, ...args], { cwd, env: { ...process.env, ...env } });
  child.stdin.on('error', () => undefined); // A program that refuses early does not read its input.
  child.stdin.end(input ?? '');
  return ended(child);
}

/** A folder that goes when the tests of this file have ended. */
export function makeFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'soakbench-cli-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A copy of the demo build that a test may spoil. */
export function copyDemo(folder: string, name = 'reedling-r2'): string {
  const copy = join(folder, name);
  cpSync(demo, copy, { recursive: true });
  return copy;
}

/** One hash over every name and byte below a folder. */
export function hashFolder(folder: string): string {
  const hash = createHash('sha256');
  for (const name of (readdirSync(folder, { recursive: true }) as string[]).sort()) {
    hash.update(`${name}\0`);
    if (statSync(join(folder, name)).isFile()) hash.update(readFileSync(join(folder, name)));
  }
  return hash.digest('hex');
}
