import { join } from 'node:path';
import { assessBuild } from '@soakbench/core/verdict';
import { hashLog, openStore, type Store } from '@soakbench/store';
import { hc } from 'hono/client';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { type App, createApp, type RunningServer, serve } from '../src/index.js';
import { ask, makeFolder, sampleBuild, sampleLog, sentRun } from './sample.js';

let folder: ReturnType<typeof makeFolder>;
let store: Store;
let server: RunningServer;
let client: ReturnType<typeof hc<App>>;

beforeEach(async () => {
  folder = makeFolder();
  store = await openStore(join(folder.path, 'store.db'));
  server = await serve({ store, webRoot: folder.path, port: 0, largestLog_bytes: 300_000 });
  client = hc<App>(server.url);
});
afterEach(async () => {
  await server.close();
  store.close();
  folder.remove();
});

/** Everything the store holds, to show that a refused request changed nothing. */
function everything(): unknown {
  return store.builds().map(({ id }) => [store.build(id), store.logs(id), store.takenIds()]);
}

const asJson = (body: unknown) => ({
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify(body),
});

function sendRun(id: string, fields: Record<string, string | Blob>, fileName = 'a.csv'): Promise<Response> {
  const form = new FormData();
  for (const [name, value] of Object.entries(fields)) {
    if (typeof value === 'string') form.append(name, value);
    else form.append(name, value, fileName);
  }
  return fetch(new URL(`api/builds/${id}/runs`, server.url), { method: 'POST', body: form });
}

const importFields = (
  log: string | Uint8Array<ArrayBuffer>,
  run: unknown = sentRun('r1', 'a.csv'),
  revision = '1',
) => ({
  revision,
  run: JSON.stringify(run),
  log: new Blob([log]),
});

