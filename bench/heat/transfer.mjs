// @ts-check
/**
 * How long a number takes from one thread to another, ns: half of there and back, median of many. What two threads gain on a
 * small grid hangs on it: tens of ns where their cores share a cache, hundreds where they do not, and a virtual machine may be
 * moved from one to the other between two runs.
 */
import { isMainThread, Worker, workerData } from 'node:worker_threads';

const [there, back] = [0, 32];
const rounds = 2000;

/** @returns {Promise<number>} */
export async function measureTransfer_ns() {
  const words = new Int32Array(new SharedArrayBuffer(1024));
  const worker = new Worker(new URL(import.meta.url), { workerData: words });
  await new Promise((resolve) => worker.once('online', resolve));
  const passes = [...Array(31)].map((_, pass) => {
    const before = performance.now();
    for (let round = 1; round <= rounds; round++) {
      const number = pass * rounds + round;
      Atomics.store(words, there, number);
      while (Atomics.load(words, back) !== number);
    }
    return (1e6 * (performance.now() - before)) / rounds / 2;
  });
  await worker.terminate();
  return passes.sort((a, b) => a - b)[passes.length >> 1] ?? Number.NaN;
}

if (!isMainThread) {
  /** @type {Int32Array} */
  const words = workerData;
  for (;;) Atomics.store(words, back, Atomics.load(words, there));
}
