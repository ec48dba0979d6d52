import { formatElapsed, formatNumber } from '../measure/index.js';
import {
  makeCircle,
  makePath,
  makeRect,
  makeText,
  pathThrough,
  roundPixel,
  withTitle,
} from './make-shape.js';
import { type LabelField, placeBesideLine } from './place-label.js';
import { drawPlateau } from './run-chart-plateau.js';
import { type RunChartScales, runChartScales, type TracedLine, traceLine } from './run-chart-scales.js';
import type { RunChartLine, RunChartView } from './run-chart-view.js';
import type { Drawing, Shape } from './shape.js';
import { spreadAlong } from './spread.js';
import { lineHeight_px, textWidth_px } from './text-width.js';
import { findTimeTicks } from './ticks.js';

/** Lines differ in dash as well as weight, so that a grey print still tells them apart. */
const dashes: readonly (readonly number[])[] = [
  [],
  [5, 3],
  [1.5, 2.5],
  [9, 3, 2, 3],
  [12, 4],
  [6, 2, 1.5, 2, 1.5, 2],
];
/** Room a grip takes on each side of a phase limit. */
const gripRoom_px = 11;

function drawPhases(view: RunChartView, at: RunChartScales): Shape[] {
  const shapes: Shape[] = [];
  for (const { kind, from_s, to_s } of view.phases) {
    if (to_s <= at.from_s || from_s >= at.to_s) continue;
    const [left, right] = [Math.max(at.left, at.x(from_s)), Math.min(at.right, at.x(to_s))];
    if (kind === 'load')
      shapes.push(makeRect('soft', left, at.top, right - left, at.bottom - at.top, { opacity: 0.5 }));
    for (const [when, edge] of [
      [from_s, left],
      [to_s, right],
    ] as const) {
      if (when > at.from_s && when < at.to_s)
        shapes.push(makePath('hl', `M${roundPixel(edge)} ${at.top}V${at.bottom}`));
    }
    const duration = formatElapsed(to_s - from_s);
    const room = right - left - 2 * gripRoom_px;
    const nameWidth = textWidth_px(kind, true);
    const middle = (left + right) / 2;
    if (nameWidth + textWidth_px(` ${duration}`) <= room) {
      shapes.push({
        ...makeText(`${kind} `, middle, at.top + 17, 'b', 'middle'),
        children: [{ tag: 'tspan', attrs: { class: 'q', 'font-weight': 400 }, text: duration }],
      });
    } else if (nameWidth <= room) shapes.push(makeText(kind, middle, at.top + 17, 'b', 'middle'));
  }
  return shapes;
}

function drawAxes(view: RunChartView, at: RunChartScales): Shape[] {
  const shapes: Shape[] = [];
  const { values, decimals } = at.levelTicks;
  for (const value of values) {
    const y = at.y(value);
    shapes.push(makePath('ru', `M${at.left} ${roundPixel(y)}H${at.right}`, { opacity: 0.75 }));
    shapes.push(makeText(formatNumber(value, decimals), at.left - 6, y + 4, 'q', 'end'));
  }
  shapes.push(makeText('°C', 0, at.top + 17, 'q'));
  const last_s = view.window_s === undefined ? view.span_s : at.to_s;
  const times = findTimeTicks(last_s, Math.floor((at.right - at.left) / 64), at.from_s);
  shapes.push(
    makePath(
      'hl',
      `M${at.left} ${at.bottom}H${at.right}${times.map((after_s) => `M${roundPixel(at.x(after_s))} ${at.bottom}v5`).join('')}`,
    ),
  );
  // Between whole minutes the seconds are told as well.
  const isFine = times.some((after_s) => after_s % 60 !== 0);
  for (const [index, after_s] of times.entries()) {
    const words = `${isFine ? formatSeconds(after_s) : formatElapsed(after_s)}${index === times.length - 1 ? ' h' : ''}`;
    const half = textWidth_px(words) / 2;
    shapes.push(
      makeText(
        words,
        Math.max(at.left - 6 + half, Math.min(at.width - half, at.x(after_s))),
        at.bottom + 19,
        'q',
        'middle',
      ),
    );
  }
  return shapes;
}

