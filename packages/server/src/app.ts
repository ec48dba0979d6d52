import type { Store } from '@soakbench/store';
import { Hono } from 'hono';
import { answerError, refuse } from './answer-error.js';
import { makeAssess } from './assess.js';
import { buildsRoutes } from './builds.js';
import { compareRoutes } from './compare.js';
import { dossierRoutes } from './dossier.js';
import { guard, hostNames, setHeaders } from './guard.js';
import { heatRoutes } from './heat.js';
import { HeatJobs } from './heat-jobs.js';
import { lifeRoutes } from './life.js';
import { limitBody } from './limit-body.js';
import { probesRoutes } from './probes.js';
import { runsRoutes } from './runs.js';
import { serveFiles } from './static-files.js';
import { verdictRoutes } from './verdict.js';

export interface AppOptions {
  /** Folder of the built pages. */
  readonly webRoot: string;
  /** The Host headers to answer; the loopback names without a port by default. May grow after the app is made. */
  readonly hosts?: ReadonlySet<string>;
  /** The largest log taken in one import, bytes. */
  readonly largestLog_bytes?: number;
  /** Where heat models are computed; whoever ends the server ends them too. */
  readonly heatJobs?: HeatJobs;
}

/** Twenty nights at ten readings a second, four channels; a bench log has a hundredth of it. */
const largestLog_bytes = 200e6;
/** The largest document without logs. A build with 500 runs has about a tenth of it. */
const largestDocument_bytes = 8e6;

/** The whole HTTP interface over a store: the API, one file per stage, and the pages. */
export function createApp(store: Store, options: AppOptions) {
  const assess = makeAssess(store);
  const document = limitBody(largestDocument_bytes, 'Shorten the notes, or split the build.');
  const heatJobs = options.heatJobs ?? new HeatJobs();
  const importPath = /^\/api\/builds\/[^/]+\/runs$/;

  const app = new Hono()
    .use(setHeaders)
    .use(guard(options.hosts ?? new Set(hostNames('localhost', 80))))
    .use('/api/*', (c, next) => (importPath.test(c.req.path) ? next() : document(c, next)))
    .get('/api/health', (c) => c.json({ ok: true as const }))
    .route('/', buildsRoutes(store))
    .route('/', probesRoutes(assess))
    .route('/', runsRoutes(store, assess, options.largestLog_bytes ?? largestLog_bytes))
    .route('/', compareRoutes(assess))
    .route('/', heatRoutes(assess, heatJobs))
    .route('/', lifeRoutes(assess, heatJobs))
    .route('/', verdictRoutes(assess))
    .route('/', dossierRoutes(store, assess));

  app.all('/api/*', (c) =>
    refuse(c, 404, {
      where: c.req.path,
      what: 'There is no such route.',
      remedy: 'See docs/architecture.md for the routes.',
    }),
  );
  app.get('*', serveFiles(options.webRoot));
  app.onError(answerError);
  return app;
}

/** The type a typed client is made from: `hc<App>(origin)`. */
export type App = ReturnType<typeof createApp>;
