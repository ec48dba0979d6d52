import { formatNumber } from '../measure/index.js';
import { drawMark } from './interval-mark.js';
import type { IntervalRow, IntervalView } from './interval-view.js';
import { levelShape } from './level-shape.js';
import { makePath, makeRuns, makeText, roundPixel } from './make-shape.js';
import { type AnchoredWords, placeInRows } from './place-words.js';
import type { Drawing, Shape } from './shape.js';
import { lineHeight_px, runsWidth_px, textWidth_px, type WordRun, wrapRuns } from './text-width.js';
import { findTicks } from './ticks.js';

/** Room for the level shape in front of its word. */
const lookRoom_px = 20;
const dotRoom_px = 6;

interface Layout {
  readonly width: number;
  readonly isWide: boolean;
  readonly nameWidth: number;
  readonly noteLeft: number;
  readonly figureRight: number;
  readonly plotLeft: number;
  readonly plotRight: number;
}

/** Names and figures beside the strokes where there is room; else each name on a line of its own above its stroke. */
function layOut(view: IntervalView, width: number): Layout {
  const widest = (lengths: readonly number[]) => Math.ceil(Math.max(0, ...lengths));
  const name = widest(view.rows.map((row) => runsWidth_px(row.name)));
  const note = widest(view.rows.map((row) => textWidth_px(row.note) + (row.look ? lookRoom_px : 0)));
  const figure = widest(view.rows.map((row) => textWidth_px(row.figure, true)));
  const nameWidth = Math.min(name, 0.31 * width);
  const noteLeft = width - note;
  const figureRight = note > 0 ? noteLeft - 16 : width;
  const plotLeft = nameWidth + 20 + dotRoom_px;
  const plotRight = figureRight - (figure > 0 ? figure + 20 : 0) - dotRoom_px;
  if (plotRight - plotLeft >= Math.max(180, 0.28 * width)) {
    return { width, isWide: true, nameWidth, noteLeft, figureRight, plotLeft, plotRight };
  }
  return {
    width,
    isWide: false,
    nameWidth: width - (note > 0 ? Math.min(note, 0.55 * width) + 12 : 0),
    noteLeft: Math.max(noteLeft, 0.45 * width),
    figureRight: width,
    plotLeft: dotRoom_px,
    plotRight: width - (figure > 0 ? figure + 14 : 0) - dotRoom_px,
  };
}

function rangeOf(view: IntervalView): [number, number] {
  const values = view.rows.flatMap(({ mark, runs, limit }) => [
    ...(mark === null ? [] : [mark.value ?? mark.thick[0], ...mark.thick, ...mark.thin]),
    ...(runs ?? []),
    ...(limit ? [limit.at] : []),
  ]);
  if (view.zero) values.push(view.zero.at);
  for (const reference of view.references ?? []) values.push(reference.at);
  const known = values.filter(Number.isFinite);
  if (known.length === 0) return [0, 1];
  const low = Math.min(...known);
  const high = Math.max(...known);
  const pad = high > low ? 0.04 * (high - low) : Math.max(1, 0.05 * Math.abs(low));
  return [low - pad, high + pad];
}

interface PlacedRow {
  readonly row: IntervalRow;
  readonly nameLines: readonly (readonly WordRun[])[];
  readonly nameTop: number;
  /** Height of the strokes. */
  readonly y: number;
  readonly bottom: number;
}

function placeRows(view: IntervalView, at: Layout, top: number): PlacedRow[] {
  let y = top;
  return view.rows.map((row) => {
    const above = row.limit && row.limit.words !== '' ? 27 : 11;
    const below = Math.max(
      row.runs && row.runs.length > 0 ? 18 : 9,
      row.valueWords || (row.limit && row.mark === null) ? 24 : 9,
    );
    const nameLines = wrapRuns(row.name, at.nameWidth, 3);
    const nameHeight = nameLines.length * lineHeight_px;
    const half = at.isWide ? nameHeight / 2 + 2 : 0;
    const line = y + (at.isWide ? Math.max(above, half) : nameHeight + above + 1);
    const nameTop = at.isWide ? line - nameHeight / 2 : y;
    // Words above and below a stroke already keep the rows apart.
    const gap = at.isWide ? (row.valueWords ? 4 : 12) : 10;
    const bottom = line + Math.max(below, half) + gap;
    y = bottom;
    return { row, nameLines, nameTop, y: line, bottom };
  });
}

