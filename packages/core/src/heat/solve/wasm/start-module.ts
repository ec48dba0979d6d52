import { compileWasm } from '../../../numerics/index.js';
import { HelperLostError, now_ms, patience_s } from '../threads.js';
import { heatModule } from './heat-module.js';
import { sharedHeatModule } from './heat-module-shared.js';

/** What packages/core/assembly/heat exports; `at` is an address. */
export interface HeatFunctions {
  run(kind: number, at: number, a: number, b: number): number;
  enlist(ticket: number, threads: number): void;
  pause(isPaused: boolean): void;
  serve(ticket: number, index: number, threads: number): void;
}

/** Waits are cut into pieces, so that a thread that is not woken looks for itself. */
const sleep_ms = 50;

/**
 * Throws where the platform has no WebAssembly, no SIMD or, for shared memory, no threads.
 *
 * @param role whether this thread has the memory to itself, shares its work out on it, or helps
 * @param onLate told how long, in ms, a thread slept because another had not come
 */
export function startModule(
  memory: WebAssembly.Memory,
  role: 'alone' | 'first' | 'helper',
  onLate: (slept_ms: number) => void = () => undefined,
): HeatFunctions {
  const module = compileWasm(role === 'alone' ? heatModule : sharedHeatModule);
  const words = new Int32Array(memory.buffer, 0, 256);
  const env = {
    memory,
    sleep(at: number, value: number, slept: number) {
      // Whoever asked for the work gets an error in place of an answer that never comes.
      if (role === 'first' && 1e-3 * sleep_ms * slept >= patience_s()) throw new HelperLostError();
      const since = now_ms();
      Atomics.wait(words, at >> 2, value, sleep_ms);
      onLate(now_ms() - since);
    },
    wake: (at: number) => void Atomics.notify(words, at >> 2),
  };
  return new WebAssembly.Instance(module, { env }).exports as unknown as HeatFunctions;
}
