import { dossierHeatWork, renderDossier } from '@soakbench/core/dossier';
import { explainNoHeat, type NoHeat } from '@soakbench/core/heat';
import { BadInputError } from '@soakbench/core/measure';
import type { Store } from '@soakbench/store';
import { type Context, Hono } from 'hono';
import type { Assess } from './assess.js';
import type { HeatJobs, OnProgress } from './heat-jobs.js';
import { answerJob } from './job-lines.js';

/** A dossier is one file on its own: its style is inside it, and it needs no script and nothing from anywhere. */
const dossierPolicy =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'self'";

/** What a page is told when a dossier with the heat model is ready to be fetched. */
export interface DossierReady {
  readonly size_kB: number;
}

/**
 * Can others trust and repeat it?
 *
 * With `heat=1` the heat model is in it: seconds of work the first time, nothing the second. Whoever accepts `application/x-ndjson` is
 * told how far that is, and at the end that the dossier can be fetched.
 */
export function dossierRoutes(store: Store, assess: Assess, jobs: HeatJobs) {
  const answerPage = (c: Context, html: string) => {
    c.header('content-security-policy', dossierPolicy);
    return c.html(html);
  };
  const withHeat = async (id: string, signal: AbortSignal, onProgress: OnProgress): Promise<string> => {
    const { stored, assessment } = assess(id);
    const work = dossierHeatWork(stored.build, assessment);
    if (work === null) throw noHeat({ kind: 'no-data' });
    const heat = await jobs.do(work, signal, onProgress);
    if (!heat.ok) throw noHeat(heat.reason);
    return renderDossier(stored.build, assessment, (file) => store.log(id, file), heat.value);
  };
  return new Hono().get('/api/builds/:id/dossier', async (c): Promise<Response> => {
    const id = c.req.param('id');
    const asked = c.req.query('heat');
    if (asked === undefined) {
      const { stored, assessment } = assess(id);
      return answerPage(
        c,
        renderDossier(stored.build, assessment, (file) => store.log(id, file)),
      );
    }
    if (asked !== '1' && asked !== 'true')
      throw new BadInputError([
        {
          where: 'heat',
          what: `"${asked}" is not understood.`,
          remedy: 'Write heat=1, or leave it out.',
        },
      ]);
    let html = '';
    return answerJob<DossierReady>(
      c,
      async (signal, onProgress) => {
        html = await withHeat(id, signal, onProgress);
        return { size_kB: Buffer.byteLength(html) / 1000 };
      },
      () => answerPage(c, html),
    );
  });
}

function noHeat(reason: NoHeat): BadInputError {
  return new BadInputError([explainNoHeat(reason)]);
}
