import type { RefObject } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { moveWindow, type Window_s, zoomWindow } from './move-window.js';

/** What a button of the chart does. */
interface WindowAct {
  readonly words: string;
  readonly act: () => void;
  /** False where it would change nothing. */
  readonly can: boolean;
}

/** Pinching a track pad comes as a wheel of small steps, a mouse wheel of large ones; this suits both. */
const zoomPerPixel = 0.003;
const closer = 0.5;
const share = 0.25;

/**
 * The part of the run that a chart shows, moved by pointer, wheel, pinch or button.
 *
 * A wheel zooms with Ctrl (as a pinched track pad reports itself) and moves sideways with Shift: a plain wheel scrolls the page
 * as everywhere else. Two fingers pinch; one finger or the mouse drags, but for the grips, which move limits.
 *
 * @param least_s no window gets shorter
 * @param drawn edges of the time axis as it was drawn last, px from the left of the drawing
 */
export function useChartWindow(
  span_s: number,
  least_s: number,
  drawn: RefObject<{ readonly left: number; readonly right: number }>,
): {
  readonly window_s: Window_s | null;
  readonly field: RefObject<HTMLDivElement>;
  readonly acts: readonly WindowAct[];
} {
  const [window_s, setWindow] = useState<Window_s | null>(null);
  const field = useRef<HTMLDivElement>(null);

  useEffect(() => {
    const element = field.current;
    if (!element) return undefined;
    /** Where the time axis lies in the window of the browser. */
    const axis = () => {
      const { left, width } = (element.querySelector('svg') ?? element).getBoundingClientRect();
      const field = drawn.current ?? { left: 0, right: width };
      return { left: left + field.left, width: Math.max(1, field.right - field.left) };
    };
    const zoomAt = (clientX: number, factor: number) => {
      const { left, width } = axis();
      setWindow((old) => {
        const [from_s, to_s] = old ?? [0, span_s];
        const about_s = from_s + ((clientX - left) / width) * (to_s - from_s);
        return zoomWindow(old, span_s, factor, about_s, least_s);
      });
    };
    const moveBy = (pixels: number) => {
      const { width } = axis();
      setWindow((old) => moveWindow(old, span_s, old === null ? 0 : (pixels / width) * (old[1] - old[0])));
    };
    const onWheel = (event: WheelEvent) => {
      if (event.ctrlKey || event.metaKey) zoomAt(event.clientX, Math.exp(zoomPerPixel * event.deltaY));
      else if (event.shiftKey) moveBy(event.deltaX || event.deltaY);
      else return;
      event.preventDefault();
    };
    /** Pointers that are down on the chart, by where they are. */
    const held = new Map<number, number>();
    const onDown = (event: PointerEvent) => {
      if (event.button !== 0 || (event.target as Element).closest('.phasegrip')) return;
      held.set(event.pointerId, event.clientX);
      element.setPointerCapture(event.pointerId);
    };
    const onMove = (event: PointerEvent) => {
      const before = held.get(event.pointerId);
      if (before === undefined) return;
      const other = [...held].find(([id]) => id !== event.pointerId)?.[1];
      held.set(event.pointerId, event.clientX);
      if (other === undefined) moveBy(before - event.clientX);
      else {
        // Fingers that nearly touch would make a leap of each pixel.
        const [was, is] = [before, event.clientX].map((x) => Math.max(20, Math.abs(x - other)));
        zoomAt((event.clientX + other) / 2, (was ?? 1) / (is ?? 1));
      }
    };
    const onEnd = (event: PointerEvent) => held.delete(event.pointerId);
    element.addEventListener('wheel', onWheel, { passive: false });
    element.addEventListener('pointerdown', onDown);
    element.addEventListener('pointermove', onMove);
    element.addEventListener('pointerup', onEnd);
    element.addEventListener('pointercancel', onEnd);
    return () => {
      element.removeEventListener('wheel', onWheel);
      element.removeEventListener('pointerdown', onDown);
      element.removeEventListener('pointermove', onMove);
      element.removeEventListener('pointerup', onEnd);
      element.removeEventListener('pointercancel', onEnd);
    };
  }, [span_s, least_s, drawn]);

  const zoom = (factor: number) =>
    setWindow((old) => {
      const [from_s, to_s] = old ?? [0, span_s];
      return zoomWindow(old, span_s, factor, (from_s + to_s) / 2, least_s);
    });
  const move = (by: number) =>
    setWindow((old) => moveWindow(old, span_s, old === null ? 0 : by * (old[1] - old[0])));
  const isPart = window_s !== null;
  return {
    window_s,
    field,
    acts: [
      { words: 'Closer', act: () => zoom(closer), can: !isPart || window_s[1] - window_s[0] > least_s },
      { words: 'Wider', act: () => zoom(1 / closer), can: isPart },
      { words: 'Earlier', act: () => move(-share), can: isPart && window_s[0] > 0 },
      { words: 'Later', act: () => move(share), can: isPart && window_s[1] < span_s },
      { words: 'Whole run', act: () => setWindow(null), can: isPart },
    ],
  };
}
