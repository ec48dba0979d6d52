import { formatNumber } from '../measure/index.js';
import { fillField } from './field-fill.js';
import type { FieldDrawing, FieldFrame, FieldOutline, FieldView } from './field-view.js';
import { type Isotherm, knotsOfCells, traceIsotherms } from './isotherm.js';
import { makeCircle, makeGroup, makePath, makeRect, makeText, roundPixel } from './make-shape.js';
import type { Shape } from './shape.js';
import { spreadAlong } from './spread.js';
import { type Anchor, type Box, boxesOverlap, shortenWords, textBox, textWidth_px } from './text-width.js';
import { findTicks } from './ticks.js';

/** Lines of one level that a field of this span is given at most. */
const mostLines = 8;
/** A field more even than this has no lines: they would follow the grid, not the heat. @assumed */
const evenField_K = 0.05;
const stretches = [1, 1.5, 2, 3, 4, 5, 6, 8, 10];

/**
 * A plane through a field: lines of one temperature, outlines of what lies there, probes with what they would show.
 *
 * @param width_px the room there is, from about 280 px up
 * @param isFilled true for paper, with the field as areas of colour; a page paints the field beneath, in `frame`
 */
export function drawField(view: FieldView, width_px: number, isFilled: boolean): FieldDrawing {
  const { frame, stretch, column } = layOutField(view, width_px);
  const knots = knotsOfCells(view.x_mm, view.y_mm, view.level_C);
  const [low, high] = rangeOf(view.level_C);
  const step = high - low < evenField_K ? null : findTicks(low, high, mostLines);
  const lines = (step?.values ?? []).flatMap((level) => traceIsotherms(knots, level));
  const taken: Box[] = [];
  const marks = drawMarks(view, frame, taken);
  const onField: Shape[] = [
    makePath('iso', lines.map((line) => pathOf(line, frame)).join('')),
    ...view.outlines.flatMap((outline) => drawOutline(outline, frame)),
    ...drawCut(view, frame),
    ...nameIsotherms(lines, frame, step?.decimals ?? 0, taken),
    ...marks,
  ];
  const axis = drawAxis(view, frame);
  const names = column === 0 ? [] : nameOutlines(view, frame, width_px);
  return {
    width: width_px,
    height: Math.ceil(frame.top + frame.height + 24),
    label: view.label,
    shapes: [
      ...(isFilled && step !== null ? fillField(view, frame, step.step / 4) : []),
      ...(isFilled && step === null ? fillField(view, frame, 1) : []),
      makeGroup(onField, { class: 'onfield' }),
      ...axis,
      ...names,
    ],
    frame,
    stretch,
    step_K: step?.step ?? null,
  };
}

function layOutField(view: FieldView, width_px: number) {
  const length_mm = view.x_mm.at(-1) as number;
  const across_mm = view.y_mm.at(-1) as number;
  const isDown = view.kind === 'section';
  const column = isDown && width_px >= 520 ? 132 : 0;
  const side = isDown ? 26 : view.cut_mm === null ? 4 : 18;
  const width = width_px - (isDown ? side + Math.max(column, 6) : 2 * side);
  const perMillimetre = width / length_mm;
  const wanted_px = isDown ? Math.min(270, 0.62 * width_px + 40) : 0;
  const stretch = isDown
    ? stretches.reduce((best, each) =>
        Math.abs(across_mm * perMillimetre * each - wanted_px) <
        Math.abs(across_mm * perMillimetre * best - wanted_px)
          ? each
          : best,
      )
    : 1;
  const frame: FieldFrame = {
    left: side,
    top: 8,
    width,
    height: across_mm * perMillimetre * stretch,
    isDown,
    length_mm,
    across_mm,
  };
  return { frame, stretch, column };
}

function rangeOf(values: Float32Array): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return [low, high];
}

const xIn = (frame: FieldFrame, x_mm: number) => frame.left + (x_mm / frame.length_mm) * frame.width;

