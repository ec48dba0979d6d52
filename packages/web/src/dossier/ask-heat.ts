import type { Fault } from '@soakbench/core/measure';
import type { JobLine } from '@soakbench/server';
import { RefusedError, UnreachableError } from '../api/faults.js';

/** The dossier with the heat model in it; the server computes the model when it is first asked. */
export function heatDossierAddress(build: string): string {
  return `/api/builds/${encodeURIComponent(build)}/dossier?heat=1`;
}

/**
 * Has the server compute the heat model for a dossier, so that it can be opened at once afterwards.
 *
 * @param signal calls the work off
 * @throws RefusedError with what the records lack, UnreachableError, or the signal's own reason
 */
export async function askForHeat(
  build: string,
  signal: AbortSignal,
  onProgress: (share: number, doing: string) => void,
): Promise<void> {
  for await (const line of readLines(build, signal)) {
    if (line.kind === 'progress') onProgress(line.share, line.doing);
    else if (line.kind === 'failed') throw new RefusedError(422, line.faults);
    else return;
  }
  throw new UnreachableError('The server ended before it had answered.');
}

async function* readLines(build: string, signal: AbortSignal): AsyncGenerator<JobLine<unknown>> {
  let reader: ReadableStreamDefaultReader<Uint8Array> | undefined;
  let rest = '';
  const decoder = new TextDecoder();
  try {
    const answer = await fetch(heatDossierAddress(build), {
      headers: { accept: 'application/x-ndjson' },
      signal,
    });
    reader = answer.body?.getReader();
    if (reader === undefined) return;
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      const lines = (rest + decoder.decode(value, { stream: true })).split('\n');
      rest = lines.pop() ?? '';
      yield* lines.filter((line) => line !== '').map((line) => JSON.parse(line) as JobLine<readonly Fault[]>);
    }
  } catch (error) {
    if (signal.aborted || error instanceof RefusedError) throw error;
    throw new UnreachableError('The server does not answer.');
  } finally {
    await reader?.cancel().catch(() => undefined);
  }
}
