/**
 * Threads that help solvers. Core starts none: whoever can does so, lends them with `lendThreads`, and has each pass what it is
 * sent to `helpSolver`. Fields are the same to the last bit with helpers and without, so no caller of a solver needs to know.
 */

/** What a helper is sent. A shared memory can be sent to a thread as it is. */
export interface HelpWanted {
  readonly memory: WebAssembly.Memory;
  readonly ticket: number;
  /** Which thread of how many it is; 0 is the one that solves. */
  readonly index: number;
  readonly threads: number;
}

/** Helpers that wait for messages. They help one solver at a time, the one that works. */
export interface HelperThreads {
  readonly count: number;
  /** To the helper at that place, from 0. */
  send(place: number, wanted: HelpWanted): void;
  /** One of them was lost: they are of no use any more. */
  end(): void;
  /** The time, ms from any start: core has no clock. A solve tells by it whether its helpers are worth waiting for. */
  now_ms(): number;
  /** How long a solve waits for a helper before it takes it for lost; what other programs take a thread from work is far less. */
  readonly patience_s?: number;
  /** Waits for helpers that other programs keep from work, where a solver would rather go on without them: for tests. */
  readonly waits?: boolean;
}

/** A helper ended while it was needed, or did nothing for seconds. */
export class HelperLostError extends Error {
  override readonly name = 'HelperLostError';

  constructor() {
    super(
      'A thread that helped the heat solver ended, or was kept from work for seconds. Ask again: the next solve does without.',
    );
  }
}

/** Where helpers are, or are on their way to. */
interface Post {
  readonly memory: WebAssembly.Memory;
  enlist(ticket: number, threads: number): void;
  dismiss(): void;
}

const usualPatience_s = 10;

let lent: HelperThreads | undefined;
let issued = 0;
let post: Post | undefined;

/**
 * Lets solvers made in this thread from now on share their work with helpers, where it is enough to share. Not for the thread
 * of a window, which must not wait.
 */
export function lendThreads(threads: HelperThreads | undefined): void {
  if (post) dismissHelpers(post.memory);
  lent = threads;
}

/** How many threads a solver can have, itself included. */
export function countLent(): number {
  return (lent?.count ?? 0) + 1;
}

/** How long a solver waits for them. */
export function patience_s(): number {
  return lent?.patience_s ?? usualPatience_s;
}

/** The lender's clock; it stands still where nothing is lent. */
export function now_ms(): number {
  return lent?.now_ms() ?? 0;
}

export function doesWait(): boolean {
  return lent?.waits === true;
}

/** Sends the helpers where they are needed. They take a moment to arrive, and nobody waits for them. */
export function callHelpers(next: Post): void {
  if (!lent || post?.memory === next.memory) return;
  post?.dismiss();
  post = next;
  // Tickets share a word of 32 bits with a count of 8.
  issued = (issued % 0x7f_fffe) + 1;
  const threads = lent.count + 1;
  next.enlist(issued, threads);
  for (let place = 0; place < lent.count; place++) {
    lent.send(place, { memory: next.memory, ticket: issued, index: place + 1, threads });
  }
}

export function dismissHelpers(memory: WebAssembly.Memory): void {
  if (post?.memory !== memory) return;
  post.dismiss();
  post = undefined;
}

/** After one was lost. */
export function dropThreads(): void {
  const lost = lent;
  post = undefined;
  lent = undefined;
  lost?.end();
}
