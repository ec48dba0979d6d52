import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { hashLog, openStore, type Store } from '@soakbench/store';
import { build as bundle } from 'vite';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { sourceAliases } from '../../../scripts/source-aliases.mjs';
import { sampleBuild, sampleLog, sentRun } from './sample.js';

/**
 * An import is all or nothing, whenever the process dies. A real server is killed with SIGKILL while logs of several
 * megabytes are imported one after the other; then the store is opened again and looked through.
 */
const rounds = 6;
/** 160 000 rows: about 3 MB, a night and a half at one reading a second. */
const body = sampleLog(160_000, '');

let bundleFolder: string;
let entry: string;
let folder: string;
let file: string;
let child: ChildProcess | undefined;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'soakbench-kill-'));
  // Inside the package, so that the bundle finds the native library it leaves outside.
  const cache = fileURLToPath(new URL('../.cache/', import.meta.url));
  mkdirSync(cache, { recursive: true });
  bundleFolder = mkdtempSync(join(cache, 'kill-'));
  await bundle({
    configFile: false,
    logLevel: 'warn',
    resolve: { alias: sourceAliases },
    ssr: { noExternal: true, external: ['better-sqlite3'] },
    build: {
      ssr: fileURLToPath(new URL('kill-entry.ts', import.meta.url)),
      outDir: bundleFolder,
      emptyOutDir: false,
      rollupOptions: { output: { entryFileNames: 'entry.mjs' } },
    },
  });
  entry = join(bundleFolder, 'entry.mjs');
  file = join(folder, 'store.db');
  const store = await openStore(file);
  store.addBuild(sampleBuild('one'), new Map());
  store.close();
}, 60_000);

afterAll(() => {
  child?.kill('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
  rmSync(bundleFolder, { recursive: true, force: true });
});

/** A seeded generator, so that a failure can be repeated: mulberry32, numbers from 0 to 1. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

async function startServer(): Promise<string> {
  child = spawn(process.execPath, [entry, file], { stdio: ['ignore', 'pipe', 'inherit'] });
  const lines = createInterface({ input: child.stdout as NonNullable<ChildProcess['stdout']> });
  const [url] = (await once(lines, 'line')) as [string];
  return url;
}

/** Imports logs until the server is gone. `acknowledged` grows with every 201 that was read to its end. */
async function importUntilKilled(
  url: string,
  round: number,
  revision: number,
  acknowledged: Map<string, string>,
): Promise<void> {
  for (let count = 0; ; count += 1) {
    const id = `r${round}-${count}`;
    // Its own first line makes every log another content.
    const log = `after_s,cell,room ${id}${body}`;
    const form = new FormData();
    form.append('revision', `${revision + count}`);
    form.append('run', JSON.stringify(sentRun(id, `${id}.csv`)));
    form.append('log', new Blob([log]), `${id}.csv`);
    let status: number;
    try {
      const answer = await fetch(new URL('api/builds/one/runs', url), { method: 'POST', body: form });
      status = answer.status;
      await answer.json();
    } catch {
      return;
    }
    expect(status).toBe(201);
    acknowledged.set(id, hashLog(new TextEncoder().encode(log)));
  }
}

/** Changes whenever the store's write-ahead log is written to. */
function writeMark(): string {
  const log = statSync(`${file}-wal`, { throwIfNoEntry: false });
  return `${log?.size} ${log?.mtimeMs}`;
}

/** Looks every millisecond until `holds`. */
async function until(holds: () => boolean): Promise<void> {
  for (let waited_ms = 0; !holds(); waited_ms += 1) {
    if (waited_ms > 30_000) throw new Error('Waited in vain.');
    await new Promise((resolve) => setTimeout(resolve, 1));
  }
}

/** Holds what the store says against what was acknowledged. Returns how many runs it has. */
function look(store: Store, acknowledged: ReadonlyMap<string, string>): number {
  expect(store.checkIntegrity()).toEqual([]);
  const runs = store.build('one')?.build.runs ?? [];
  for (const run of runs) {
    const bytes = store.log('one', run.log.file);
    expect(bytes && hashLog(bytes), `log of ${run.id}`).toBe(run.log.sha256);
  }
  expect(store.logs('one').map((log) => log.file)).toEqual(runs.map((run) => run.log.file).sort());
  const held = new Map(runs.map((run) => [run.id, run.log.sha256]));
  for (const [id, sha256] of acknowledged) expect(held.get(id), `acknowledged ${id}`).toBe(sha256);
  return runs.length;
}

test('kill -9 during imports leaves every acknowledged import whole, and of the others all or nothing', async () => {
  const random = seeded(20_310_104);
  const acknowledged = new Map<string, string>();
  let runs = 0;
  let revision = 1;
  for (let round = 0; round < rounds; round += 1) {
    const url = await startServer();
    const importing = importUntilKilled(url, round, revision, acknowledged);
    // One import goes through, which also tells how long an import takes here and now.
    const known = acknowledged.size;
    const began = Date.now();
    await until(() => acknowledged.size > known);
    if (round % 2 === 0) {
      // Any moment of the next import.
      const import_ms = Date.now() - began;
      await new Promise((resolve) => setTimeout(resolve, import_ms * random()));
    } else {
      // The moments that hurt: while the store is written to, and shortly after.
      const mark = writeMark();
      await until(() => writeMark() !== mark);
      await new Promise((resolve) => setTimeout(resolve, 20 * random()));
    }
    const ended = once(child as ChildProcess, 'exit');
    child?.kill('SIGKILL');
    const [code, signal] = await ended;
    expect([code, signal]).toEqual([null, 'SIGKILL']);
    await importing;

    const store = await openStore(file);
    const now = look(store, acknowledged);
    // At most the one import that was under way is there beyond those acknowledged, this time or an earlier one.
    expect(now).toBeGreaterThanOrEqual(acknowledged.size);
    expect(now).toBeLessThanOrEqual(acknowledged.size + round + 1);
    expect(now).toBeGreaterThanOrEqual(runs);
    runs = now;
    revision = store.build('one')?.revision ?? 0;
    store.close();
  }
}, 300_000);

test('after all that the store takes imports as before', async () => {
  const url = await startServer();
  const before = (await (await fetch(new URL('api/builds/one', url))).json()) as { revision: number };
  const form = new FormData();
  form.append('revision', `${before.revision}`);
  form.append('run', JSON.stringify(sentRun('last', 'last.csv')));
  form.append('log', new Blob([`after_s,cell,room${body}`]), 'last.csv');
  expect((await fetch(new URL('api/builds/one/runs', url), { method: 'POST', body: form })).status).toBe(201);
  const ended = once(child as ChildProcess, 'exit');
  child?.kill('SIGKILL');
  await ended;
  const store = await openStore(file);
  expect(store.build('one')?.build.runs.at(-1)?.id).toBe('last');
  expect(store.checkIntegrity()).toEqual([]);
  store.close();
}, 60_000);
