import { availableParallelism } from 'node:os';
import { HeatCalledOffError, HeatThread } from '@soakbench/server/heat-threads';
import { notePage } from '../parts/output.js';
import { paint, softenBlanks } from '../parts/page.js';

/** Ended by Ctrl-C. The shell's own code for that is 128 and the number of the signal. */
export const stoppedCode = 130;

/**
 * Runs heavy work in threads, with progress on a terminal, and ends at once on Ctrl-C.
 *
 * @param work gets what starts threads and tells progress
 * @param onStopped what to keep when it is stopped
 * @returns null where it was stopped
 */
export async function withThreads<T>(
  work: (threads: Threads) => Promise<T>,
  onStopped: () => void = () => undefined,
): Promise<T | null> {
  const started: HeatThread[] = [];
  const progress = new ProgressLine();
  let isStopped = false;
  const endAll = () => Promise.all(started.map((thread) => thread.end()));
  const stop = () => {
    if (isStopped) return;
    isStopped = true;
    void endAll();
  };
  process.on('SIGINT', stop);
  process.on('SIGTERM', stop);
  try {
    return await work({
      start: (isOnlyOne) => {
        const thread = new HeatThread(isOnlyOne);
        started.push(thread);
        return thread;
      },
      tell: (share, doing) => progress.tell(share, doing),
    });
  } catch (error) {
    if (!isStopped || !(error instanceof HeatCalledOffError)) throw error;
    progress.clear();
    onStopped();
    return null;
  } finally {
    progress.clear();
    process.off('SIGINT', stop);
    process.off('SIGTERM', stop);
    await endAll();
  }
}

export interface Threads {
  /** @param isOnlyOne its solvers may take a second core */
  start(isOnlyOne?: boolean): HeatThread;
  tell(share: number, doing: string): void;
}

/** As many as there is work for and the machine has room for. */
export function countThreads(pieces: number): number {
  return Math.max(1, Math.min(availableParallelism(), pieces));
}

/** One line on standard error that is written over; nothing where that is no terminal. */
class ProgressLine {
  private shown = '';
  private readonly page = notePage();

  tell(share: number, doing: string): void {
    if (process.stderr.isTTY !== true) return;
    const line = softenBlanks(`${(100 * share).toFixed(0).padStart(3)} %  ${doing}`).slice(
      0,
      this.page.width,
    );
    if (line === this.shown) return;
    process.stderr.write(`\r\u001b[K${paint(this.page, 'quiet', line)}`);
    this.shown = line;
  }

  clear(): void {
    if (this.shown !== '') process.stderr.write('\r\u001b[K');
    this.shown = '';
  }
}