describe('builds', () => {
  test('a build is created from a name, read, renamed, undone, redone, removed and restored', async () => {
    expect(await (await client.api.health.$get()).json()).toEqual({ ok: true });
    const created = await client.api.builds.$post({ json: { name: ' Field recorder ' } });
    expect(created.status).toBe(201);
    const first = store.build('field-recorder');
    expect(await created.json()).toEqual(first);
    expect(first?.build.name).toBe('Field recorder');

    const param = { id: 'field-recorder' };
    const build = { ...first?.build, name: 'Recorder', unknownField: [1] } as never;
    const saved = await client.api.builds[':id'].$put({
      param,
      json: { build, revision: 1, what: 'Rename' },
    });
    expect(await saved.json()).toMatchObject({
      build: { name: 'Recorder', unknownField: [1] },
      revision: 2,
      canUndo: true,
    });
    const undone = await client.api.builds[':id'].undo.$post({ param, json: { revision: 2 } });
    expect(await undone.json()).toMatchObject({
      build: { name: 'Field recorder' },
      revision: 3,
      canRedo: true,
    });
    const redone = await client.api.builds[':id'].redo.$post({ param, json: { revision: 3 } });
    expect(await redone.json()).toMatchObject({ build: { name: 'Recorder' }, revision: 4 });

    expect((await client.api.builds[':id'].$delete({ param })).status).toBe(204);
    expect(await (await client.api.builds.$get()).json()).toEqual([]);
    const restored = await client.api.builds[':id'].restore.$post({ param });
    expect(await restored.json()).toMatchObject({ build: { name: 'Recorder' } });
    expect(await (await client.api.builds.$get()).json()).toMatchObject([
      { id: 'field-recorder', name: 'Recorder', runs: 0 },
    ]);
  });

  test('a second build of the same name gets its own id, also beside a removed one', async () => {
    for (const id of ['kit', 'kit-2']) {
      expect(await (await client.api.builds.$post({ json: { name: 'Kit' } })).json()).toMatchObject({
        build: { id },
      });
    }
    store.removeBuild('kit');
    expect(await (await client.api.builds.$post({ json: { name: 'Kit' } })).json()).toMatchObject({
      build: { id: 'kit-3' },
    });
  });

  test.each([
    ['no name', 'POST', '/api/builds', {}, 422, /name/],
    ['an empty name', 'POST', '/api/builds', { name: '  ' }, 422, /name/],
    ['no revision', 'POST', '/api/builds/one/undo', {}, 422, /revision/],
    ['nothing to undo', 'POST', '/api/builds/one/undo', { revision: 1 }, 409, /nothing to undo/],
    ['nothing to redo', 'POST', '/api/builds/one/redo', { revision: 1 }, 409, /nothing to redo/],
    [
      'a stale revision',
      'POST',
      '/api/builds/one/undo',
      { revision: 0 },
      409,
      /at revision 1, the change was made on 0/,
    ],
    ['an unknown build', 'POST', '/api/builds/two/undo', { revision: 1 }, 404, /no build \\"two\\"/],
    ['restoring an unknown build', 'POST', '/api/builds/two/restore', {}, 404, /no build/],
    ['removing an unknown build', 'DELETE', '/api/builds/two', {}, 404, /no build/],
    ['reading an unknown build', 'GET', '/api/builds/two', undefined, 404, /no build/],
    ['assessing an unknown build', 'GET', '/api/builds/two/verdict', undefined, 404, /no build/],
    ['a log of an unknown build', 'GET', '/api/builds/two/logs/a.csv', undefined, 404, /no build/],
    ['an unknown log', 'GET', '/api/builds/one/logs/a.csv', undefined, 404, /no such log/],
    ['an unknown route', 'GET', '/api/nothing', undefined, 404, /no such route/],
    [
      'a document that is no build',
      'PUT',
      '/api/builds/one',
      { build: 7, revision: 1, what: 'x' },
      422,
      /soakbench-build/,
    ],
    [
      'no word on what was done',
      'PUT',
      '/api/builds/one',
      { build: sampleBuild('one'), revision: 1 },
      422,
      /what/,
    ],
    [
      'another id',
      'PUT',
      '/api/builds/one',
      { build: sampleBuild('two'), revision: 1, what: 'x' },
      422,
      /calls itself/,
    ],
    [
      'a later version',
      'PUT',
      '/api/builds/one',
      { build: { ...sampleBuild('one'), version: 99 }, revision: 1, what: 'x' },
      422,
      /newer Soakbench/,
    ],
    [
      'an unknown set-up',
      'PUT',
      '/api/builds/one',
      { build: { ...sampleBuild('one'), baseline: 'plate' }, revision: 1, what: 'x' },
      422,
      /This build: baseline.*no set-up \\"plate\\".*Use one of: bare/,
    ],
    [
      'a wrong unit',
      'PUT',
      '/api/builds/one',
      {
        build: {
          ...sampleBuild('one'),
          setups: [
            { id: 'bare', name: 'Bare', layers: [{ material: 'air', name: 'Air', thickness_in: 0.1 }] },
          ],
        },
        revision: 1,
        what: 'x',
      },
      422,
      /setups\[0\].layers\[0\].thickness_mm.*thickness_in/,
    ],
    [
      'a change to a stale document',
      'PUT',
      '/api/builds/one',
      { build: { ...sampleBuild('one'), note: 'x' }, revision: 0, what: 'x' },
      409,
      /Load the build again/,
    ],
  ])(
    '%s is refused with its place and remedy, and nothing changes',
    async (_, method, path, body, status, said) => {
      store.addBuild(sampleBuild('one'), new Map());
      const before = everything();
      const answer = await ask(server.url, path, { method, ...(body === undefined ? {} : asJson(body)) });
      expect({ status: answer.status, text: answer.text }).toEqual({
        status,
        text: expect.stringMatching(said),
      });
      const { faults } = JSON.parse(answer.text);
      for (const fault of faults)
        expect(fault).toEqual({
          where: expect.any(String),
          what: expect.any(String),
          remedy: expect.any(String),
        });
      expect(everything()).toEqual(before);
    },
  );

  test('a body that is no JSON is refused in the same form', async () => {
    const headers = { 'content-type': 'application/json' };
    const answer = await ask(server.url, '/api/builds', { method: 'POST', headers, body: '{"name": ' });
    expect(answer.status).toBe(400);
    expect(JSON.parse(answer.text).faults).toMatchObject([
      { where: 'request', what: expect.stringMatching(/Malformed JSON/) },
    ]);
  });

  test('of two writers on one revision, one is kept and the other told', async () => {
    store.addBuild(sampleBuild('one'), new Map());
    const save = (note: string) =>
      ask(server.url, '/api/builds/one', {
        method: 'PUT',
        ...asJson({ build: { ...sampleBuild('one'), note }, revision: 1, what: note }),
      });
    const answers = await Promise.all(['a', 'b', 'c', 'd'].map(save));
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 409, 409, 409]);
    const kept = answers.find((answer) => answer.status === 200);
    expect(JSON.parse(kept?.text ?? '')).toEqual(store.build('one'));
  });
});

