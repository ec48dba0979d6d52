import type { PhaseKind } from '../records/index.js';

export interface RunChartLine {
  readonly probe: string;
  /** Written beside the line; the short form where there is little room. */
  readonly name: string;
  readonly shortName: string;
  readonly role: 'chosen' | 'ambient' | 'other';
  /** Same length as `after_s`; NaN where there was no reading. */
  readonly level_C: ArrayLike<number>;
  /** The line's own times, and the usual time between two, where it is thinned out: in a window each line keeps other rows. */
  readonly thinned?: { readonly after_s: ArrayLike<number>; readonly usual_s: number };
}

export interface RunChartPlateau {
  readonly level_C: number;
  readonly u_K: number;
  readonly from_s: number;
  readonly to_s: number;
  readonly words: string;
  readonly shortWords: string;
  readonly curve: readonly { readonly after_s: number; readonly level_C: number }[];
  readonly settled_s: readonly [number, number] | null;
  readonly timeConstant: {
    readonly tau_s: number;
    readonly level_C: number;
    readonly words: string;
    readonly shortWords: string;
  } | null;
}

export interface RunChartView {
  /** What the chart shows, with its numbers. */
  readonly label: string;
  readonly after_s: ArrayLike<number>;
  readonly span_s: number;
  /** The part of the time that is drawn; all of it where this is missing. */
  readonly window_s?: readonly [number, number];
  readonly lines: readonly RunChartLine[];
  readonly phases: readonly { readonly kind: PhaseKind; readonly from_s: number; readonly to_s: number }[];
  readonly plateau: RunChartPlateau | null;
  readonly flags: readonly { readonly number: number; readonly at_s: number; readonly title: string }[];
}
