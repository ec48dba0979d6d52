import { type ReadonlySignal, signal } from '@preact/signals';
import type { Fault } from '@soakbench/core/measure';
import { type Build, checkBuild, type Run } from '@soakbench/core/records';
import type { BuildApi, Stored } from './build-api.js';
import type { DraftShelf } from './drafts.js';
import { faultsOf, RefusedError, UnreachableError } from './faults.js';

interface PendingEdit {
  readonly what: string;
  readonly change: (build: Build) => Build;
}

/** Something to say once: what happened, and what can be done about it. */
export interface Notice {
  readonly title: string;
  readonly faults?: readonly Fault[];
  readonly action?: { readonly verb: string; readonly run: () => void };
}

/** How many milliseconds pass before an edit is offered again to a server that did not answer. */
const firstWait_ms = 1000;
const longestWait_ms = 30_000;

/**
 * A build that is being worked on. Edits show at once and are sent one after the other, each as the whole document
 * with the revision it stands on. Edits are kept as functions, so that after a conflict they are laid on top of the
 * document as it has become, and nobody's work is overwritten.
 */
export class OpenBuild {
  readonly id: string;
  readonly #api: BuildApi;
  readonly #drafts: DraftShelf;
  readonly #build = signal<Build | null>(null);
  readonly #faults = signal<readonly Fault[]>([]);
  readonly #keeping = signal<'kept' | 'keeping' | 'not-kept'>('kept');
  readonly #notice = signal<Notice | null>(null);
  readonly #steps = signal({ canUndo: false, canRedo: false });
  #base: Stored | null = null;
  #queue: PendingEdit[] = [];
  #turns: Promise<unknown> = Promise.resolve();
  #wait_ms = firstWait_ms;
  #retry: ReturnType<typeof setTimeout> | undefined;

  constructor(id: string, api: BuildApi, drafts: DraftShelf) {
    this.id = id;
    this.#api = api;
    this.#drafts = drafts;
  }

  /** The build with every edit in it, kept or not; null until it is loaded. */
  get build(): ReadonlySignal<Build | null> {
    return this.#build;
  }
  /** Why it could not be loaded. */
  get faults(): ReadonlySignal<readonly Fault[]> {
    return this.#faults;
  }
  get keeping(): ReadonlySignal<'kept' | 'keeping' | 'not-kept'> {
    return this.#keeping;
  }
  get notice(): ReadonlySignal<Notice | null> {
    return this.#notice;
  }
  get steps(): ReadonlySignal<{ canUndo: boolean; canRedo: boolean }> {
    return this.#steps;
  }

  dismiss(): void {
    this.#notice.value = null;
  }

  async load(): Promise<void> {
    this.#faults.value = [];
    try {
      this.#adopt(await this.#api.build(this.id));
    } catch (error) {
      this.#faults.value = faultsOf(error);
      return;
    }
    this.#takeUpDraft();
  }

  /** Changes the build at once, and keeps the change as soon as the server answers. A change that breaks a rule is refused. */
  edit(what: string, change: (build: Build) => Build): void {
    const build = this.#build.value;
    if (build === null) return;
    try {
      this.#build.value = checkBuild(change(build), 'This build');
    } catch (error) {
      this.#notice.value = { title: `Not kept: ${what}`, faults: faultsOf(error) };
      return;
    }
    this.#queue.push({ what, change });
    this.#keeping.value = 'keeping';
    this.#saveDraft();
    void this.settle();
  }

  /** Sends what is pending; done when everything is kept or the server does not answer. */
  settle(): Promise<void> {
    clearTimeout(this.#retry);
    const last = this.#queue.at(-1);
    return this.#inTurn(() => this.#sendUpTo(last));
  }

  undo(): Promise<void> {
    return this.#step('undo', (revision) => this.#api.undo(this.id, revision));
  }

  redo(): Promise<void> {
    return this.#step('redo', (revision) => this.#api.redo(this.id, revision));
  }

  /**
   * Stores a log and the run it belongs to, both or neither.
   *
   * @throws RefusedError with the faults of the log, or UnreachableError; nothing is stored then
   */
  async importRun(run: Run, file: string, log: Blob): Promise<void> {
    const last = this.#queue.at(-1);
    await this.#inTurn(async () => {
      await this.#sendUpTo(last);
      if (this.#base === null || this.#isPending(last))
        throw new UnreachableError('The edits before it are not kept yet.');
      try {
        this.#adopt(await this.#api.importRun(this.id, this.#base.revision, run, file, log));
      } catch (error) {
        if (!isConflict(error)) throw error;
        const latest = await this.#api.build(this.id);
        this.#adopt(await this.#api.importRun(this.id, latest.revision, run, file, log));
      }
    });
  }

  /** True while closing the page would lose an edit that neither server nor browser holds for certain. */
  get unkept(): boolean {
    return this.#queue.length > 0;
  }