function drawFlags(view: RunChartView, at: RunChartScales, label: LabelField): Shape[] {
  const y = at.top + 40;
  const size = 21;
  const shown = view.flags
    .filter((flag) => flag.at_s >= at.from_s && flag.at_s <= at.to_s)
    .sort((one, other) => one.at_s - other.at_s)
    .slice(0, Math.floor((at.right - at.left) / size));
  const places = spreadAlong(
    shown.map((flag) => at.x(flag.at_s)),
    shown.map(() => size),
    at.left,
    at.right,
  );
  return shown.map((flag, index) => {
    const place = places[index] ?? 0;
    const foot = at.x(flag.at_s);
    label.taken.push({ left: place - 9, right: place + 9, top: y - 9, bottom: y + 9 });
    return withTitle(`${flag.number}: ${flag.title}`, [
      makePath('hl dot', `M${roundPixel(place)} ${y + 9}L${roundPixel(foot)} ${y + 16}V${at.bottom}`),
      makeCircle('chip', place, y, 8.5),
      makeText(String(flag.number), place, y + 4.2, 'b', 'middle'),
    ]);
  });
}

function lineLook(
  line: RunChartLine,
  dash: readonly number[],
): { classes: string; more: Record<string, string> } {
  if (line.role === 'chosen') return { classes: 'ac', more: {} };
  if (line.role === 'ambient') return { classes: 'hl', more: {} };
  return { classes: 'ln', more: dash.length === 0 ? {} : { 'stroke-dasharray': dash.join(' ') } };
}

interface DrawnLine {
  readonly line: RunChartLine;
  readonly trace: TracedLine;
  readonly dash: readonly number[];
  readonly classes: string;
  readonly more: Record<string, string>;
}

function traceLines(view: RunChartView, at: RunChartScales): DrawnLine[] {
  // The chosen line takes a turn too, so that the others keep their dashes whichever is chosen.
  let turn = 0;
  return view.lines.map((line) => {
    const dash = line.role === 'ambient' ? [] : (dashes[turn++ % dashes.length] ?? []);
    return { line, trace: traceLine(view, line, at), dash, ...lineLook(line, dash) };
  });
}

function drawLine({ line, trace, dash, classes }: DrawnLine): Shape {
  // A lone reading between two gaps is a dash of half a pixel, or it would not be seen at all.
  const d = trace.parts
    .map((part) =>
      part.length === 1
        ? `M${roundPixel((part[0]?.[0] ?? 0) - 0.5)} ${roundPixel(part[0]?.[1] ?? 0)}h1`
        : pathThrough(part),
    )
    .join('');
  // Dashes run along the line; on one that shakes they are drawn longer, so that seen from afar they stay as long.
  const { more } = lineLook(
    line,
    dash.map((length) => roundPixel(length * Math.min(trace.roughness, 12))),
  );
  return makePath(classes, d, { ...more, 'stroke-linejoin': 'round', 'data-probe': line.probe });
}

