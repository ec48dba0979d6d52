/** The part of a run that its chart shows: how far it can be narrowed, widened and moved. Pure. */

/** From and to, seconds after the start. */
export type Window_s = readonly [number, number];

/**
 * A window narrower or wider by a factor, about a time that keeps its place in it. All of the run is no window: null.
 *
 * @param factor below 1 narrows
 * @param least_s no window gets shorter than this
 */
export function zoomWindow(
  window_s: Window_s | null,
  span_s: number,
  factor: number,
  about_s: number,
  least_s: number,
): Window_s | null {
  const [from_s, to_s] = window_s ?? [0, span_s];
  const width_s = Math.max(Math.min(least_s, span_s), (to_s - from_s) * factor);
  if (width_s >= span_s) return null;
  const share = (Math.max(from_s, Math.min(to_s, about_s)) - from_s) / (to_s - from_s);
  return within(about_s - share * width_s, width_s, span_s);
}

/** A window moved by so many seconds, as far as the run goes. All of the run stays where it is. */
export function moveWindow(window_s: Window_s | null, span_s: number, by_s: number): Window_s | null {
  if (window_s === null) return null;
  return within(window_s[0] + by_s, window_s[1] - window_s[0], span_s);
}

function within(from_s: number, width_s: number, span_s: number): Window_s {
  const kept_s = Math.max(0, Math.min(span_s - width_s, from_s));
  return [kept_s, kept_s + width_s];
}
