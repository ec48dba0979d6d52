import { availableParallelism } from 'node:os';
import { HeatCalledOffError, HeatThread } from '@soakbench/server/heat-threads';
import { ProgressLine } from '../parts/progress-line.js';

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
