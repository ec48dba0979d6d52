import type { LevelLook } from './level-shape.js';
import type { WordRun } from './text-width.js';

/** An interval: dot at the value, thick stroke one standard uncertainty (or the range of models), thin stroke 95 %. */
export interface IntervalMark {
  /** Null where there is a range and no best value in it. */
  readonly value: number | null;
  readonly thick: readonly [number, number];
  readonly thin: readonly [number, number];
  /** The true value lies here or higher: drawn open to the right. */
  readonly atLeast?: boolean;
}

export interface IntervalRow {
  readonly name: readonly WordRun[];
  /** Null where there is nothing to draw; `absent` then says why. */
  readonly mark: IntervalMark | null;
  readonly absent?: string;
  /** False where the data do not carry the finding: strokes are dashed. */
  readonly isFirm?: boolean;
  /** The chosen set-up, in the accent. */
  readonly isChosen?: boolean;
  /** Single runs, as ticks beneath. */
  readonly runs?: readonly number[];
  /** A value not to be passed, or (`prefer`) not to be passed for long. */
  readonly limit?: { readonly at: number; readonly words: string; readonly kind: 'limit' | 'prefer' };
  /** Written under the dot. */
  readonly valueWords?: string;
  readonly figure: string;
  readonly note: string;
  readonly look?: LevelLook;
}

export interface IntervalView {
  /** What the drawing shows, with its numbers. */
  readonly label: string;
  /** Follows the last number of the axis. */
  readonly unit: string;
  readonly rows: readonly IntervalRow[];
  /** "No difference", and what lies beyond it. */
  readonly zero?: { readonly at: number; readonly words: string; readonly toward: string };
  readonly references?: readonly {
    readonly at: number;
    readonly words: string;
    readonly isDotted?: boolean;
  }[];
  /** Dotted lines that lead the eye along each row. */
  readonly hasGuides?: boolean;
}