function yIn(frame: FieldFrame, y_mm: number): number {
  const down = (y_mm / frame.across_mm) * frame.height;
  return frame.isDown ? frame.top + down : frame.top + frame.height - down;
}

/** Points closer than half a pixel to the last one are left out: they cannot be seen, and there are thousands of them. */
function pathOf({ points, isClosed }: Isotherm, frame: FieldFrame): string {
  const parts: string[] = [];
  let [lastX, lastY] = [Number.NaN, Number.NaN];
  for (let at = 0; at < points.length; at += 2) {
    const [x, y] = [xIn(frame, points[at] as number), yIn(frame, points[at + 1] as number)];
    const isEnd = at + 2 >= points.length;
    if (Math.abs(x - lastX) < 0.5 && Math.abs(y - lastY) < 0.5 && !isEnd) continue;
    parts.push(`${parts.length === 0 ? 'M' : 'L'}${roundPixel(x)} ${roundPixel(y)}`);
    [lastX, lastY] = [x, y];
  }
  return parts.join('') + (isClosed ? 'Z' : '');
}

const looks: Readonly<
  Record<FieldOutline['look'], readonly [classes: string, more: Record<string, number>]>
> = {
  device: ['ln', {}],
  pack: ['ln', { opacity: 0.75 }],
  zone: ['hl dash', {}],
  plate: ['hl', { opacity: 0.8 }],
  strip: ['hl', { opacity: 0.55 }],
  part: ['hl', { opacity: 0.6 }],
};

function drawOutline({ look, x, y }: FieldOutline, frame: FieldFrame): Shape[] {
  const [left, right] = [xIn(frame, x[0]), xIn(frame, x[1])];
  const [one, other] = [yIn(frame, y[0]), yIn(frame, y[1])];
  const [classes, more] = looks[look];
  return [makeRect(`${classes} over`, left, Math.min(one, other), right - left, Math.abs(other - one), more)];
}

function drawCut({ cut_mm, kind }: FieldView, frame: FieldFrame): Shape[] {
  if (cut_mm === null || kind !== 'plan') return [];
  const y = roundPixel(yIn(frame, cut_mm));
  const [left, right] = [frame.left, frame.left + frame.width];
  return [makePath('ac', `M${left} ${y}H${roundPixel(right)}`, { 'stroke-dasharray': '10 3 2 3' })];
}

/** Rings, each with its tag and temperature beside it, none over another. */
function drawMarks({ marks }: FieldView, frame: FieldFrame, taken: Box[]): Shape[] {
  const rings = marks.map((mark) => ({ mark, x: xIn(frame, mark.x_mm), y: yIn(frame, mark.y_mm) }));
  for (const { x, y } of rings) taken.push({ left: x - 5, right: x + 5, top: y - 5, bottom: y + 5 });
  const words = rings.flatMap(({ mark, x, y }) => {
    const text = mark.level_C === null ? mark.tag : `${mark.tag} ${formatNumber(mark.level_C, 1)}`;
    const width = textWidth_px(text, true);
    const places: [number, number, Anchor][] = [
      [x + 9, y + 4, 'start'],
      [x - 9, y + 4, 'end'],
      [x, y + 19, 'middle'],
      [x, y - 10, 'middle'],
      [x, y + 34, 'middle'],
      [x, y - 25, 'middle'],
    ];
    for (const [at_x, at_y, anchor] of places) {
      const box = textBox(width, at_x, at_y, anchor);
      if (!isWithin(box, frame) || taken.some((other) => boxesOverlap(box, other, 1))) continue;
      taken.push(box);
      return [makeText(text, at_x, at_y, 'b halo', anchor)];
    }
    return [];
  });
  return [...rings.map(({ x, y }) => makeCircle('pt', x, y, 3.6)), ...words];
}

function isWithin(box: Box, frame: FieldFrame): boolean {
  return (
    box.left >= frame.left &&
    box.right <= frame.left + frame.width &&
    box.top >= frame.top &&
    box.bottom <= frame.top + frame.height
  );
}

