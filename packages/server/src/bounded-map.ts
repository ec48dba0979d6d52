/** A map that forgets what was used longest ago once it holds `most` entries. */
export class BoundedMap<K, V> extends Map<K, V> {
  readonly #most: number;

  constructor(most: number) {
    super();
    this.#most = most;
  }

  override get(key: K): V | undefined {
    const value = super.get(key);
    if (value !== undefined) {
      // A map keeps the order of insertion: taken out and put in again, the entry is the youngest.
      super.delete(key);
      super.set(key, value);
    }
    return value;
  }

  override set(key: K, value: V): this {
    super.delete(key);
    super.set(key, value);
    if (this.size > this.#most) {
      const [oldest] = this.keys();
      super.delete(oldest as K);
    }
    return this;
  }
}
