import { BadInputError } from '@soakbench/core/measure';
import type { Recipe } from '@soakbench/core/records';
import { proxy, wrap } from 'comlink';
import type { ReadWorker } from './read-worker.js';

/** Reads one log in a worker of its own, so that it can be stopped at any moment without harm to anything else. */
export class LogReader {
  readonly #worker = new Worker(new URL('./read-worker.ts', import.meta.url), { type: 'module' });
  #stop: () => void = () => undefined;

  /**
   * @returns SHA-256 of the log's bytes, or null where the reading was stopped by `close`
   * @throws BadInputError where the recipe does not read the log
   */
  async read(
    log: Blob,
    recipe: Recipe,
    file: string,
    onRead: (read_bytes: number) => void,
  ): Promise<string | null> {
    const stopped = new Promise<null>((resolve) => {
      this.#stop = () => resolve(null);
    });
    const read = await Promise.race([
      wrap<ReadWorker>(this.#worker).read(log, recipe, file, proxy(onRead)),
      stopped,
    ]);
    if (read !== null && 'faults' in read) throw new BadInputError(read.faults);
    return read?.sha256 ?? null;
  }

  close(): void {
    this.#worker.terminate();
    this.#stop();
  }
}
