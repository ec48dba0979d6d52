/** A second thread for the solvers of a worker. */
import { lendThreads } from '@soakbench/core/heat';

/** Cores below which a second thread would take the one that paints: page, worker and helper want one each, and the system one. */
const fewestCores = 4;

/** Nobody waits longer for a helper than this before a first solve, ms. It mostly listens after some dozens. */
const longestWait_ms = 2000;

/**
 * Lends one where memory can be shared, which takes a page that is isolated from others, and where there are cores enough.
 *
 * Chromium passes messages to a worker of a worker on only while the outer one is idle, and a solver never is: helpers sent for that way came
 * when the calibration had ended. A port of their own is not held up.
 *
 * @returns settles once the helper listens, or where none is to be waited for
 */
export function lendSolverHelper(): Promise<void> {
  if (!self.crossOriginIsolated || navigator.hardwareConcurrency < fewestCores) return Promise.resolve();
  const helper = new Worker(new URL('./solver-helper.ts', import.meta.url), { type: 'module' });
  return new Promise((resolve) => {
    setTimeout(resolve, longestWait_ms);
    helper.onerror = () => {
      lendThreads(undefined);
      resolve();
    };
    helper.onmessage = ({ ports: [port] }) => {
      lendThreads({
        count: 1,
        now_ms: () => performance.now(),
        send: (_, wanted) => port?.postMessage(wanted),
        end: () => helper.terminate(),
      });
      resolve();
    };
  });
}
