import { type Build, newBuild } from '@soakbench/core/records';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { BuildApi, Stored } from './build-api.js';
import type { Draft, DraftShelf } from './drafts.js';
import { RefusedError, UnreachableError } from './faults.js';
import { OpenBuild } from './open-build.js';

/** A server in memory that keeps the rule of the real one: a document is taken only with the revision it stands on. */
class Bench {
  build: Build = newBuild('r2', 'Recorder');
  revision = 1;
  past: Build[] = [];
  saves: string[] = [];
  reachable = true;
  refuse: ((build: Build) => boolean) | null = null;
  readonly shelf = new Map<string, Draft>();

  readonly drafts: DraftShelf = {
    read: (id) => this.shelf.get(id) ?? null,
    write: (id, draft) => void this.shelf.set(id, draft),
    clear: (id) => void this.shelf.delete(id),
  };

  /** Someone else changes the document. */
  elsewhere(change: (build: Build) => Build): void {
    this.build = change(this.build);
    this.revision += 1;
  }

  stored(): Stored {
    return { build: this.build, revision: this.revision, canUndo: this.revision > 1, canRedo: false };
  }

  api(): BuildApi {
    const answer = async <T>(work: () => T): Promise<T> => {
      if (!this.reachable) throw new UnreachableError('gone');
      return work();
    };
    const notAsked = () => Promise.reject(new Error('not asked for in these tests'));
    const needLatest = (revision: number) => {
      if (revision === this.revision) return;
      throw new RefusedError(409, [{ where: 'revision', what: 'older', remedy: 'read again' }]);
    };
    return {
      builds: notAsked,
      addBuild: notAsked,
      removeBuild: notAsked,
      restoreBuild: notAsked,
      importRun: notAsked,
      log: notAsked,
      redo: notAsked,
      build: () => answer(() => this.stored()),
      undo: (_id, revision) =>
        answer(() => {
          needLatest(revision);
          this.build = this.past.pop() ?? this.build;
          this.revision += 1;
          return this.stored();
        }),
      saveBuild: (build, revision, what) =>
        answer(() => {
          needLatest(revision);
          if (this.refuse?.(build))
            throw new RefusedError(422, [{ where: 'name', what: 'refused', remedy: 'change it' }]);
          this.past.push(this.build);
          this.build = build;
          this.revision += 1;
          this.saves.push(what);
          return this.stored();
        }),
    };
  }
}

const rename = (name: string) => (build: Build) => ({ ...build, name });
const note = (text: string) => (build: Build) => ({ ...build, note: text });

async function openOn(bench: Bench): Promise<OpenBuild> {
  const open = new OpenBuild('r2', bench.api(), bench.drafts);
  await open.load();
  return open;
}

let bench: Bench;
beforeEach(() => {
  vi.useFakeTimers();
  bench = new Bench();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('an edit', () => {
  test('shows at once, before the server has answered, and is kept after it has', async () => {
    const open = await openOn(bench);
    open.edit('Rename', rename('Field recorder'));
    expect(open.build.value?.name).toBe('Field recorder');
    expect(open.keeping.value).toBe('keeping');
    await open.settle();
    expect(bench.build.name).toBe('Field recorder');
    expect(open.keeping.value).toBe('kept');
    expect(open.unkept).toBe(false);
  });

  test('made while another is under way is sent after it, as a step of its own', async () => {
    const open = await openOn(bench);
    open.edit('Rename', rename('A'));
    open.edit('Note', note('b'));
    await open.settle();
    expect(bench.saves).toEqual(['Rename', 'Note']);
    expect(bench.build).toMatchObject({ name: 'A', note: 'b' });
  });

  test('that breaks a rule of the record is refused before it is sent, and the build stays as it was', async () => {
    const open = await openOn(bench);
    open.edit('Rename', rename(''));
    expect(open.build.value?.name).toBe('Recorder');
    expect(open.notice.value?.faults?.[0]?.where).toContain('name');
    expect(bench.saves).toEqual([]);
  });

  test('that the server refuses is taken back, and what was typed after it is kept', async () => {
    bench.refuse = (build) => build.name === 'B' && build.note === undefined;
    const open = await openOn(bench);
    open.edit('Rename', rename('B'));
    open.edit('Note', note('n'));
    await open.settle();
    expect(open.build.value).toMatchObject({ name: 'Recorder', note: 'n' });
    expect(bench.build).toMatchObject({ name: 'Recorder', note: 'n' });
    expect(open.notice.value?.title).toBe('Not kept: Rename');
  });
});

describe('steps back', () => {
  test('asked for faster than the server answers are all taken', async () => {
    const open = await openOn(bench);
    for (const name of ['A', 'B', 'C']) open.edit(`Rename to ${name}`, rename(name));
    const steps = [open.undo(), open.undo()];
    await Promise.all(steps);
    expect(open.notice.value).toBeNull();
    expect(bench.build.name).toBe('A');
    expect(open.build.value?.name).toBe('A');
  });

  test('keep what is typed before they are answered', async () => {
    const open = await openOn(bench);
    open.edit('Rename', rename('A'));
    await open.settle();
    const step = open.undo();
    open.edit('Note', note('typed meanwhile'));
    await step;
    await open.settle();
    expect(open.notice.value).toBeNull();
    expect(bench.build).toMatchObject({ name: 'Recorder', note: 'typed meanwhile' });
    expect(open.keeping.value).toBe('kept');
  });
});

describe('a conflict', () => {
  test('loses neither side’s work', async () => {
    const open = await openOn(bench);
    bench.elsewhere(note('from the other window'));
    open.edit('Rename', rename('Mine'));
    await open.settle();
    expect(bench.build).toMatchObject({ name: 'Mine', note: 'from the other window' });
    expect(open.build.value).toMatchObject({ name: 'Mine', note: 'from the other window' });
    expect(open.notice.value?.title).toMatch(/another place/);
  });
});

describe('a server that does not answer', () => {
  test('costs nothing: the edit waits, is kept by the browser too, and is sent when it answers again', async () => {
    const open = await openOn(bench);
    bench.reachable = false;
    open.edit('Rename', rename('Later'));
    await open.settle();
    expect(open.keeping.value).toBe('not-kept');
    expect(open.build.value?.name).toBe('Later');
    expect(bench.shelf.get('r2')?.build.name).toBe('Later');

    bench.reachable = true;
    await vi.advanceTimersByTimeAsync(60_000);
    expect(bench.build.name).toBe('Later');
    expect(open.keeping.value).toBe('kept');
    expect(bench.shelf.size).toBe(0);
  });

  test('leaves the edit to the next page, where nothing changed meanwhile', async () => {
    const first = await openOn(bench);
    bench.reachable = false;
    first.edit('Rename', rename('Before the crash'));
    await first.settle();
    first.close();

    bench.reachable = true;
    const second = await openOn(bench);
    await second.settle();
    expect(bench.build.name).toBe('Before the crash');
  });

  test('and offers it, without applying it, where something did', async () => {
    const first = await openOn(bench);
    bench.reachable = false;
    first.edit('Rename', rename('Before the crash'));
    await first.settle();
    first.close();

    bench.reachable = true;
    bench.elsewhere(note('newer'));
    const second = await openOn(bench);
    expect(second.build.value?.name).toBe('Recorder');
    second.notice.value?.action?.run();
    await second.settle();
    expect(bench.build.name).toBe('Before the crash');
  });
});

test('a build that cannot be loaded says why', async () => {
  bench.reachable = false;
  const open = await openOn(bench);
  expect(open.build.value).toBeNull();
  expect(open.faults.value[0]?.remedy).toMatch(/Start it again/);
});
