import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { HeatAnswers, HeatAssessment } from '@soakbench/core/heat';
import type { Build } from '@soakbench/core/records';
import { openStore, readFolder, type Store } from '@soakbench/store';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { type JobLine, type RunningServer, serve } from '../src/index.js';
import { makeFolder, sampleBuild } from './sample.js';

const demo = fileURLToPath(new URL('../../../examples/reedling-r2', import.meta.url));
/** A calibration takes some seconds, and a busy machine many. */
const patience_ms = 240_000;

let folder: ReturnType<typeof makeFolder>;
let store: Store;
let server: RunningServer;

beforeEach(async () => {
  folder = makeFolder();
  store = await openStore(join(folder.path, 'store.db'));
  server = await serve({ store, webRoot: folder.path, port: 0 });
});
afterEach(async () => {
  await server.close();
  store.close();
  folder.remove();
});

function addDemo(untried: Build['setups'] = []): string {
  const { build: stored, logOf } = readFolder(demo);
  const build = { ...stored, setups: [...stored.setups, ...untried] };
  store.addBuild(build, new Map(build.runs.map(({ log }) => [log.file, logOf(log.file) as Uint8Array])));
  return build.id;
}

const heatUrl = (id: string) => new URL(`api/builds/${id}/heat`, server.url);

test(
  'a build’s heat model is told line by line, kept for the next who asks, and the server answers meanwhile',
  async () => {
    const url = heatUrl(addDemo());
    const answer = await fetch(url, { headers: { accept: 'application/x-ndjson' } });
    expect(answer.headers.get('content-type')).toContain('application/x-ndjson');
    let answered = 0;
    const asking = setInterval(async () => {
      await fetch(new URL('api/health', server.url));
      answered++;
    }, 100);
    const lines = (await answer.text())
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as JobLine<HeatAnswers['assess']>);
    clearInterval(asking);
    const progress = lines.flatMap((line) => (line.kind === 'progress' ? [line.share] : []));
    expect(progress.length).toBeGreaterThan(3);
    expect(progress).toEqual([...progress].sort((one, other) => one - other));
    // Computed in the server's own thread, none of these would be answered before the end.
    expect(answered).toBeGreaterThan(5);
    const last = lines.at(-1);
    if (last?.kind !== 'answer' || !last.answer.ok) throw new Error(JSON.stringify(last));
    expect(last.answer.value.predictions.length).toBeGreaterThan(3);
    const again = (await (await fetch(url)).json()) as { ok: true; value: HeatAssessment };
    expect(again).toEqual(JSON.parse(JSON.stringify(last.answer)));
    // Life takes the same model, which is kept; no set-up of this build is untried, so its forecast is that without it.
    const life = async (query: string) =>
      (await (await fetch(new URL(`api/builds/reedling-r2/life?draws=100&${query}`, server.url))).json()) as {
        forecast: { setups: unknown[] } | null;
        whatIfs: { rows: unknown[] } | null;
      };
    const withHeat = await life('heat=1');
    expect(withHeat.forecast?.setups).toHaveLength(4);
    expect(withHeat).toEqual(await life(''));
    expect((await life('what-ifs=plate')).whatIfs?.rows.length).toBeGreaterThan(4);
  },
  patience_ms,
);

test(
  'whoever goes away calls the work off, and whoever asks again gets it all the same',
  async () => {
    const url = heatUrl(addDemo());
    const away = new AbortController();
    const answer = await fetch(url, { headers: { accept: 'application/x-ndjson' }, signal: away.signal });
    const reader = answer.body?.getReader();
    await reader?.read();
    away.abort();
    await expect(reader?.read()).rejects.toThrow();
    const first = await fetch(url, { headers: { accept: 'application/x-ndjson' } });
    const line = new TextDecoder().decode((await first.body?.getReader().read())?.value);
    // Begun anew: what was called off has left nothing behind.
    expect(JSON.parse(line.split('\n')[0] ?? '')).toMatchObject({ kind: 'progress' });
  },
  patience_ms,
);

test('a build without soaks or without a device says so, and an unknown build is none', async () => {
  store.addBuild(sampleBuild('thin'), new Map());
  expect(await (await fetch(heatUrl('thin'))).json()).toEqual({ ok: false, reason: { kind: 'no-data' } });
  const { build, logOf } = readFolder(demo);
  const { device: _, ...rest } = build;
  const logs = new Map(build.runs.map(({ log }) => [log.file, logOf(log.file) as Uint8Array]));
  store.addBuild({ ...rest, id: 'no-device' }, logs);
  const refused = await fetch(heatUrl('no-device'));
  expect(refused.status).toBe(422);
  const life = await fetch(new URL('api/builds/thin/life?heat=1', server.url));
  expect(life.status).toBe(422);
  expect(await life.json()).toMatchObject({ faults: [{ where: 'heat' }] });
  expect(await refused.json()).toMatchObject({ faults: [{ where: 'device' }] });
  expect((await fetch(heatUrl('nobody'))).status).toBe(404);
});

test(
  'a dossier takes the heat model in where it is asked for, and is told line by line how far that is',
  async () => {
    const id = addDemo([
      {
        id: 'sheet',
        name: 'graphite sheet',
        layers: [{ material: 'graphite', name: 'graphite', thickness_mm: 0.1 }],
      },
    ]);
    const address = (query: string) => new URL(`api/builds/${id}/dossier${query}`, server.url);
    const plain = await (await fetch(address(''))).text();
    expect(plain).not.toContain('How far to trust it');
    const told = await fetch(address('?heat=1'), { headers: { accept: 'application/x-ndjson' } });
    const lines = (await told.text())
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as JobLine<{ size_kB: number }>);
    expect(lines.filter(({ kind }) => kind === 'progress').length).toBeGreaterThan(3);
    const last = lines.at(-1);
    if (last?.kind !== 'answer') throw new Error(JSON.stringify(last));
    const asked = await fetch(address('?heat=1'));
    expect(asked.headers.get('content-security-policy')).toContain("default-src 'none'");
    const html = await asked.text();
    expect(html).toContain('How far to trust it');
    expect(html).toContain(': the field');
    // Its life too: in the section, each in its rows, and nowhere without the mark.
    const lifeOf = (page: string) => page.slice(page.indexOf('id="life"')).split('</section>')[0] ?? '';
    expect(lifeOf(html)).toContain('graphite sheet, predicted');
    expect(lifeOf(html).replaceAll('graphite sheet, predicted', '')).not.toContain('graphite sheet');
    expect(lifeOf(plain)).toContain('plate on strips');
    expect(lifeOf(plain)).not.toContain('predicted');
    expect(last.answer.size_kB).toBeCloseTo(Buffer.byteLength(html) / 1000, 6);
    expect((await fetch(address('?heat=perhaps'))).status).toBe(422);
  },
  patience_ms,
);

test('a build without soaks has no dossier with a heat model, and is told what it lacks', async () => {
  store.addBuild(sampleBuild('thin'), new Map());
  const refused = await fetch(new URL('api/builds/thin/dossier?heat=1', server.url));
  expect(refused.status).toBe(422);
  expect(await refused.json()).toMatchObject({
    faults: [{ what: expect.stringContaining('No settled rise') }],
  });
  const told = await fetch(new URL('api/builds/thin/dossier?heat=1', server.url), {
    headers: { accept: 'application/x-ndjson' },
  });
  expect(JSON.parse(await told.text())).toMatchObject({
    kind: 'failed',
    faults: [{ what: expect.stringContaining('No settled rise') }],
  });
});
