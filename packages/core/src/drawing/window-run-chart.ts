import { usualSpacing } from './decimate.kernel.js';
import { type Extremes, findExtremes, rowsWithin } from './extremes.kernel.js';
import type { RunChartPlateau, RunChartView } from './run-chart-view.js';

/** Blocks of rows per pixel of the chart: enough that a block's place within its pixel column does not show. */
const blocksPerPixel = 4;

/**
 * Makes windows of a run's chart: the same chart over a part of its time, at a cost that does not grow with the run.
 *
 * The extremes of blocks of rows are found once; a window is then made of those blocks that are a fraction of a pixel wide. Of each
 * pixel column the highest and the lowest reading stay, as in the whole chart. A gap narrower than a few blocks, less than two
 * pixels, may close.
 */
export class RunChartWindows {
  readonly view: RunChartView;
  private readonly extremes: readonly Extremes[];
  private readonly usual_s: readonly number[];

  constructor(view: RunChartView) {
    this.view = view;
    this.extremes = view.lines.map(({ level_C }) => findExtremes(level_C));
    this.usual_s = view.lines.map(({ level_C }) => usualSpacing(view.after_s, level_C));
  }

  /** @param width_px width the window will be drawn at */
  over(window_s: readonly [number, number], width_px: number): RunChartView {
    const { view } = this;
    const { after_s } = view;
    // One row more on each side, so that a line runs on to the edge.
    const from = Math.max(0, firstRowAt(after_s, window_s[0]) - 1);
    const to = Math.min(after_s.length, firstRowAt(after_s, window_s[1]) + 2);
    const least = blocksPerPixel * width_px;
    const lines = view.lines.map((line, index) => {
      const { rows, size } = rowsWithin(this.extremes[index] as Extremes, from, to, least);
      return {
        ...line,
        thinned: {
          after_s: Float64Array.from(rows, (row) => after_s[row] ?? 0),
          usual_s: size * (this.usual_s[index] as number),
        },
        level_C: Float64Array.from(rows, (row) => line.level_C[row] ?? Number.NaN),
      };
    });
    const plateau = view.plateau === null ? null : plateauWithin(view.plateau, window_s);
    return { ...view, window_s, lines, plateau };
  }
}

function firstRowAt(after_s: ArrayLike<number>, at_s: number): number {
  let low = 0;
  let high = after_s.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((after_s[middle] ?? 0) < at_s) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** What of a plateau can be seen in a window; null where it lies outside. */
function plateauWithin(
  plateau: RunChartPlateau,
  [from_s, to_s]: readonly [number, number],
): RunChartPlateau | null {
  if (plateau.from_s >= to_s || plateau.to_s <= from_s) return null;
  const settled_s = plateau.settled_s;
  const isSettledSeen = settled_s !== null && settled_s[0] < to_s && settled_s[1] > from_s;
  return {
    ...plateau,
    from_s: Math.max(plateau.from_s, from_s),
    to_s: Math.min(plateau.to_s, to_s),
    curve: plateau.curve.filter((point) => point.after_s >= from_s && point.after_s <= to_s),
    settled_s: isSettledSeen ? [Math.max(settled_s[0], from_s), Math.min(settled_s[1], to_s)] : null,
    timeConstant: plateau.from_s >= from_s ? plateau.timeConstant : null,
  };
}
