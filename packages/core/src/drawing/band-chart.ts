import { formatNumber } from '../measure/index.js';
import { makeGroup, makePath, makeText, pathThrough, roundPixel } from './make-shape.js';
import type { Drawing, Shape } from './shape.js';
import { textWidth_px } from './text-width.js';
import { findTicks } from './ticks.js';

/** One course with its doubt: a wide band and a narrow one in it, and no line, because no single course is the best one. */
export interface BandPanel {
  readonly name: string;
  readonly figure: string;
  readonly isChosen?: boolean;
  readonly points: readonly {
    readonly at: number;
    readonly thin: readonly [number, number];
    readonly thick: readonly [number, number];
  }[];
}

export interface BandView {
  /** What the drawing shows, with its numbers. */
  readonly label: string;
  readonly unit: string;
  /** What the horizontal axis counts in. */
  readonly atUnit: string;
  readonly panels: readonly BandPanel[];
  /** A level that matters, such as the one at which a pack counts as worn out. */
  readonly level: number;
  readonly range: readonly [number, number];
}

const gap_px = 20;
const head_px = 36;
const plot_px = 132;
const foot_px = 28;
const axis_px = 50;
const least_px = 190;

/**
 * Courses side by side on one scale, each in a panel of its own: bands that lie on one another could not be told apart.
 *
 * The first panel's narrow band returns in the others as a dashed outline, so that each is seen against it.
 *
 * @param width_px the room there is, from about 300 px up
 */
export function drawBands(view: BandView, width_px: number): Drawing {
  const widest = Math.max(
    least_px,
    ...view.panels.flatMap(({ name, figure }) => [textWidth_px(name, true), textWidth_px(figure)]),
  );
  const fit = Math.floor((width_px - axis_px + gap_px) / (widest + gap_px));
  const columns = Math.max(1, Math.min(view.panels.length, fit));
  const panelWidth = (width_px - axis_px - gap_px * (columns - 1)) / columns;
  const rowHeight = head_px + plot_px + foot_px;
  const shapes = view.panels.map((panel, index) => {
    const column = index % columns;
    const left = axis_px + column * (panelWidth + gap_px);
    const top = Math.floor(index / columns) * rowHeight;
    const reference = index === 0 ? null : (view.panels[0] ?? null);
    return makeGroup(
      drawPanel(view, panel, reference, { left, top, width: panelWidth, hasAxis: column === 0 }),
    );
  });
  const rows = Math.ceil(view.panels.length / columns);
  return { width: width_px, height: Math.max(1, rows) * rowHeight, label: view.label, shapes };
}

interface Place {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly hasAxis: boolean;
}

function drawPanel(view: BandView, panel: BandPanel, reference: BandPanel | null, place: Place): Shape[] {
  const last = panel.points.at(-1)?.at ?? 1;
  const [low, high] = view.range;
  const bottom = place.top + head_px + plot_px;
  // The last number of the axis stands before the panel's edge, not across it.
  const plotWidth = place.width - 6;
  const x = (at: number) => place.left + (at / last) * plotWidth;
  const y = (value: number) =>
    bottom - ((Math.max(low, Math.min(high, value)) - low) / (high - low)) * plot_px;
  const band = (of: 'thin' | 'thick', from: BandPanel) =>
    `${pathThrough([
      ...from.points.map((point) => [x(point.at), y(point[of][1])] as const),
      ...[...from.points].reverse().map((point) => [x(point.at), y(point[of][0])] as const),
    ])}Z`;
  const levelY = y(view.level);
  const edge = place.left + plotWidth;
  return [
    makeText(panel.name, place.left, place.top + 11, panel.isChosen ? 'b a' : 'b'),
    makeText(panel.figure, place.left, place.top + 26, 'q'),
    makePath(panel.isChosen ? 'soft' : 'faint', band('thin', panel)),
    makePath(panel.isChosen ? 'acf' : 'inkf', band('thick', panel), { opacity: panel.isChosen ? 0.55 : 0.4 }),
    ...(reference ? [makePath('hl dash', band('thick', reference))] : []),
    makePath('ln', `M${roundPixel(place.left)} ${roundPixel(levelY)}H${roundPixel(edge)}`),
    ...drawAxes(view, place, { x, y, last, bottom, edge }),
  ];
}

function drawAxes(
  view: BandView,
  place: Place,
  at: {
    readonly x: (at: number) => number;
    readonly y: (value: number) => number;
    readonly last: number;
    readonly bottom: number;
    readonly edge: number;
  },
): Shape[] {
  const along = findTicks(0, at.last, Math.max(2, Math.floor(place.width / 45)));
  const lastWidth = textWidth_px(`${formatNumber(along.values.at(-1) ?? 0, along.decimals)} ${view.atUnit}`);
  const up = findTicks(view.range[0], view.range[1], 4);
  const marks = along.values
    .map((value) => `M${roundPixel(at.x(value))} ${roundPixel(at.bottom)}v5`)
    .join('');
  const shapes = [
    makePath('hl', `M${roundPixel(place.left)} ${roundPixel(at.bottom)}H${roundPixel(at.edge)}${marks}`),
    ...along.values.flatMap((value, index) => {
      const words = formatNumber(value, along.decimals);
      if (index === along.values.length - 1)
        return [makeText(`${words} ${view.atUnit}`, at.edge, at.bottom + 19, 'q', 'end')];
      // The last one carries the unit; a number that would run into it stays away.
      if (at.x(value) + textWidth_px(words) > at.edge - lastWidth - 4) return [];
      return [makeText(words, at.x(value), at.bottom + 19, 'q', index === 0 ? 'start' : 'middle')];
    }),
  ];
  if (place.hasAxis) {
    for (const value of up.values)
      shapes.push(
        makeText(
          `${formatNumber(value, up.decimals)}${value === up.values.at(-1) ? ` ${view.unit}` : ''}`,
          place.left - 6,
          Math.min(at.bottom, at.y(value) + 4),
          'q',
          'end',
        ),
      );
  }
  return shapes;
}
