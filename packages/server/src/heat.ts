import { type Context, Hono } from 'hono';
import { stream } from 'hono/streaming';
import { answerError, refuse } from './answer-error.js';
import type { Assess } from './assess.js';
import { type HeatAnswer, HeatBusyError, type HeatJobs, type OnProgress } from './heat-jobs.js';
import { HeatCalledOffError } from './heat-threads.js';

/** A line of the stream: how far it is, or what came of it. */
export type HeatLine =
  | { readonly kind: 'progress'; readonly share: number; readonly doing: string }
  | { readonly kind: 'answer'; readonly answer: HeatAnswer }
  | { readonly kind: 'failed'; readonly faults: unknown };

/**
 * What would an untried set-up do?
 *
 * Seconds of work the first time, nothing the second. Whoever accepts `application/x-ndjson` is told how far it is, line by line; anybody else
 * waits for the answer. Going away calls the work off.
 */
export function heatRoutes(assess: Assess, jobs: HeatJobs) {
  const compute = (c: Context, signal: AbortSignal, onProgress: OnProgress): Promise<HeatAnswer> => {
    const { stored, assessment } = assess(c.req.param('id') ?? '');
    const { main, others } = assessment.compare;
    return jobs.assess(
      {
        build: stored.build,
        contests: main === null ? others : [main, ...others],
        corrections: assessment.probes.corrections,
        runs: assessment.runs.runs,
      },
      signal,
      onProgress,
    );
  };
  return new Hono().get('/api/builds/:id/heat', async (c) => {
    if (c.req.header('accept')?.includes('application/x-ndjson')) {
      c.header('content-type', 'application/x-ndjson');
      return stream(c, async (lines) => {
        const gone = new AbortController();
        lines.onAbort(() => gone.abort());
        const signal = AbortSignal.any([gone.signal, c.req.raw.signal]);
        const write = (line: HeatLine) => lines.writeln(JSON.stringify(line));
        try {
          const answer = await compute(
            c,
            signal,
            (share, doing) => void write({ kind: 'progress', share, doing }),
          );
          await write({ kind: 'answer', answer });
        } catch (error) {
          if (error instanceof HeatCalledOffError) return;
          await write({ kind: 'failed', faults: await (await failed(error as Error, c)).json() });
        }
      });
    }
    try {
      return c.json(await compute(c, c.req.raw.signal, () => undefined));
    } catch (error) {
      return failed(error as Error, c);
    }
  });
}

function failed(error: Error, c: Context): Response | Promise<Response> {
  return refuseHeat(error, c) ?? answerError(error, c);
}

/** What the jobs say where they take no more or were called off; null for any other error. */
export function refuseHeat(error: unknown, c: Context): Response | null {
  if (error instanceof HeatBusyError)
    return refuse(c, 503, { where: 'heat', what: error.message, remedy: 'Wait a minute and ask again.' });
  if (error instanceof HeatCalledOffError)
    return refuse(c, 503, { where: 'heat', what: error.message, remedy: 'Ask again.' });
  return null;
}
