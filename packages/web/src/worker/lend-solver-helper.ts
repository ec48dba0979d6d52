/** A second thread for the solvers of a worker. */
import { lendThreads } from '@soakbench/core/heat';

/** Cores below which a second thread would take the one that paints: page, worker and helper want one each, and the system one. */
const fewestCores = 4;

/** Lends one where memory can be shared, which takes a page that is isolated from others, and where there are cores enough. */
export function lendSolverHelper(): void {
  if (!self.crossOriginIsolated || navigator.hardwareConcurrency < fewestCores) return;
  const helper = new Worker(new URL('./solver-helper.ts', import.meta.url), { type: 'module' });
  helper.onerror = () => lendThreads(undefined);
  lendThreads({
    count: 1,
    now_ms: () => performance.now(),
    send: (_, wanted) => helper.postMessage(wanted),
    end: () => helper.terminate(),
  });
}