describe('imports', () => {
  beforeEach(() => {
    store.addBuild(sampleBuild('one'), new Map());
  });

  test('a log and its run are kept together; the log comes back byte for byte', async () => {
    const log = new TextEncoder().encode(sampleLog(50).replaceAll('\n', '\r\n'));
    const answer = await sendRun('one', importFields(log, sentRun('r1', 'Süd 2.csv')));
    expect(answer.status).toBe(201);
    expect(await answer.json()).toEqual(store.build('one'));
    expect(store.build('one')?.build.runs).toEqual([
      { ...sentRun('r1', 'Süd 2.csv'), log: { file: 'Süd 2.csv', sha256: hashLog(log) } },
    ]);
    const back = await client.api.builds[':id'].logs[':file'].$get({
      param: { id: 'one', file: 'Süd 2.csv' },
    });
    expect(back.headers.get('content-type')).toBe('application/octet-stream');
    expect(new Uint8Array(await back.arrayBuffer())).toEqual(log);
  });

  test('the typed client can import', async () => {
    const answer = await client.api.builds[':id'].runs.$post({
      param: { id: 'one' },
      form: {
        revision: '1',
        run: JSON.stringify(sentRun('r1', 'a.csv')),
        log: new File([sampleLog(50)], 'a.csv'),
      },
    });
    expect(answer.status).toBe(201);
    expect(store.logs('one')).toHaveLength(1);
  });

  test.each([
    ['an empty file', importFields(''), 422, /a\.csv/],
    [
      'a binary file',
      importFields(Uint8Array.from({ length: 4000 }, (_, i) => (i * 89) % 256)),
      422,
      /a\.csv/,
    ],
    ['a log with one column', importFields('after_s\n0\n10\n20\n30\n'), 422, /a\.csv/],
    [
      'a log whose clock jumps back',
      importFields('t,cell,room\n0,20,20\n10,21,20\n20,22,20\n5,23,20\n30,24,20\n'),
      422,
      /a\.csv.*5/,
    ],
    [
      'a run in an unknown set-up',
      importFields(sampleLog(9), { ...sentRun('r1', 'a.csv'), setup: 'plate' }),
      422,
      /runs\[0\].setup.*no set-up \\"plate\\"/,
    ],
    [
      'a run without a recipe',
      importFields(sampleLog(9), { ...sentRun('r1', 'a.csv'), recipe: undefined }),
      422,
      /runs\[0\].recipe/,
    ],
    [
      'a file name that leads elsewhere',
      importFields(sampleLog(9), sentRun('r1', '../../etc/crontab')),
      422,
      /runs\[0\].log.file/,
    ],
    ['a run that is no JSON', { ...importFields(sampleLog(9)), run: '{' }, 422, /not a run record/],
    ['a run that is a list', { ...importFields(sampleLog(9)), run: '[]' }, 422, /not a run record/],
    ['no revision', importFields(sampleLog(9), sentRun('r1', 'a.csv'), 'latest'), 422, /revision/],
    ['a stale revision', importFields(sampleLog(9), sentRun('r1', 'a.csv'), '0'), 409, /at revision 1/],
    ['text in the file’s place', { ...importFields(sampleLog(9)), log: 'after_s,cell' }, 422, /no log file/],
  ])('%s is refused, named, and nothing is stored', async (_, fields, status, said) => {
    const before = everything();
    const answer = await sendRun('one', fields);
    const text = await answer.text();
    expect({ status: answer.status, text }).toEqual({ status, text: expect.stringMatching(said) });
    for (const fault of JSON.parse(text).faults) expect(fault.remedy).not.toBe('');
    expect(everything()).toEqual(before);
  });

  test('a second log under a name that is taken is refused, and the first one stays', async () => {
    await sendRun('one', importFields(sampleLog(50)));
    const before = everything();
    const answer = await sendRun('one', importFields(sampleLog(51), sentRun('r2', 'a.csv'), '2'));
    expect(answer.status).toBe(422);
    expect(await answer.text()).toMatch(/another log called .*a\.csv/);
    expect(everything()).toEqual(before);
  });

  test('an import to an unknown build is refused', async () => {
    expect((await sendRun('two', importFields(sampleLog(9)))).status).toBe(404);
  });

  test('a body beyond the limit is refused, told in advance or not, and the server goes on', async () => {
    const before = everything();
    const big = importFields(new Uint8Array(400_000).fill(48));
    const form = new FormData();
    for (const [name, value] of Object.entries(big)) form.append(name, value);
    const body = new Uint8Array(await new Response(form).arrayBuffer());
    const headers = { 'content-type': 'multipart/form-data; boundary=x' };
    const told = await ask(server.url, '/api/builds/one/runs', {
      method: 'POST',
      headers: { ...headers, 'content-length': `${body.length}` },
      body,
    });
    const untold = await ask(server.url, '/api/builds/one/runs', {
      method: 'POST',
      headers: { ...headers, 'transfer-encoding': 'chunked' },
      body,
    });
    for (const answer of [told, untold]) {
      expect(answer.status).toBe(413);
      expect(JSON.parse(answer.text).faults[0].what).toMatch(/larger than/);
    }
    const long = asJson({ name: 'x'.repeat(9_000_000) });
    expect((await ask(server.url, '/api/builds', { method: 'POST', ...long })).status).toBe(413);
    expect(everything()).toEqual(before);
    expect((await sendRun('one', importFields(sampleLog(50)))).status).toBe(201);
  });
});

