/** Answers that take seconds: told line by line to whoever asks for lines, whole to anybody else. */
import type { Context } from 'hono';
import { stream } from 'hono/streaming';
import { answerError, type FaultAnswer, refuse } from './answer-error.js';
import { HeatBusyError, type OnProgress } from './heat-jobs.js';
import { HeatCalledOffError } from './heat-threads.js';

/** A line of the stream: how far it is, or what came of it. */
export type JobLine<Answer> =
  | { readonly kind: 'progress'; readonly share: number; readonly doing: string }
  | { readonly kind: 'answer'; readonly answer: Answer }
  | ({ readonly kind: 'failed' } & FaultAnswer);

/**
 * @param compute throws what it cannot do, before or after it began
 * @param whole the answer for those who do not want lines
 */
export async function answerJob<Answer>(
  c: Context,
  compute: (signal: AbortSignal, onProgress: OnProgress) => Promise<Answer>,
  whole: (answer: Answer) => Response | Promise<Response>,
): Promise<Response> {
  if (!c.req.header('accept')?.includes('application/x-ndjson')) {
    try {
      return await whole(await compute(c.req.raw.signal, () => undefined));
    } catch (error) {
      return failed(error as Error, c);
    }
  }
  c.header('content-type', 'application/x-ndjson');
  return stream(c, async (lines) => {
    const gone = new AbortController();
    lines.onAbort(() => gone.abort());
    const signal = AbortSignal.any([gone.signal, c.req.raw.signal]);
    const write = (line: JobLine<Answer>) => lines.writeln(JSON.stringify(line));
    try {
      const answer = await compute(signal, (share, doing) => void write({ kind: 'progress', share, doing }));
      await write({ kind: 'answer', answer });
    } catch (error) {
      if (error instanceof HeatCalledOffError) return;
      const { faults } = (await failed(error as Error, c).json()) as FaultAnswer;
      await write({ kind: 'failed', faults });
    }
  });
}

function failed(error: Error, c: Context): Response {
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
