/** Further threads for solvers of the thread that calls: they share the rows of a grid and give the same field, sooner. */
import { Worker } from 'node:worker_threads';
import { lendThreads } from '@soakbench/core/heat';

/** As for heat-worker.js: beside this file once it is built. */
const helperFile = new URL(
  import.meta.url.endsWith('.ts') ? '../dist/solver-helper.js' : './solver-helper.js',
  import.meta.url,
);

/**
 * Lends helpers to all solvers made in this thread from now on. They end with the thread, and keep no process alive.
 *
 * @param count further threads, besides the one that calls
 * @param waits see `HelperThreads`
 * @returns ends them
 */
export function startSolverThreads(count: number, waits = false): () => Promise<void> {
  const workers = Array.from({ length: count }, () => new Worker(helperFile));
  const end = async () => {
    lendThreads(undefined);
    await Promise.all(workers.map((worker) => worker.terminate()));
  };
  for (const worker of workers) {
    worker.unref();
    // Without a helper a solve does its work alone; one that waits for it finds out by itself.
    worker.on('error', () => lendThreads(undefined));
  }
  lendThreads({
    count,
    waits,
    now_ms: () => performance.now(),
    send: (place, wanted) => workers[place]?.postMessage(wanted),
    end: () => void end(),
  });
  return end;
}
