import { type Anchor, type Box, boxesOverlap, textBox, textWidth_px } from './text-width.js';

/** Words that belong to a place on a line, such as the name of a reference value. */
export interface AnchoredWords {
  readonly at: number;
  readonly words: string;
  /** Tried in turn; the first is the one preferred. */
  readonly anchors: readonly Anchor[];
}

export interface PlacedWords {
  readonly words: string;
  readonly x: number;
  readonly anchor: Anchor;
  /** 0 is the row nearest to what is named. */
  readonly row: number;
}

/**
 * Words in as few rows as they need, none over another and none outside `low` to `high`.
 * A text that would stand out at an end is moved in.
 */
export function placeInRows(
  all: readonly AnchoredWords[],
  low: number,
  high: number,
  gap_px = 8,
): PlacedWords[] {
  const taken: Box[] = [];
  return all.map(({ at, words, anchors }) => {
    const width = textWidth_px(words);
    for (let row = 0; ; row += 1) {
      for (const anchor of anchors) {
        const free = textBox(width, at, row * 20, anchor);
        const shift = Math.max(low - free.left, Math.min(0, high - free.right));
        const box = { ...free, left: free.left + shift, right: free.right + shift };
        if (taken.some((other) => boxesOverlap(box, other, other.top === box.top ? gap_px : 0))) continue;
        taken.push(box);
        return { words, x: at + shift, anchor, row };
      }
    }
  });
}
