import { type ReadonlySignal, signal } from '@preact/signals';
import type { HeatAssessment } from '@soakbench/core/heat';
import type { DutyChange, WhatIfs } from '@soakbench/core/life';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { type Remote, wrap } from 'comlink';
import { faultsOf } from '../api/faults.js';
import type { LifeAnswer, LifeWorker, SetupAnswer } from './life-worker.js';

/** One line of work in which only the newest wish counts; what is overtaken while it waits is never begun. */
class Lane<Wish> {
  readonly #work: (wish: Wish) => Promise<void>;
  #wanted: { readonly wish: Wish } | null = null;
  #running = false;

  constructor(work: (wish: Wish) => Promise<void>) {
    this.#work = work;
  }

  want(wish: Wish): void {
    this.#wanted = { wish };
    if (!this.#running) void this.#run();
  }

  drop(): void {
    this.#wanted = null;
  }

  async #run(): Promise<void> {
    this.#running = true;
    while (this.#wanted !== null) {
      const { wish } = this.#wanted;
      this.#wanted = null;
      // A wish that fails leaves the last answer standing; it must not stop the next one.
      await this.#work(wish).catch((error) => console.error(error));
    }
    this.#running = false;
  }
}

/** What a forecast is made of. */
interface Followed {
  readonly build: Build;
  readonly assessment: Assessment;
  readonly heat: HeatAssessment | null;
}

/** A build's forecast and what-ifs, worked out off the page, always for the newest state. */
export class LifeDesk {
  readonly #answer = signal<LifeAnswer | null>(null);
  readonly #inSetup = signal<SetupAnswer | null>(null);
  readonly #changed = signal<WhatIfs | null>(null);
  readonly #busy = signal(false);
  readonly #forecasts: Lane<Followed>;
  readonly #setups: Lane<string>;
  readonly #changes: Lane<{ readonly setup: string; readonly change: DutyChange }>;
  #worker: Worker | null = null;
  #remote: Remote<LifeWorker> | null = null;
  #followed: Followed | null = null;
  #setup: string | null = null;
  #closed = false;

  constructor() {
    this.#forecasts = new Lane(async ({ build, assessment, heat }) => {
      const { probes, runs, compare } = assessment;
      this.#busy.value = true;
      const answer = await this.#remotely().forecast(build, { probes, runs, compare }, heat).catch(asFailed);
      this.#busy.value = false;
      if (this.#closed) return;
      this.#answer.value = answer;
      if (answer.kind !== 'forecast') this.#inSetup.value = null;
      else if (this.#setup !== null) this.#setups.want(this.#setup);
    });
    this.#setups = new Lane(async (setup) => {
      const answer = await this.#remotely().inSetup(setup);
      if (!this.#closed && this.#setup === setup) this.#inSetup.value = answer;
    });
    this.#changes = new Lane(async ({ setup, change }) => {
      const answer = await this.#remotely().change(setup, change);
      if (!this.#closed) this.#changed.value = answer;
    });
  }

  /** Null until the first forecast is done; while a newer one is worked out, this is still the last one. */
  get answer(): ReadonlySignal<LifeAnswer | null> {
    return this.#answer;
  }
  get inSetup(): ReadonlySignal<SetupAnswer | null> {
    return this.#inSetup;
  }
  get changed(): ReadonlySignal<WhatIfs | null> {
    return this.#changed;
  }
  get busy(): ReadonlySignal<boolean> {
    return this.#busy;
  }

  /** Forecasts a build as it was assessed and modelled; once for each of these, however often it is asked. */
  follow(build: Build, assessment: Assessment, heat: HeatAssessment | null): void {
    const last = this.#followed;
    if (this.#closed || (last?.assessment === assessment && last.heat === heat)) return;
    this.#followed = { build, assessment, heat };
    this.#forecasts.want(this.#followed);
  }

  /** Asks for the what-ifs and the year of one set-up. */
  choose(setup: string): void {
    if (this.#setup === setup) return;
    this.#setup = setup;
    this.#changed.value = null;
    if (this.#answer.value?.kind === 'forecast') this.#setups.want(setup);
  }

  /** Weighs one change of habits; of changes that come faster than they are weighed, only the newest. */
  weigh(setup: string, change: DutyChange): void {
    this.#changes.want({ setup, change });
  }

  forgetChange(): void {
    this.#changes.drop();
    this.#changed.value = null;
  }

  close(): void {
    this.#closed = true;
    this.#worker?.terminate();
  }

  #remotely(): Remote<LifeWorker> {
    this.#worker ??= new Worker(new URL('./life-worker.ts', import.meta.url), { type: 'module' });
    this.#remote ??= wrap<LifeWorker>(this.#worker);
    return this.#remote;
  }
}

function asFailed(error: unknown): LifeAnswer {
  return { kind: 'failed', faults: faultsOf(error) };
}