describe('stages', () => {
  test('every stage route answers with its part of what core computes, and nothing else', async () => {
    store.addBuild(sampleBuild('one'), new Map());
    await sendRun('one', importFields(sampleLog(600)));
    const build = store.build('one')?.build ?? sampleBuild('one');
    const expected = JSON.parse(JSON.stringify(assessBuild(build, (file) => store.log('one', file))));
    for (const stage of ['probes', 'runs', 'compare', 'verdict'] as const) {
      const answer = await client.api.builds[':id'][stage].$get({ param: { id: 'one' } });
      expect(await answer.json()).toEqual(expected[stage]);
    }
  });

  test('life answers the bracket beside why there are no years, and refuses wishes that are none, all at once', async () => {
    store.addBuild(sampleBuild('one'), new Map());
    const get = (query: Record<string, string>) =>
      fetch(new URL(`api/builds/one/life?${new URLSearchParams(query)}`, server.url));
    const plain = await get({});
    expect(plain.status).toBe(200);
    expect(await plain.json()).toMatchObject({
      life: null,
      forecast: null,
      noForecast: { remedy: expect.any(String) },
    });
    const odd = await get({ draws: '3', seed: 'x', 'what-ifs': 'tinfoil' });
    expect(odd.status).toBe(422);
    const { faults } = (await odd.json()) as { faults: { where: string }[] };
    expect(faults.map(({ where }) => where)).toEqual(['draws', 'seed', 'what-ifs']);
  });

  test.each([
    ['a day of more than 24 hours', { h_per_day: [20, 5] }, 'dutyYear.activities'],
    ['a charge limit that is none', { limit: 0.2 }, 'dutyYear.charging.limit'],
  ])('%s is refused by its field with a remedy, and nothing is kept', async (_, duty, field) => {
    store.addBuild(sampleBuild('one'), new Map());
    const before = everything();
    const { h_per_day = [3], limit = 1 } = duty as { h_per_day?: number[]; limit?: number };
    const dutyYear = {
      activities: h_per_day.map((hours, i) => ({ id: `a${i}`, name: `a${i}`, h_per_day: hours, use_W: 3 })),
      charging: { habit: 'docked', limit },
      room: { monthly_C: [21] },
    };
    const answer = await client.api.builds[':id'].$put({
      param: { id: 'one' },
      json: { build: { ...sampleBuild('one'), dutyYear }, revision: 1, what: 'Describe the year' } as never,
    });
    expect(answer.status).toBe(422);
    const { faults } = (await answer.json()) as never as { faults: { where: string; remedy: string }[] };
    expect(faults[0]?.where).toContain(field);
    expect(faults[0]?.remedy).not.toBe('');
    expect(everything()).toEqual(before);
  });

  test('a change shows in the next answer: results are kept per revision', async () => {
    store.addBuild(sampleBuild('one'), new Map());
    const runsNow = async () =>
      (await (await client.api.builds[':id'].runs.$get({ param: { id: 'one' } })).json()).runs.length;
    expect(await runsNow()).toBe(0);
    await sendRun('one', importFields(sampleLog(600)));
    expect(await runsNow()).toBe(1);
    store.undo('one', 2);
    expect(await runsNow()).toBe(0);
  });

  test('the dossier is a page of its own, under a policy of its own', async () => {
    store.addBuild(sampleBuild('one'), new Map());
    const answer = await ask(server.url, '/api/builds/one/dossier');
    expect(answer.status).toBe(200);
    expect(answer.headers['content-type']).toMatch(/^text\/html/);
    expect(answer.headers['content-security-policy']).toMatch(
      /^default-src 'none'; style-src 'unsafe-inline'; img-src data:/,
    );
    expect(answer.text).toContain('Bench test');
  });
});

describe('when the disk or the store fails', () => {
  test.each([
    ['database or disk is full', 507, /Free some space/],
    ['database is locked', 503, /Try again in a moment/],
    ['something odd', 500, /something odd/],
  ])('"%s" becomes a sentence and a status', async (message, status, said) => {
    const failing: Store = {
      ...store,
      addBuild: () => {
        throw new Error(message);
      },
    };
    const app = createApp(failing, { webRoot: folder.path });
    const silenced = console.error;
    console.error = () => {};
    try {
      const answer = await app.request('http://localhost/api/builds', {
        method: 'POST',
        headers: { host: 'localhost', 'content-type': 'application/json' },
        body: '{"name":"x"}',
      });
      expect(answer.status).toBe(status);
      expect(await answer.text()).toMatch(said);
    } finally {
      console.error = silenced;
    }
  });
});
