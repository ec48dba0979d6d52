/** Assessments of the heat model as jobs: one at a time, shared by all who wait for the same, called off when nobody does. */
import { createHash } from 'node:crypto';
import type { HeatAnswers, HeatInputs } from '@soakbench/core/heat';
import { BoundedMap } from './bounded-map.js';
import { HeatCalledOffError, HeatThread } from './heat-threads.js';

export type HeatAnswer = HeatAnswers['assess'];
export type OnProgress = (share: number, doing: string) => void;

/** How many answers are kept; one is some ten kilobytes. */
const keptAnswers = 40;
/** Jobs that wait behind the one that runs. A bench has one person; more than this is a mistake somewhere. */
const mostWaiting = 8;

/** Too many different builds are asked for at once. */
export class HeatBusyError extends Error {
  override readonly name = 'HeatBusyError';
}

interface Job {
  readonly inputs: HeatInputs;
  readonly listeners: Set<OnProgress>;
  readonly answer: Promise<HeatAnswer>;
  readonly settle: {
    readonly resolve: (answer: HeatAnswer) => void;
    readonly reject: (error: unknown) => void;
  };
  waiting: number;
  thread: HeatThread | undefined;
}

export class HeatJobs {
  private readonly answers = new BoundedMap<string, HeatAnswer>(keptAnswers);
  private readonly jobs = new Map<string, Job>();

  /**
   * The assessment of a build, computed once for the same inputs.
   *
   * @param signal of whoever asks: when the last one has gone, the work stops
   * @throws HeatBusyError where too many jobs wait
   * @throws HeatCalledOffError where the signal came first
   */
  async assess(inputs: HeatInputs, signal: AbortSignal, onProgress: OnProgress): Promise<HeatAnswer> {
    const key = createHash('sha256').update(JSON.stringify(inputs)).digest('hex');
    const known = this.answers.get(key);
    if (known !== undefined) return known;
    if (signal.aborted) throw new HeatCalledOffError('Nobody waits for it any more.');
    const job = this.jobs.get(key) ?? this.queue(key, inputs);
    job.waiting++;
    job.listeners.add(onProgress);
    let leave: () => void = () => undefined;
    const gone = new Promise<never>((_, reject) => {
      leave = () => reject(new HeatCalledOffError('Nobody waits for it any more.'));
      signal.addEventListener('abort', leave, { once: true });
    });
    try {
      return await Promise.race([job.answer, gone]);
    } finally {
      signal.removeEventListener('abort', leave);
      job.listeners.delete(onProgress);
      job.waiting--;
      if (job.waiting === 0 && this.jobs.get(key) === job) await this.callOff(key, job);
    }
  }

  /** Ends whatever runs. */
  async close(): Promise<void> {
    await Promise.all([...this.jobs].map(([key, job]) => this.callOff(key, job)));
  }

  private queue(key: string, inputs: HeatInputs): Job {
    if (this.jobs.size > mostWaiting) throw new HeatBusyError('Too many heat models are being computed.');
    const { promise, ...settle } = makePromise();
    // Whoever waited has gone when a job is called off; nobody is left to hear of it.
    promise.catch(() => undefined);
    const job: Job = { inputs, listeners: new Set(), answer: promise, settle, waiting: 0, thread: undefined };
    this.jobs.set(key, job);
    this.startNext();
    return job;
  }

  private startNext(): void {
    const all = [...this.jobs];
    if (all.some(([, { thread }]) => thread !== undefined)) return;
    const [first] = all;
    if (first !== undefined) void this.run(...first);
  }

  private async run(key: string, job: Job): Promise<void> {
    const thread = new HeatThread(true);
    job.thread = thread;
    try {
      const answer = await thread.do({ kind: 'assess', inputs: job.inputs }, (share, doing) => {
        for (const listener of job.listeners) listener(share, doing);
      });
      this.answers.set(key, answer);
      job.settle.resolve(answer);
    } catch (error) {
      job.settle.reject(error);
    } finally {
      if (this.jobs.get(key) === job) this.jobs.delete(key);
      await thread.end();
      this.startNext();
    }
  }

  private async callOff(key: string, job: Job): Promise<void> {
    this.jobs.delete(key);
    job.settle.reject(new HeatCalledOffError('Nobody waits for it any more.'));
    await job.thread?.end();
    this.startNext();
  }
}

function makePromise(): Job['settle'] & { readonly promise: Promise<HeatAnswer> } {
  let settle: Job['settle'] | undefined;
  const promise = new Promise<HeatAnswer>((resolve, reject) => {
    settle = { resolve, reject };
  });
  return { promise, ...(settle as Job['settle']) };
}
