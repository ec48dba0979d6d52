// @ts-check
/** What the benches that drag something on a page share. */

/** The blocked time, as a page keeps it for us. @typedef {typeof globalThis & { endWatch?: () => number }} Watched */

/**
 * In the page: begins to measure how long it is ever blocked, which is while a turn of its own loop takes longer than it should, by a
 * timer that wants to fire at once. `endWatch` ends it.
 */
export function watchTurns() {
  let blocked_ms = 0;
  const { port1, port2 } = new MessageChannel();
  let last = performance.now();
  let watching = true;
  port1.onmessage = () => {
    const now = performance.now();
    blocked_ms = Math.max(blocked_ms, now - last);
    last = now;
    if (watching) setTimeout(() => port2.postMessage(0), 0);
  };
  port2.postMessage(0);
  /** @type {Watched} */ (globalThis).endWatch = () => {
    watching = false;
    return blocked_ms;
  };
}

/** In the page: the longest it was blocked since `watchTurns`, ms. */
export function endWatch() {
  return /** @type {Watched} */ (globalThis).endWatch?.() ?? Number.NaN;
}

/** @param {readonly number[]} values */
export function medianOf(values) {
  return [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;
}
