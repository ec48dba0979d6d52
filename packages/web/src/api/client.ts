import type { Fault } from '@soakbench/core/measure';
import type { App } from '@soakbench/server';
import { hc } from 'hono/client';
import type { BuildApi } from './build-api.js';
import { RefusedError, UnreachableError } from './faults.js';

const client = hc<App>(location.origin);

/** Waits for an answer; a "no" becomes a RefusedError with the server's faults. */
async function take<R extends Response>(asked: Promise<R>): Promise<R> {
  let response: R;
  try {
    response = await asked;
  } catch {
    throw new UnreachableError('The server does not answer.');
  }
  if (response.ok) return response;
  throw new RefusedError(response.status, await faultsIn(response));
}

async function faultsIn(response: Response): Promise<readonly Fault[]> {
  try {
    const body = (await response.json()) as { faults?: readonly Fault[] };
    if (body.faults && body.faults.length > 0) return body.faults;
  } catch {
    // Not an answer of ours; the status is all there is to say.
  }
  return [
    {
      where: 'Soakbench itself',
      what: `answered with status ${response.status}.`,
      remedy: 'Look at its terminal for the reason, then try again.',
    },
  ];
}

const one = (id: string) => ({ param: { id } });
const builds = client.api.builds;
const build = builds[':id'];

/** The server of this page. */
export const api: BuildApi = {
  builds: async () => (await take(builds.$get())).json(),
  addBuild: async (name) => (await take(builds.$post({ json: { name } }))).json(),
  build: async (id) => (await take(build.$get(one(id)))).json(),
  saveBuild: async (document, revision, what) =>
    (await take(build.$put({ ...one(document.id), json: { build: document, revision, what } }))).json(),
  removeBuild: async (id) => {
    await take(build.$delete(one(id)));
  },
  restoreBuild: async (id) => (await take(build.restore.$post(one(id)))).json(),
  undo: async (id, revision) => (await take(build.undo.$post({ ...one(id), json: { revision } }))).json(),
  redo: async (id, revision) => (await take(build.redo.$post({ ...one(id), json: { revision } }))).json(),
  importRun: async (id, revision, run, file, blob) => {
    // A file of a blob is no copy: the browser sends it from where it lies.
    const log = new File([blob], file);
    const form = { revision: String(revision), run: JSON.stringify(run), log };
    return (await take(build.runs.$post({ ...one(id), form }))).json();
  },
  log: async (id, file) =>
    new Uint8Array(await (await take(build.logs[':file'].$get({ param: { id, file } }))).arrayBuffer()),
};