function drawAxis(
  view: IntervalView,
  at: Layout,
  x: (value: number) => number,
  range: readonly [number, number],
  y: number,
): Shape[] {
  const plotWidth = at.plotRight - at.plotLeft;
  const wordsOf = (value: number, decimals: number) => formatNumber(value, decimals);
  let most = Math.min(9, Math.max(3, Math.floor(plotWidth / 50)));
  let ticks = findTicks(range[0], range[1], most);
  // Long numbers need more room than guessed: fewer of them until all stand apart.
  while (most > 2) {
    const widest = Math.max(
      0,
      ...ticks.values.map((value) => textWidth_px(`${wordsOf(value, ticks.decimals)} ${view.unit}`)),
    );
    if (ticks.step * (plotWidth / (range[1] - range[0])) >= widest + 8) break;
    most -= 1;
    ticks = findTicks(range[0], range[1], most);
  }
  const marks = [...ticks.values, ...ticks.between].sort((one, other) => one - other);
  const line = `M${roundPixel(at.plotLeft)} ${y}H${roundPixel(at.plotRight)}${marks.map((value) => `M${roundPixel(x(value))} ${y}v5`).join('')}`;
  const words = ticks.values.map((value, index) => {
    const isLast = index === ticks.values.length - 1;
    const text = `${wordsOf(value, ticks.decimals)}${isLast && view.unit !== '' ? ` ${view.unit}` : ''}`;
    const half = textWidth_px(text) / 2;
    return makeText(text, Math.max(half, Math.min(at.width - half, x(value))), y + 19, 'q', 'middle');
  });
  return [makePath('hl', line), ...words];
}

/** Lines that hold for all rows. Where names stand above the strokes, the lines leave them out. */
function drawRules(
  view: IntervalView,
  at: Layout,
  rows: readonly PlacedRow[],
  x: (value: number) => number,
  top: number,
  bottom: number,
): Shape[] {
  const spans = at.isWide
    ? [[top, bottom] as const]
    : [...rows.map((row) => [row.y - 10, row.y + 10] as const), [bottom - 6, bottom] as const];
  const down = (value: number) =>
    spans.map(([from, to]) => `M${roundPixel(x(value))} ${roundPixel(from)}V${roundPixel(to)}`).join('');
  const rules = (view.references ?? []).map((each) =>
    makePath(each.isDotted ? 'hl dot' : 'hl', down(each.at), each.isDotted ? {} : { opacity: 0.55 }),
  );
  if (view.zero) rules.push(makePath('ln', down(view.zero.at)));
  return rules;
}

function drawWordsAbove(
  view: IntervalView,
  at: Layout,
  x: (value: number) => number,
): { rows: number; draw: (top: number) => Shape[] } {
  const all: AnchoredWords[] = [];
  const [low, high] = [at.isWide ? Math.max(0, at.plotLeft - 0.6 * at.nameWidth) : 0, at.plotRight];
  const references = [...(view.references ?? [])].sort((one, other) => one.at - other.at);
  for (const [index, { at: value, words }] of references.entries()) {
    const isLeft = index === 0 && references.length > 1;
    all.push({
      at: x(value) + (isLeft ? 3 : -3),
      words,
      anchors: isLeft ? ['end', 'start'] : ['start', 'end'],
    });
  }
  if (view.zero) {
    all.push({ at: x(view.zero.at), words: view.zero.words, anchors: ['middle', 'start', 'end'] });
    all.push({ at: high, words: view.zero.toward, anchors: ['end'] });
  }
  const placed = placeInRows(all, low, high);
  const rows = placed.reduce((most, each) => Math.max(most, each.row + 1), 0);
  const draw = (top: number) =>
    placed.map(({ words, x: place, anchor, row }) =>
      makeText(words, place, top + 11 + (rows - 1 - row) * lineHeight_px, 'q', anchor),
    );
  return { rows, draw };
}

/**
 * Values with their doubt, one row each: rises, differences, states against limits, life factors.
 * Never bars from zero, because a bar's length would compare what has no common zero.
 *
 * @param width_px the room there is; the drawing is laid out for it, from about 300 px up
 */
export function drawIntervals(view: IntervalView, width_px: number): Drawing {
  const at = layOut(view, width_px);
  const range = rangeOf(view);
  const x = (value: number) =>
    at.plotLeft + ((value - range[0]) / (range[1] - range[0])) * (at.plotRight - at.plotLeft);
  const above = drawWordsAbove(view, at, x);
  const top = above.rows * lineHeight_px + (above.rows > 0 ? 3 : 0);
  const rows = placeRows(view, at, top + 4);
  const axis = (rows.at(-1)?.bottom ?? top + 20) + 2;

  const shapes: Shape[] = [...drawRules(view, at, rows, x, top, axis), ...above.draw(0)];
  for (const { row, nameLines, nameTop, y } of rows) {
    if (view.hasGuides)
      shapes.push(
        makePath('ru dot', `M${roundPixel(at.plotLeft)} ${roundPixel(y)}H${roundPixel(at.plotRight)}`),
      );
    for (const [index, line] of nameLines.entries())
      shapes.push(makeRuns(line, 0, nameTop + 11 + index * lineHeight_px));
    const noteY = at.isWide ? y + 4 : nameTop + 11;
    if (row.figure !== '') shapes.push(makeText(row.figure, at.figureRight, y + 4, 'b', 'end'));
    if (row.look) shapes.push(levelShape(row.look, at.noteLeft + 6, noteY - 4));
    if (row.note !== '')
      shapes.push(makeText(row.note, at.noteLeft + (row.look ? lookRoom_px : 0), noteY, row.look ? '' : 'q'));
    shapes.push(...drawMark(row, y, x, [at.plotLeft - dotRoom_px, at.plotRight + dotRoom_px]));
  }
  shapes.push(...drawAxis(view, at, x, range, roundPixel(axis)));
  return { width: width_px, height: Math.ceil(axis + 24), label: view.label, shapes };
}
