import { formatNumber } from '../measure/index.js';
import { makeCircle, makeGroup, makePath, makeText, pathThrough, roundPixel } from './make-shape.js';
import type { Drawing, Shape } from './shape.js';
import { spreadAlong } from './spread.js';
import { textWidth_px } from './text-width.js';
import { findTicks } from './ticks.js';

/** Temperatures and charge over one span, such as a year by months or a day by hours. */
export interface CoursePanel {
  readonly title: string;
  /** Evenly spaced values, each at the middle of its step. */
  readonly lines: readonly {
    readonly words: string;
    readonly look: 'cell' | 'room' | 'peak';
    readonly values_C: readonly number[];
  }[];
  /** State of charge, 0 to 1, at the same places. */
  readonly charge: readonly number[];
  /** Words beneath the axis, at the step they name. */
  readonly marks: readonly { readonly at: number; readonly words: string }[];
}

export interface CourseView {
  /** What the drawing shows, with its numbers. */
  readonly label: string;
  readonly panels: readonly CoursePanel[];
}

const head_px = 24;
const temperature_px = 96;
const between_px = 26;
const charge_px = 36;
const foot_px = 24;
const axis_px = 46;
const gap_px = 28;
const least_px = 250;

/**
 * A small picture of what a pack goes through: how warm above, how full beneath. All panels share their scales.
 *
 * @param width_px the room there is, from about 300 px up
 */
export function drawCourses(view: CourseView, width_px: number): Drawing {
  const columns = Math.max(
    1,
    Math.min(view.panels.length, Math.floor((width_px + gap_px) / (least_px + axis_px + gap_px))),
  );
  const width = (width_px - gap_px * (columns - 1)) / columns;
  const rowHeight = head_px + temperature_px + between_px + charge_px + foot_px;
  const all = view.panels.flatMap(({ lines }) => lines.flatMap(({ values_C }) => values_C));
  const known = all.filter(Number.isFinite);
  const low = Math.min(...known, Number.POSITIVE_INFINITY);
  const high = Math.max(...known, Number.NEGATIVE_INFINITY);
  const range =
    known.length === 0 ? ([0, 1] as const) : ([Math.floor(low - 1), Math.ceil(high + 1)] as const);
  const shapes = view.panels.map((panel, index) =>
    makeGroup(
      drawPanel(panel, range, {
        left: (index % columns) * (width + gap_px),
        top: Math.floor(index / columns) * (rowHeight + 12),
        width,
      }),
    ),
  );
  const rows = Math.max(1, Math.ceil(view.panels.length / columns));
  return { width: width_px, height: rows * rowHeight + (rows - 1) * 12, label: view.label, shapes };
}

function drawPanel(
  panel: CoursePanel,
  [low, high]: readonly [number, number],
  place: { readonly left: number; readonly top: number; readonly width: number },
): Shape[] {
  const names = Math.max(...panel.lines.map(({ words }) => textWidth_px(words)), textWidth_px('charge')) + 10;
  const left = place.left + axis_px;
  const right = place.left + place.width - names;
  const count = Math.max(1, panel.charge.length);
  const x = (index: number) => left + ((index + 0.5) / count) * (right - left);
  const bottom = place.top + head_px + temperature_px;
  const y = (value_C: number) => bottom - ((value_C - low) / (high - low)) * temperature_px;
  const floor = bottom + between_px + charge_px;
  const chargeY = (share: number) => floor - share * charge_px;
  const ticks = findTicks(low, high, 4);
  const axis = (at: number) => makePath('hl', `M${roundPixel(left)} ${roundPixel(at)}H${roundPixel(right)}`);
  return [
    makeText(panel.title, place.left, place.top + 11, 'b'),
    ...ticks.values.flatMap((value) => [
      makePath('gr', `M${roundPixel(left)} ${roundPixel(y(value))}H${roundPixel(right)}`),
      makeText(
        `${formatNumber(value, ticks.decimals)}${value === ticks.values.at(-1) ? ' °C' : ''}`,
        left - 6,
        y(value) + 4,
        'q',
        'end',
      ),
    ]),
    axis(bottom),
    ...panel.lines.flatMap(({ look, values_C }) => drawLine(look, values_C, x, y)),
    ...nameLines(panel, y, right + 8),
    makePath(
      'soft',
      `${pathThrough([
        [x(0), floor],
        ...panel.charge.map((share, index) => [x(index), chargeY(share)] as const),
        [x(count - 1), floor],
      ])}Z`,
    ),
    makePath('ac', pathThrough(panel.charge.map((share, index) => [x(index), chargeY(share)] as const))),
    axis(floor),
    makeText('full', left - 6, chargeY(1) + 4, 'q', 'end'),
    makeText('empty', left - 6, floor + 2, 'q', 'end'),
    makeText('charge', right + 8, chargeY(panel.charge.at(-1) ?? 0.5) + 4, 'a'),
    ...panel.marks.map(({ at, words }) => makeText(words, x(at), floor + 17, 'q', 'middle')),
  ];
}

function drawLine(
  look: CoursePanel['lines'][number]['look'],
  values_C: readonly number[],
  x: (index: number) => number,
  y: (value_C: number) => number,
): Shape[] {
  const points = values_C.map((value_C, index) => [x(index), y(value_C)] as const);
  if (look === 'peak') return points.map(([px, py]) => makeCircle('inkf', px, py, 2));
  return [makePath(look === 'cell' ? 'ln' : 'hl dash', pathThrough(points))];
}

/** Names at the end of their lines, apart from one another. */
function nameLines({ lines }: CoursePanel, y: (value_C: number) => number, at: number): Shape[] {
  const sorted = [...lines]
    .map(({ words, look, values_C }) => ({ words, look, wish: y(values_C.at(-1) ?? 0) }))
    .sort((one, other) => one.wish - other.wish);
  const places = spreadAlong(
    sorted.map(({ wish }) => wish),
    sorted.map(() => 15),
    Number.NEGATIVE_INFINITY,
    Number.POSITIVE_INFINITY,
  );
  return sorted.map(({ words, look }, index) =>
    makeText(words, at, (places[index] ?? 0) + 4, look === 'room' ? 'q' : ''),
  );
}
