import { type ReadonlySignal, signal } from '@preact/signals';
import type { Fault } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { RunSeries } from '@soakbench/core/runs';
import type { Assessment } from '@soakbench/core/verdict';
import { type Remote, wrap } from 'comlink';
import { faultsOf, RefusedError } from '../api/faults.js';
import type { BenchWorker } from './assess-worker.js';

/** One worker for all builds: its memo survives going from one build to the next. */
let shared: Remote<BenchWorker> | undefined;

function benchWorker(): Remote<BenchWorker> {
  shared ??= wrap<BenchWorker>(
    new Worker(new URL('./assess-worker.ts', import.meta.url), { type: 'module' }),
  );
  return shared;
}

/** SHA-256 of every log the worker holds. */
const sent = new Set<string>();

/** Computes a build's assessment off the page, always for the newest state of the build, never twice at once. */
export class Assessor {
  readonly #fetchLog: (file: string) => Promise<Uint8Array>;
  readonly #assessment = signal<Assessment | null>(null);
  readonly #busy = signal(false);
  readonly #faults = signal<readonly Fault[]>([]);
  #wanted: Build | null = null;
  #working: Promise<void> | null = null;
  #closed = false;

  constructor(fetchLog: (file: string) => Promise<Uint8Array>) {
    this.#fetchLog = fetchLog;
  }

  get assessment(): ReadonlySignal<Assessment | null> {
    return this.#assessment;
  }
  get busy(): ReadonlySignal<boolean> {
    return this.#busy;
  }
  get faults(): ReadonlySignal<readonly Fault[]> {
    return this.#faults;
  }

  /** Asks for the assessment of this build; a build asked for while another is computed is taken next. */
  follow(build: Build): void {
    this.#wanted = build;
    this.#working ??= this.#work().finally(() => {
      this.#working = null;
    });
  }

  /** The readings of one run, as logged and as corrected. @throws what fetching or reading the log threw */
  async series(build: Build, runId: string): Promise<RunSeries> {
    const logs = await this.#freshLogs(build, runId);
    const series = await benchWorker().series(build, runId, logs);
    noteSent(logs);
    return series;
  }

  close(): void {
    this.#closed = true;
    this.#wanted = null;
  }

  async #work(): Promise<void> {
    this.#busy.value = true;
    while (this.#wanted !== null) {
      const build = this.#wanted;
      this.#wanted = null;
      try {
        const logs = await this.#freshLogs(build);
        const assessment = await benchWorker().assess(build, logs);
        noteSent(logs);
        if (this.#closed) return;
        this.#assessment.value = assessment;
        this.#faults.value = [];
      } catch (error) {
        this.#faults.value = faultsOf(error);
      }
    }
    this.#busy.value = false;
  }

  /** The logs of these runs that the worker does not hold. One that the server does not have is left for `core` to name. */
  async #freshLogs(build: Build, only?: string): Promise<ReadonlyMap<string, Uint8Array>> {
    const wanted = build.runs.filter(
      (run) => (only === undefined || run.id === only) && !sent.has(run.log.sha256),
    );
    const logs = new Map<string, Uint8Array>();
    await Promise.all(
      wanted.map(async ({ log }) => {
        try {
          logs.set(log.sha256, await this.#fetchLog(log.file));
        } catch (error) {
          if (!(error instanceof RefusedError && error.status === 404)) throw error;
        }
      }),
    );
    return logs;
  }
}

function noteSent(logs: ReadonlyMap<string, Uint8Array>): void {
  for (const sha256 of logs.keys()) sent.add(sha256);
}