  close(): void {
    clearTimeout(this.#retry);
  }

  /** What asks the server waits for what asked before it: each stands on the revision the last one left. */
  #inTurn<T>(ask: () => Promise<T>): Promise<T> {
    const turn = this.#turns.then(ask);
    this.#turns = turn.catch(() => undefined);
    return turn;
  }

  #isPending(edit: PendingEdit | undefined): boolean {
    return edit !== undefined && this.#queue.includes(edit);
  }

  /** Sends the edits up to this one, and none that was typed after it: a step back asked between the two goes first. */
  async #sendUpTo(last: PendingEdit | undefined): Promise<void> {
    while (this.#base !== null && this.#isPending(last)) {
      const head = this.#queue[0] as PendingEdit;
      this.#keeping.value = 'keeping';
      try {
        const document = checkBuild(head.change(this.#base.build), 'This build');
        this.#base = await this.#api.saveBuild(document, this.#base.revision, head.what);
        this.#queue.shift();
        this.#wait_ms = firstWait_ms;
      } catch (error) {
        if (!(await this.#recover(error, head))) return;
      }
    }
    if (this.#base === null || this.#queue.length > 0) return;
    this.#keeping.value = 'kept';
    this.#steps.value = { canUndo: this.#base.canUndo, canRedo: this.#base.canRedo };
    this.#drafts.clear(this.id);
  }

  /** Deals with an edit the server did not take. True if sending can go on. */
  async #recover(error: unknown, head: PendingEdit): Promise<boolean> {
    if (isConflict(error)) {
      try {
        this.#base = await this.#api.build(this.id);
      } catch (second) {
        return this.#waitFor(second);
      }
      this.#notice.value = {
        title: 'This build was changed in another place meanwhile. Your edits are laid on top of it.',
      };
      this.#layEdits();
      return true;
    }
    if (error instanceof UnreachableError || (error instanceof RefusedError && error.status >= 500)) {
      return this.#waitFor(error);
    }
    this.#queue.shift();
    this.#notice.value = { title: `Not kept: ${head.what}`, faults: faultsOf(error) };
    this.#layEdits();
    return true;
  }

  #waitFor(error: unknown): false {
    this.#keeping.value = 'not-kept';
    this.#notice.value = {
      title: 'Your latest edits are not kept yet.',
      faults: faultsOf(error),
      action: { verb: 'Try now', run: () => void this.settle() },
    };
    this.#retry = setTimeout(() => void this.settle(), this.#wait_ms);
    this.#wait_ms = Math.min(2 * this.#wait_ms, longestWait_ms);
    return false;
  }

  /** The server's document with every pending edit on it; an edit that no longer fits is left out and named. */
  #layEdits(): void {
    if (this.#base === null) return;
    let build = this.#base.build;
    this.#queue = this.#queue.filter((edit) => {
      try {
        build = checkBuild(edit.change(build), 'This build');
        return true;
      } catch (error) {
        this.#notice.value = { title: `Not kept: ${edit.what}`, faults: faultsOf(error) };
        return false;
      }
    });
    this.#build.value = build;
    this.#saveDraft();
  }

  #step(verb: string, ask: (revision: number) => Promise<Stored>): Promise<void> {
    const last = this.#queue.at(-1);
    return this.#inTurn(async () => {
      await this.#sendUpTo(last);
      if (this.#base === null || this.#isPending(last)) return;
      try {
        this.#adopt(await ask(this.#base.revision));
      } catch (error) {
        if (isConflict(error)) await this.load();
        this.#notice.value = { title: `Could not ${verb}.`, faults: faultsOf(error) };
      }
    });
  }

  /** Takes the server's document, and lays on it what was typed while it was on its way. */
  #adopt(stored: Stored): void {
    this.#base = stored;
    this.#steps.value = { canUndo: stored.canUndo, canRedo: stored.canRedo };
    this.#build.value = stored.build;
    this.#keeping.value = 'kept';
    if (this.#queue.length === 0) return;
    this.#keeping.value = 'keeping';
    this.#layEdits();
  }

  #saveDraft(): void {
    const build = this.#build.value;
    if (this.#base === null || build === null) return;
    if (this.#queue.length > 0) this.#drafts.write(this.id, { revision: this.#base.revision, build });
    else this.#drafts.clear(this.id);
  }

  /** Edits that were typed before a crash or a reload: laid on where nothing else changed, offered where it did. */
  #takeUpDraft(): void {
    const draft = this.#drafts.read(this.id);
    if (draft === null || this.#base === null) return;
    if (JSON.stringify(draft.build) === JSON.stringify(this.#base.build)) {
      this.#drafts.clear(this.id);
      return;
    }
    const use = () => {
      this.dismiss();
      this.edit('Take up edits from before the page closed', () => draft.build);
    };
    if (draft.revision === this.#base.revision) {
      use();
      return;
    }
    this.#notice.value = {
      title:
        'This browser holds a copy of the build with edits that were never kept. Using it replaces what has changed since; undo takes that back.',
      action: { verb: 'Use that copy', run: use },
    };
  }
}

function isConflict(error: unknown): boolean {
  return error instanceof RefusedError && error.status === 409;
}
