import type { TracedLine } from './run-chart-scales.js';
import { type Box, boxesOverlap, textBox } from './text-width.js';

export interface LabelField {
  /** Where labels may stand. */
  readonly field: Box;
  readonly traces: readonly TracedLine[];
  /** What must not be covered: other labels, flags, brackets. Grows as labels are placed. */
  readonly taken: Box[];
}

/** Pixel columns in which any line runs through the box. */
export function countCrossings(box: Box, traces: readonly TracedLine[], except?: TracedLine): number {
  let count = 0;
  for (const trace of traces) {
    if (trace === except) continue;
    for (let column = Math.max(0, Math.floor(box.left)); column <= box.right; column += 1) {
      if ((trace.top[column] ?? Number.NaN) <= box.bottom && (trace.bottom[column] ?? Number.NaN) >= box.top)
        count += 1;
    }
  }
  return count;
}

/**
 * A place for a line's name right above or below the line, where no other label stands and as few lines as possible
 * run through; flat stretches are preferred, because there the name stands close to its line all along.
 *
 * @returns where the text starts and its baseline, or null where no place is free
 */
export function placeBesideLine(
  trace: TracedLine,
  width_px: number,
  { field, traces, taken }: LabelField,
): { x: number; y: number } | null {
  let best: { x: number; y: number; cost: number } | null = null;
  for (let left = Math.ceil(field.left) + 4; left + width_px <= field.right - 4; left += 6) {
    let top = Number.POSITIVE_INFINITY;
    let bottom = Number.NEGATIVE_INFINITY;
    let covered = 0;
    for (let column = left; column <= left + width_px; column += 1) {
      const [high, low] = [trace.top[column] ?? Number.NaN, trace.bottom[column] ?? Number.NaN];
      if (!Number.isFinite(high)) continue;
      covered += 1;
      top = Math.min(top, high);
      bottom = Math.max(bottom, low);
    }
    if (covered < 0.5 * Math.min(width_px, 40)) continue;
    for (const y of [top - 7, bottom + 15]) {
      const box = textBox(width_px, left, y);
      if (box.top < field.top || box.bottom > field.bottom) continue;
      if (taken.some((other) => boxesOverlap(box, other, 4))) continue;
      const near = { left: box.left - 4, right: box.right + 4, top: box.top - 9, bottom: box.bottom + 9 };
      const crossed = countCrossings(box, traces, trace);
      const crowded = countCrossings(near, traces, trace);
      // Among many lines a name would not say which one it means.
      if (crossed > 0.15 * width_px || crowded > 0.5 * width_px) continue;
      const cost = 40 * crossed + 3 * crowded + (bottom - top) * 4 + (y < top ? 0 : 4);
      if (best === null || cost < best.cost) best = { x: left, y, cost };
    }
  }
  if (best === null) return null;
  taken.push(textBox(width_px, best.x, best.y));
  return best;
}