/** The temperature of each line, written on its longest piece where nothing else stands; a line too short for it goes without. */
function nameIsotherms(
  lines: readonly Isotherm[],
  frame: FieldFrame,
  decimals: number,
  taken: Box[],
): Shape[] {
  const longest = new Map<number, Isotherm>();
  for (const line of lines) {
    const best = longest.get(line.level_C);
    if (best === undefined || line.points.length > best.points.length) longest.set(line.level_C, line);
  }
  return [...longest.values()].flatMap((line) => {
    const words = formatNumber(line.level_C, decimals);
    const width = textWidth_px(words);
    const count = line.points.length / 2;
    for (const share of [0.5, 0.3, 0.7, 0.15, 0.85, 0.02, 0.98]) {
      const at = 2 * Math.min(count - 1, Math.floor(share * count));
      const x = xIn(frame, line.points[at] as number);
      const y = yIn(frame, line.points[at + 1] as number) + 4;
      const box = textBox(width, x, y, 'middle');
      if (!isWithin(box, frame) || taken.some((other) => boxesOverlap(box, other, 3))) continue;
      taken.push(box);
      return [makeText(words, x, y, 'q halo', 'middle')];
    }
    return [];
  });
}

/** Millimetres along the foot, and in a section down the side; letters where a plan is cut. */
function drawAxis(view: FieldView, frame: FieldFrame): Shape[] {
  const foot = frame.top + frame.height;
  const along = findTicks(0, frame.length_mm, Math.max(3, Math.floor(frame.width / 70)));
  const shapes: Shape[] = [
    makePath(
      'hl',
      along.values.map((value) => `M${roundPixel(xIn(frame, value))} ${roundPixel(foot)}v4`).join(''),
    ),
    ...along.values.map((value, index) =>
      makeText(
        index === along.values.length - 1 ? `${formatNumber(value, 0)} mm` : formatNumber(value, 0),
        Math.max(4, xIn(frame, value)),
        foot + 17,
        'q',
        'middle',
      ),
    ),
  ];
  if (frame.isDown) {
    const down = findTicks(0, frame.across_mm, Math.max(3, Math.floor(frame.height / 44)));
    shapes.push(
      makePath(
        'hl',
        down.values.map((value) => `M${frame.left} ${roundPixel(yIn(frame, value))}h-4`).join(''),
      ),
      ...down.values.map((value) =>
        makeText(formatNumber(value, 0), frame.left - 7, yIn(frame, value) + 4, 'q', 'end'),
      ),
    );
  } else if (view.cut_mm !== null) {
    const y = yIn(frame, view.cut_mm) + 4;
    shapes.push(
      makeText('A', frame.left - 5, y, 'a b', 'end'),
      makeText('A', frame.left + frame.width + 5, y, 'a b'),
    );
  }
  return shapes;
}

const nameHeight_px = 16;

/** Names beside a section, from the front to the back, with leaders that keep their order. */
function nameOutlines({ outlines }: FieldView, frame: FieldFrame, width_px: number): Shape[] {
  const named = outlines
    .flatMap(({ name, y }) => (name === undefined ? [] : [{ name, at: yIn(frame, (y[0] + y[1]) / 2) }]))
    .sort((one, other) => one.at - other.at);
  const right = frame.left + frame.width;
  const left = right + 22;
  const places = spreadAlong(
    named.map(({ at }) => at),
    named.map(() => nameHeight_px),
    frame.top,
    Math.max(frame.top + frame.height, frame.top + named.length * nameHeight_px),
  );
  return named.flatMap(({ name, at }, index) => {
    const place = roundPixel(places[index] ?? at);
    return [
      makePath('hl', `M${roundPixel(right + 2)} ${roundPixel(at)}h4L${roundPixel(left - 8)} ${place}h5`, {
        opacity: 0.55,
      }),
      makeText(shortenWords(name, width_px - left), left, place + 4),
    ];
  });
}
