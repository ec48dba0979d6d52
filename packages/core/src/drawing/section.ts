import { formatNumber } from '../measure/index.js';
import { makePath, makeText, roundPixel } from './make-shape.js';
import { cellSpans, drawBody, drawGrid, drawOverflowWords, overflowWords_px } from './section-body.js';
import { chipHeight_px, drawProbeRow, ringHeight } from './section-probes.js';
import { type SectionScale, scaleSection } from './section-scale.js';
import type { SectionView } from './section-view.js';
import type { Drawing, Shape } from './shape.js';
import { spreadAlong } from './spread.js';
import { shortenWords, textWidth_px } from './text-width.js';

/** A section says how much it is stretched and what its grid measures; the title block repeats both. */
export interface SectionDrawing extends Drawing {
  readonly stretch: number;
  readonly grid_mm: number;
}

const rowHeight_px = 16.5;
const columnWidth_px = 184;

/** Thicknesses as a caliper reads them; films finer. */
export function formatThickness(thickness_mm: number): string {
  if (thickness_mm >= 0.095)
    return formatNumber(
      thickness_mm,
      Math.abs(thickness_mm * 10 - Math.round(thickness_mm * 10)) < 0.05 ? 1 : 2,
    );
  return formatNumber(thickness_mm, thickness_mm >= 0.01 ? 2 : 3);
}

/** Names with millimetres to the right; leaders keep the order of the layers, so none crosses another. */
function drawColumn(
  view: SectionView,
  at: SectionScale,
  left: number,
  right: number,
): { shapes: Shape[]; bottom: number } {
  const { rows } = view;
  const top = at.top + 4;
  const high = Math.max(at.bottom, top + rows.length * rowHeight_px);
  const wishes = rows.map((row) => at.y(row.middle_mm));
  const places = spreadAlong(
    wishes,
    rows.map(() => rowHeight_px),
    top,
    high,
  );
  const shapes: Shape[] = [makeText('mm', right, at.top, 'q', 'end')];
  for (const [index, row] of rows.entries()) {
    const [wish, place] = [roundPixel(wishes[index] ?? 0), roundPixel(places[index] ?? 0)];
    const edge = roundPixel(at.right + 2);
    shapes.push(makePath('hl', `M${edge} ${wish}h6L${roundPixel(left - 12)} ${place}h6`, { opacity: 0.55 }));
    const figure = formatThickness(row.thickness_mm);
    const classes = row.isSubject ? 'b' : '';
    const name = shortenWords(
      row.name,
      right - left - textWidth_px(figure, row.isSubject) - 10,
      row.isSubject,
    );
    shapes.push(makeText(name, left, place + 4, classes), makeText(figure, right, place + 4, classes, 'end'));
  }
  return { shapes, bottom: places.length === 0 ? at.bottom : (places.at(-1) ?? 0) + rowHeight_px / 2 };
}

function drawDimension(at: SectionScale): Shape[] {
  const [top, bottom] = [roundPixel(at.y(0)), roundPixel(at.y(at.depths.total))];
  const x = at.left - 12;
  const words = `${formatThickness(at.depths.total)} mm`;
  return [
    makePath('hl', `M${at.left - 4} ${top}h-14M${at.left - 4} ${bottom}h-14M${x} ${top}V${bottom}`),
    {
      tag: 'text',
      attrs: {
        class: 'q m',
        x: 0,
        y: 0,
        transform: `translate(${x - 6} ${roundPixel((top + bottom) / 2)}) rotate(-90)`,
      },
      text: words,
    },
  ];
}

/** Edges of the cell under a probe, in pixels. */
function homeCell(at: SectionScale): (probe: { readonly x_mm: number }) => readonly [number, number] | null {
  const spans = cellSpans(at);
  return ({ x_mm }) => {
    const span = spans.find(([from, to]) => x_mm >= from && x_mm <= to);
    return span === undefined ? null : [at.x(span[0]), at.x(span[1])];
  };
}

/**
 * The section: the device cut through at its hottest zone, to scale, with what the probes read.
 *
 * @param width_px the room there is, from about 300 px up; below 560 px the column of layers is left to a text beside it
 */
export function drawSection(view: SectionView, width_px: number): SectionDrawing {
  const hasColumn = width_px >= 560;
  const isNarrow = width_px < 480;
  const left = 34;
  const right = hasColumn ? width_px - columnWidth_px : width_px - 6;
  const wanted = { stretch: isNarrow ? 6 : 3, least_px: 150, most_px: isNarrow ? 380 : 430 };
  const inside = (place: string) => view.probes.filter((probe) => probe.place === place);
  const [zones, cells, shells] = [inside('zone'), inside('cell'), inside('shell')];

  // Zone chips stand in the front gap where it has room for them, otherwise outside, above the device.
  const trial = scaleSection(view, { left, right, top: 22 }, wanted);
  const gapHeight = trial.y(trial.depths.board) - trial.y(trial.depths.gap);
  const zonesInside = gapHeight >= chipHeight_px + 4;
  const top = zones.length > 0 && !zonesInside ? 22 + chipHeight_px + 14 : 22;
  const at = scaleSection(view, { left, right, top }, wanted);
  const packHeight = at.y(at.depths.packBack) - at.y(at.depths.pack);
  const cellsInside = packHeight >= 64;

  const shapes: Shape[] = [
    drawGrid(at),
    ...drawBody(at, packHeight >= (cells.length > 0 ? 84 : 40)),
    ...drawDimension(at),
  ];
  const edges = { left: at.left + 4, right: at.right - 4 };
  const common = { ringY: (probe: Parameters<typeof ringHeight>[0]) => ringHeight(probe, at) };
  if (zones.length > 0) {
    const chipTop = zonesInside ? at.y(at.depths.gap) + (gapHeight - chipHeight_px) / 2 : 4;
    shapes.push(
      ...drawProbeRow({ ...common, ...edges, probes: zones, chipTop, isAbove: true, hasSub: false }, at),
    );
  }
  const foot = at.bottom + (view.reserve_mm < 0 ? overflowWords_px : 0);
  shapes.push(...drawOverflowWords(at));
  let bottom = foot + 12;
  if (cells.length > 0 && cellsInside) {
    const packEdges = {
      left: Math.max(edges.left, at.x(view.pack.x_mm) + 4),
      right: Math.min(edges.right, at.x(view.pack.x_mm + view.pack.length_mm) - 4),
    };
    const hasSub = packHeight >= 70;
    const chipTop = at.y(at.depths.pack) + Math.max(14, Math.min(40, (packHeight - 72) / 2));
    shapes.push(
      ...drawProbeRow(
        { ...common, ...packEdges, home: homeCell(at), probes: cells, chipTop, isAbove: false, hasSub },
        at,
      ),
    );
  }
  const outside = [...(cellsInside ? [] : cells), ...shells];
  if (outside.length > 0) {
    const hasSub = outside.some((probe) => probe.sub !== null);
    shapes.push(
      ...drawProbeRow(
        { ...common, ...edges, probes: outside, chipTop: foot + 16, isAbove: false, hasSub },
        at,
      ),
    );
    bottom = foot + 16 + chipHeight_px + (hasSub ? 20 : 4);
  }
  if (hasColumn) {
    const column = drawColumn(view, at, Math.max(at.right + 30, right + 30), width_px);
    shapes.push(...column.shapes);
    bottom = Math.max(bottom, column.bottom + 2);
  }
  return {
    width: width_px,
    height: Math.ceil(bottom),
    label: view.label,
    shapes,
    stretch: at.stretch,
    grid_mm: at.grid_mm,
  };
}
