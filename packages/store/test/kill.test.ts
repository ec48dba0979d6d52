import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build as bundle } from 'vite';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { sourceAliases } from '../../../scripts/source-aliases.mjs';
import { openStore } from '../src/index.js';
import { logBytes, sampleBuild } from './sample-build.js';

/**
 * A process is killed with SIGKILL before every single statement of a piece of work in turn, so no gap between two
 * statements stays untried. What the kernel was given is on record either way; only a power cut could take more.
 */
let bundleFolder: string;
let folder: string;

beforeAll(async () => {
  // Inside the package, so that the bundle finds the native library it leaves outside.
  const cache = fileURLToPath(new URL('../.cache/', import.meta.url));
  mkdirSync(cache, { recursive: true });
  bundleFolder = mkdtempSync(join(cache, 'kill-'));
  folder = mkdtempSync(join(tmpdir(), 'soakbench-store-kill-'));
  await bundle({
    configFile: false,
    logLevel: 'warn',
    resolve: { alias: sourceAliases },
    ssr: { noExternal: true, external: ['better-sqlite3'] },
    build: {
      ssr: fileURLToPath(new URL('kill-entry.ts', import.meta.url)),
      outDir: bundleFolder,
      rollupOptions: { output: { entryFileNames: 'entry.mjs' } },
    },
  });
}, 60_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
  rmSync(bundleFolder, { recursive: true, force: true });
});

/** Does the work in a process of its own. True where it got to its end before the n-th statement. */
function workUntil(work: 'open' | 'import', file: string, n: number): boolean {
  const entry = join(bundleFolder, 'entry.mjs');
  const { signal, status, stdout, stderr } = spawnSync(process.execPath, [entry, work, file, String(n)], {
    encoding: 'utf8',
  });
  if (signal === 'SIGKILL') {
    expect(stdout).toBe('');
    return false;
  }
  expect({ status, stdout, stderr }).toEqual({ status: 0, stdout: 'acknowledged', stderr: '' });
  return true;
}

test('an import that is killed between any two statements leaves nothing of it, and the store whole', async () => {
  let n = 0;
  for (let done = false; !done; ) {
    n += 1;
    const file = join(folder, `import-${n}.db`);
    const fresh = await openStore(file);
    fresh.addBuild(sampleBuild('one'), new Map());
    fresh.close();
    done = workUntil('import', file, n);

    const store = await openStore(file);
    expect(store.checkIntegrity()).toEqual([]);
    expect(store.build('one')).toMatchObject({ revision: done ? 2 : 1, canUndo: done });
    expect(store.build('one')?.build.runs.map((run) => run.id)).toEqual(done ? ['r1'] : []);
    expect(store.logs('one').map((log) => log.file)).toEqual(done ? ['a.csv'] : []);
    expect(store.log('one', 'a.csv')).toEqual(done ? logBytes('t,cell\n0,20\n') : undefined);
    store.close();
  }
  // Begin, log, document, link, place and commit at the least: fewer would mean that the kills missed the work.
  expect(n).toBeGreaterThan(6);
}, 300_000);

test('a first start that is killed anywhere is made good by the next start', async () => {
  let n = 0;
  for (let done = false; !done; ) {
    n += 1;
    const file = join(folder, `open-${n}.db`);
    done = workUntil('open', file, n);
    const store = await openStore(file);
    store.addBuild(sampleBuild('one'), new Map());
    expect(store.checkIntegrity()).toEqual([]);
    store.close();
  }
  expect(n).toBeGreaterThan(4);
}, 300_000);
