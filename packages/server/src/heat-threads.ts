/** Heat work in threads of its own, so that whoever asked stays quick to answer, and can call it off. */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { HeatAnswers, HeatWork } from '@soakbench/core/heat';
import { BadInputError, type Fault } from '@soakbench/core/measure';

export interface HeatMessage {
  readonly id: number;
  readonly work: HeatWork;
}

export type HeatReply =
  | { readonly id: number; readonly kind: 'progress'; readonly share: number; readonly doing: string }
  | { readonly id: number; readonly kind: 'answer'; readonly answer: HeatAnswers[HeatWork['kind']] }
  | {
      readonly id: number;
      readonly kind: 'failed';
      readonly message: string;
      readonly faults: readonly Fault[] | null;
    };

/** Work that was called off by `end`. */
export class HeatCalledOffError extends Error {
  override readonly name = 'HeatCalledOffError';
}

/** The worker lies beside this file once it is built; from the sources, as tests run, the built one is taken. */
const workerFile = new URL(
  import.meta.url.endsWith('.ts') ? '../dist/heat-worker.js' : './heat-worker.js',
  import.meta.url,
);

interface Waiting {
  readonly onProgress: ((share: number, doing: string) => void) | undefined;
  readonly resolve: (answer: HeatAnswers[HeatWork['kind']]) => void;
  readonly reject: (error: Error) => void;
}

/** What a thread is started with: how many further ones its solvers have. */
export interface HeatThreadSetup {
  readonly helpers: number;
}

/** One thread, which does one piece of work after the other and keeps its fields and buffers between them. */
export class HeatThread {
  private readonly worker: Worker;
  private readonly waiting = new Map<number, Waiting>();
  private sent = 0;
  private ended = false;

  /** @param isOnlyOne its solvers may take a second core: there are no other threads at work beside it */
  constructor(isOnlyOne = false) {
    const workerData: HeatThreadSetup = { helpers: isOnlyOne && availableParallelism() > 1 ? 1 : 0 };
    this.worker = new Worker(workerFile, { workerData });
    this.worker.on('message', (reply: HeatReply) => this.take(reply));
    this.worker.on('error', (error) => this.giveUp(error as Error));
    this.worker.on('exit', () => this.giveUp(new HeatCalledOffError('The work was called off.')));
  }

  /**
   * @throws BadInputError where records or wish cannot be
   * @throws HeatCalledOffError where the thread was ended meanwhile
   */
  do<Kind extends HeatWork['kind']>(
    work: Extract<HeatWork, { kind: Kind }>,
    onProgress?: (share: number, doing: string) => void,
  ): Promise<HeatAnswers[Kind]> {
    const id = ++this.sent;
    return new Promise((resolve, reject) => {
      if (this.ended) {
        reject(new HeatCalledOffError('The work was called off.'));
        return;
      }
      this.waiting.set(id, { onProgress, resolve: resolve as Waiting['resolve'], reject });
      this.worker.postMessage({ id, work } satisfies HeatMessage);
    });
  }

  /** Stops at once, whatever is being computed. */
  async end(): Promise<void> {
    this.giveUp(new HeatCalledOffError('The work was called off.'));
    await this.worker.terminate();
  }

  private take(reply: HeatReply): void {
    const asked = this.waiting.get(reply.id);
    if (asked === undefined) return;
    if (reply.kind === 'progress') {
      asked.onProgress?.(reply.share, reply.doing);
      return;
    }
    this.waiting.delete(reply.id);
    if (reply.kind === 'answer') asked.resolve(reply.answer);
    else asked.reject(reply.faults === null ? new Error(reply.message) : new BadInputError(reply.faults));
  }

  private giveUp(error: Error): void {
    this.ended = true;
    for (const { reject } of this.waiting.values()) reject(error);
    this.waiting.clear();
  }
}
