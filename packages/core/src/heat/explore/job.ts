import { BadInputError, found, type Result } from '../../measure/index.js';
import type { Setup } from '../../records/index.js';
import type { NoDeviceField } from '../device/solve-device.js';
import type { Candidate } from './candidate.js';
import { hashText } from './hash-text.js';
import { nameBasis, type RankedRises, type Ranker, type RankingBasis } from './rank.js';

/** How far a sweep has come. JSON, so that it can be kept and gone on with. */
export interface ExploreState {
  readonly format: 'soakbench-explore';
  readonly version: 1;
  /** Calibration, set-ups and their order, in a word: another sweep's results are refused. */
  readonly key: string;
  readonly done: readonly RankedRises[];
}

/**
 * Set-ups that are computed as one: long enough that starting costs little, short enough that little is lost when a sweep is stopped.
 */
export const chunkLength = 20;

/**
 * A sweep over many set-ups, cut into chunks that can be computed anywhere and in any order.
 *
 * Stopped and gone on with, over one worker or many, it gives the same numbers to the last bit.
 */
export class ExploreJob {
  readonly key: string;
  readonly chunks: readonly (readonly Setup[])[];
  private readonly done = new Map<string, RankedRises>();

  /** @throws BadInputError where the state is that of another sweep, or no state */
  constructor(basis: RankingBasis, candidates: readonly Candidate[], state?: unknown) {
    const setups = candidates.map(({ setup }) => setup);
    this.key = hashText(`${nameBasis(basis)} ${setups.map(({ id }) => id).join(' ')}`);
    this.chunks = Array.from({ length: Math.ceil(setups.length / chunkLength) }, (_, at) =>
      setups.slice(at * chunkLength, (at + 1) * chunkLength),
    );
    if (state !== undefined) this.takeUp(state);
  }

  /** Chunks that are still to be computed. */
  get left(): number[] {
    return this.chunks.flatMap((chunk, at) => (chunk.every(({ id }) => this.done.has(id)) ? [] : [at]));
  }

  /** From 0 to 1. */
  get share(): number {
    const all = this.chunks.reduce((sum, { length }) => sum + length, 0);
    return all === 0 ? 1 : this.done.size / all;
  }

  keep(rises: readonly RankedRises[]): void {
    for (const each of rises) this.done.set(each.setup, each);
  }

  /** What is done, in the order of the set-ups whoever did it when. */
  get ranked(): RankedRises[] {
    return this.chunks.flat().flatMap(({ id }) => this.done.get(id) ?? []);
  }

  get state(): ExploreState {
    return { format: 'soakbench-explore', version: 1, key: this.key, done: this.ranked };
  }

  private takeUp(state: unknown): void {
    const { format, version, key, done } = (state ?? {}) as Partial<ExploreState>;
    const refuse = (what: string) =>
      new BadInputError([
        {
          where: 'kept state',
          what,
          remedy: 'Go on with the state of this sweep, or begin anew without it.',
        },
      ]);
    if (format !== 'soakbench-explore' || version !== 1 || !Array.isArray(done))
      throw refuse('It is not the state of a sweep.');
    if (key !== this.key)
      throw refuse(
        'It belongs to another sweep: the build, its runs or what was asked for have changed since.',
      );
    this.keep(done);
    // Of a chunk that is not whole nothing is taken: it starts again from its own beginning.
    for (const at of this.left) for (const { id } of this.chunks[at] ?? []) this.done.delete(id);
  }
}

/** A sweep in this thread, chunk by chunk; between two of them whoever asked can breathe. */
export function* rankStepwise(
  job: ExploreJob,
  ranker: Ranker,
  isCancelled?: () => boolean,
): Generator<number, Result<readonly RankedRises[], NoDeviceField>> {
  for (const at of job.left) {
    const ranked = ranker.rank(
      job.chunks[at] as readonly Setup[],
      isCancelled === undefined ? {} : { isCancelled },
    );
    if (!ranked.ok) return ranked;
    job.keep(ranked.value);
    yield job.share;
  }
  return found(job.ranked);
}
