import { type DecimatedLine, decimate, usualSpacing } from './decimate.kernel.js';
import type { RunChartView } from './run-chart-view.js';
import { textWidth_px } from './text-width.js';
import { findTicks, type Ticks } from './ticks.js';

/** Where things stand in a run chart of a given width; the page hangs its grips on the same scale. */
export interface RunChartScales {
  readonly width: number;
  readonly height: number;
  /** Edges of the field in which phases are drawn; the grips run from `top` to `bottom`. */
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** The time that is drawn. */
  readonly from_s: number;
  readonly to_s: number;
  x(after_s: number): number;
  y(level_C: number): number;
  /** Time at a place, kept within what is drawn. */
  invert(x_px: number): number;
  readonly levelTicks: Ticks;
}

function rangeOf(view: RunChartView): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const { level_C } of view.lines) {
    for (let row = 0; row < level_C.length; row += 1) {
      const level = level_C[row] ?? Number.NaN;
      if (!Number.isFinite(level)) continue;
      if (level < low) low = level;
      if (level > high) high = level;
    }
  }
  if (view.plateau !== null) {
    low = Math.min(low, view.plateau.level_C - view.plateau.u_K);
    high = Math.max(high, view.plateau.level_C + view.plateau.u_K);
  }
  if (!(low <= high)) return [0, 1];
  // A flat log still gets a field of at least 2 K, so that noise does not fill the chart.
  const widen = Math.max(0, 2 - (high - low)) / 2;
  return [low - widen, high + widen];
}

/** The mapping of a run chart, from times and levels to pixels and back. */
export function runChartScales(view: RunChartView, width_px: number): RunChartScales {
  const height = width_px < 480 ? 384 : 414;
  const [low, high] = rangeOf(view);
  const levelTicks = findTicks(low, high, 8);
  const widest = Math.max(
    ...levelTicks.values.map((value) => textWidth_px(value.toFixed(levelTicks.decimals))),
    14,
  );
  const left = Math.ceil(widest) + 10;
  const right = width_px - 12;
  const top = 4;
  const bottom = height - 26;
  const [from_s, to_s] = view.window_s ?? [0, Math.max(view.span_s, 1)];
  // Below the phase names and, where there are any, the flags; above the bracket that says where it settled.
  const fieldTop = top + (view.flags.length > 0 ? 60 : 38);
  const fieldBottom = bottom - (view.plateau?.settled_s ? 36 : 12);
  const perSecond = (right - left) / (to_s - from_s);
  const perKelvin = (fieldBottom - fieldTop) / (high - low);
  return {
    width: width_px,
    height,
    left,
    right,
    top,
    bottom,
    from_s,
    to_s,
    x: (after_s) => left + (after_s - from_s) * perSecond,
    y: (level_C) => fieldBottom - (level_C - low) * perKelvin,
    invert: (x_px) => Math.max(from_s, Math.min(to_s, from_s + (x_px - left) / perSecond)),
    levelTicks,
  };
}

/** A line as it is drawn: points in pixels, and per pixel column how high and low it reaches. */
export interface TracedLine {
  readonly parts: readonly (readonly (readonly [number, number])[])[];
  readonly top: Float64Array;
  readonly bottom: Float64Array;
  /** Length of the drawn line over its extent in time: 1 when flat, more the more it shakes. */
  readonly roughness: number;
}

export function traceLine(
  view: RunChartView,
  line: RunChartView['lines'][number],
  scales: RunChartScales,
): TracedLine {
  const offset = scales.x(0);
  const after_s = line.thinned?.after_s ?? view.after_s;
  const usual_s = line.thinned?.usual_s ?? usualSpacing(after_s, line.level_C);
  const kept: DecimatedLine = decimate(after_s, line.level_C, offset, scales.x(1) - offset, usual_s);
  const parts = kept.breaks.map((from, index) =>
    kept.rows
      .slice(from, kept.breaks[index + 1])
      .map((row): [number, number] => [scales.x(after_s[row] ?? 0), scales.y(line.level_C[row] ?? 0)]),
  );
  const columns = Math.ceil(scales.width) + 1;
  const top = new Float64Array(columns).fill(Number.NaN);
  const bottom = new Float64Array(columns).fill(Number.NaN);
  const reach = (column: number, y: number) => {
    if (column < 0 || column >= columns) return;
    if (!((top[column] ?? 0) <= y)) top[column] = y;
    if (!((bottom[column] ?? 0) >= y)) bottom[column] = y;
  };
  let length = 0;
  let extent = 0;
  for (const part of parts) {
    for (const [index, [x, y]] of part.entries()) {
      reach(Math.floor(x), y);
      const before = part[index - 1];
      if (before === undefined) continue;
      length += Math.hypot(x - before[0], y - before[1]);
      extent += x - before[0];
      for (let column = Math.floor(before[0]) + 1; column <= Math.floor(x); column += 1) {
        reach(column, before[1] + ((y - before[1]) * (column - before[0])) / Math.max(x - before[0], 1e-9));
      }
    }
  }
  return { parts, top, bottom, roughness: extent > 0 ? Math.max(1, length / extent) : 1 };
}
