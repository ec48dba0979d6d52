/**
 * Answers wishes one at a time, the newest next: whoever drags faster than it can be computed sees fewer steps, never a queue of stale ones.
 */
export class LatestWish<W, A> {
  readonly #answer: (wish: W) => Promise<A>;
  readonly #onAnswer: (wish: W, answer: A) => void;
  readonly #onError: (error: unknown) => void;
  #next: { readonly wish: W } | null = null;
  #busy = false;
  #closed = false;

  constructor(
    answer: (wish: W) => Promise<A>,
    onAnswer: (wish: W, answer: A) => void,
    onError: (error: unknown) => void,
  ) {
    this.#answer = answer;
    this.#onAnswer = onAnswer;
    this.#onError = onError;
  }

  get busy(): boolean {
    return this.#busy;
  }

  ask(wish: W): void {
    this.#next = { wish };
    if (!this.#busy) void this.#work();
  }

  /** Forgets what is waiting; what is under way is answered still. */
  forget(): void {
    this.#next = null;
  }

  /** Nothing is answered any more. */
  close(): void {
    this.#closed = true;
    this.#next = null;
  }

  async #work(): Promise<void> {
    this.#busy = true;
    while (this.#next !== null) {
      const { wish } = this.#next;
      this.#next = null;
      try {
        const answer = await this.#answer(wish);
        if (!this.#closed) this.#onAnswer(wish, answer);
      } catch (error) {
        if (!this.#closed) this.#onError(error);
      }
    }
    this.#busy = false;
  }
}
