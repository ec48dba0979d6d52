import { BadInputError } from '@soakbench/core/measure';
import { type Build, checkBuild, type Run } from '@soakbench/core/records';
import { convertSignals, readLog } from '@soakbench/core/runs';
import { hashLog, type Store, UnknownBuildError } from '@soakbench/store';
import { Hono } from 'hono';
import { validator } from 'hono/validator';
import { refuse } from './answer-error.js';
import type { Assess } from './assess.js';
import { limitBody } from './limit-body.js';
import { needRevision, needText } from './request-fields.js';

/** What did the bench measure? Logs in, results and the logs themselves out. */
export function runsRoutes(store: Store, assess: Assess, largestLog_bytes: number) {
  return new Hono()
    .get('/api/builds/:id/runs', (c) => c.json(assess(c.req.param('id')).assessment.runs))
    .post(
      '/api/builds/:id/runs',
      limitBody(largestLog_bytes, 'Split the log at a pause, or log less often.'),
      validator('form', (form: Readonly<Record<string, unknown>>) => ({
        revision: String(needRevision(form['revision'])),
        run: needText(form['run'], 'run', 1_000_000),
        log: needFile(form['log']),
      })),
      async (c) => {
        const { revision, run, log } = c.req.valid('form');
        const id = c.req.param('id');
        const current = store.build(id);
        if (!current) throw new UnknownBuildError(id);
        const bytes = new Uint8Array(await log.arrayBuffer());
        const added = addRun(current.build, parseRun(run), log.name, hashLog(bytes));
        // A log that cannot be read is refused here, while the person still has the file at hand.
        const { file } = added.run.log;
        convertSignals(readLog(bytes, added.run.recipe, file), added.build.probes, file);
        return c.json(store.importRun(added.build, Number(revision), file, bytes), 201);
      },
    )
    .get('/api/builds/:id/logs/:file', (c) => {
      const { id, file } = c.req.param();
      if (!store.build(id)) throw new UnknownBuildError(id);
      const bytes = store.log(id, file);
      if (!bytes) {
        return refuse(c, 404, {
          where: `logs/${file}`,
          what: 'There is no such log.',
          remedy: 'See the runs of the build.',
        });
      }
      return c.body(new Uint8Array(bytes), 200, {
        'content-type': 'application/octet-stream',
        'content-disposition': `attachment; filename*=UTF-8''${encodeURIComponent(file)}`,
      });
    });
}

function needFile(value: unknown): File {
  if (value instanceof File) return value;
  throw new BadInputError([
    { where: 'log', what: 'There is no log file.', remedy: 'Send the file in the field "log".' },
  ]);
}

function parseRun(text: string): Record<string, unknown> {
  try {
    const run: unknown = JSON.parse(text);
    if (typeof run === 'object' && run !== null && !Array.isArray(run)) return run as Record<string, unknown>;
  } catch {
    // Answered below, together with JSON that is no record.
  }
  throw new BadInputError([
    {
      where: 'run',
      what: 'This is not a run record in JSON.',
      remedy: 'See docs/build.schema.json for what a run takes.',
    },
  ]);
}

/** The build with the run at its end. The file's name is the record's where it has one, for forms garble names. */
function addRun(
  build: Build,
  run: Record<string, unknown>,
  fileName: string,
  sha256: string,
): { build: Build; run: Run } {
  const log = { file: fileName, ...(run['log'] as Record<string, unknown> | undefined), sha256 };
  const grown = checkBuild({ ...build, runs: [...build.runs, { ...run, log }] }, 'This build');
  return { build: grown, run: grown.runs.at(-1) as Run };
}