/** Names at the lines; what finds no free place is listed under the chart with a sample of its line. */
function drawNames(
  lines: readonly DrawnLine[],
  at: RunChartScales,
  field: LabelField,
): { shapes: Shape[]; height: number } {
  const shapes: Shape[] = [];
  const listed: DrawnLine[] = [];
  for (const drawn of lines) {
    const { line, trace } = drawn;
    const classes = line.role === 'chosen' ? 'b a halo' : line.role === 'ambient' ? 'q halo' : 'halo';
    const words = at.width < 480 && textWidth_px(line.name) > 90 ? line.shortName : line.name;
    const place = placeBesideLine(trace, textWidth_px(words, line.role === 'chosen'), field);
    if (place === null) listed.push(drawn);
    else shapes.push(makeText(words, place.x, place.y, classes));
  }
  let [x, y] = [at.left, at.height + 12];
  for (const { line, classes, more } of listed) {
    const width = 30 + textWidth_px(line.name);
    if (x > at.left && x + width > at.right) [x, y] = [at.left, y + lineHeight_px + 3];
    shapes.push(makePath(classes, `M${roundPixel(x)} ${y - 4}h22`, more), makeText(line.name, x + 28, y));
    x += width + 18;
  }
  return { shapes, height: listed.length > 0 ? y + 8 : at.height };
}

/**
 * The log of one run: every probe, the phases, the plateau with its doubt, and what was noticed.
 * Of each pixel column only the lowest and the highest reading are drawn, so a million rows cost no more than a thousand
 * and no spike is lost.
 *
 * @param width_px the room there is, from about 300 px up
 */
export function drawRunChart(view: RunChartView, width_px: number): Drawing {
  const at = runChartScales(view, width_px);
  const lines = traceLines(view, at);
  const hasFlags = view.flags.length > 0;
  const field: LabelField = {
    field: { left: at.left, right: at.right, top: at.top + (hasFlags ? 52 : 26), bottom: at.bottom - 3 },
    traces: lines.map((each) => each.trace),
    taken: [],
  };
  // A name across a phase limit would belong to neither phase.
  for (const { to_s } of view.phases)
    if (to_s >= at.from_s && to_s <= at.to_s)
      field.taken.push({ left: at.x(to_s) - 1, right: at.x(to_s) + 1, top: at.top, bottom: at.bottom });
  const flags = drawFlags(view, at, field);
  const chosen = lines.find((each) => each.line.role === 'chosen');
  const plateau = view.plateau === null ? null : drawPlateau(view.plateau, at, field, chosen?.trace);
  // The plateau's words name the chosen probe; a second name would only take room.
  const named = lines.filter((each) => !(plateau !== null && each === chosen && plateau.isNamed));
  const names = drawNames(
    [...named].sort((one, other) => rank(one) - rank(other)),
    at,
    field,
  );
  const empty = lines.every((each) => each.trace.parts.length === 0)
    ? [makeText('no readings', (at.left + at.right) / 2, (at.top + at.bottom) / 2, 'q', 'middle')]
    : [];
  const drawn = [...lines].sort((one, other) => rank(other) - rank(one)).map(drawLine);
  const shapes = [
    ...drawPhases(view, at),
    ...drawAxes(view, at),
    ...flags,
    ...(plateau?.under ?? []),
    ...(view.window_s === undefined ? drawn : [clipped(drawn, at)]),
    ...(plateau?.over ?? []),
    ...names.shapes,
    ...empty,
  ];
  return { width: width_px, height: Math.ceil(names.height), label: view.label, shapes };
}

/** In a window lines run on beyond its edges, and are cut off there. */
function clipped(shapes: readonly Shape[], at: RunChartScales): Shape {
  const field = makeRect('', at.left, at.top, at.right - at.left, at.bottom - at.top);
  return {
    tag: 'g',
    attrs: {},
    children: [
      { tag: 'clipPath', attrs: { id: 'window' }, children: [field] },
      { tag: 'g', attrs: { 'clip-path': 'url(#window)' }, children: [...shapes] },
    ],
  };
}

function formatSeconds(after_s: number): string {
  const two = (value: number) => String(value).padStart(2, '0');
  return `${Math.floor(after_s / 3600)}:${two(Math.floor(after_s / 60) % 60)}:${two(Math.floor(after_s % 60))}`;
}

/** The chosen line is named first and drawn last. */
function rank({ line }: DrawnLine): number {
  return line.role === 'chosen' ? 0 : line.role === 'other' ? 1 : 2;
}
