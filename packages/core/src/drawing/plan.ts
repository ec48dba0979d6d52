import type { Layer } from '../records/index.js';
import { makeCircle, makePath, makeRect, makeText, roundPixel } from './make-shape.js';
import { stripStarts } from './section-view.js';
import type { Drawing, Shape } from './shape.js';
import { type Anchor, type Box, boxesOverlap, textBox, textWidth_px } from './text-width.js';

interface Rectangle {
  readonly x_mm: number;
  readonly y_mm: number;
  readonly length_mm: number;
  readonly width_mm: number;
}

/** The device from its pack side; the origin is its lower left corner. */
export interface PlanView {
  readonly label: string;
  readonly length_mm: number;
  readonly width_mm: number;
  readonly pack: Rectangle | null;
  /** Cells in series, side by side along the device. */
  readonly cells: number;
  readonly zones: readonly (Rectangle & { readonly name: string })[];
  readonly layers: readonly (Rectangle & {
    readonly name: string;
    readonly material: Layer['material'];
    readonly strips: { readonly count: number; readonly width_mm: number } | null;
  })[];
  readonly probes: readonly {
    readonly probe: string;
    readonly tag: string;
    readonly x_mm: number;
    readonly y_mm: number;
  }[];
  /** Where the section A–A is cut; null where there is none. */
  readonly cut_mm: number | null;
}

/** Sheets that are metal enough to be seen as a plate; films and tape would only hide what lies beneath. */
const plates: readonly Layer['material'][] = ['aluminium', 'copper', 'graphite'];

interface PlanScale {
  x(along_mm: number): number;
  /** Up on the device is up on the page. */
  y(across_mm: number): number;
  readonly perMillimetre: number;
}

function drawRectangle(
  at: PlanScale,
  classes: string,
  area: Rectangle,
  more: Record<string, string | number> = {},
): Shape {
  const { perMillimetre } = at;
  return makeRect(
    classes,
    at.x(area.x_mm),
    at.y(area.y_mm + area.width_mm),
    area.length_mm * perMillimetre,
    area.width_mm * perMillimetre,
    more,
  );
}

function drawPackPlan(view: PlanView, at: PlanScale): Shape[] {
  const { pack } = view;
  if (pack === null) return [];
  const count = Math.max(1, view.cells);
  const pitch = pack.length_mm / count;
  if (count === 1 || pitch * at.perMillimetre < 8) return [drawRectangle(at, 'ce', pack, { rx: 3 })];
  const gap = Math.min(1, 0.06 * pitch);
  return Array.from({ length: count }, (_, index) => {
    const from = index * pitch + (index > 0 ? gap / 2 : 0);
    const to = (index + 1) * pitch - (index < count - 1 ? gap / 2 : 0);
    return drawRectangle(at, 'ce', { ...pack, x_mm: pack.x_mm + from, length_mm: to - from }, { rx: 3 });
  });
}

function drawLayersPlan(view: PlanView, at: PlanScale): Shape[] {
  return view.layers.flatMap((layer) => {
    if (layer.strips) {
      const { width_mm } = layer.strips;
      return stripStarts(layer.x_mm, layer.length_mm, layer.strips).map((x_mm) =>
        drawRectangle(at, 'sp', { ...layer, x_mm, length_mm: width_mm }, { opacity: 0.75 }),
      );
    }
    if (plates.includes(layer.material))
      return [drawRectangle(at, 'pl', layer, { rx: 3, 'fill-opacity': 0.75 })];
    if (layer.material === 'polyimide')
      return [drawRectangle(at, '', layer, { fill: 'none', stroke: 'var(--film)', 'stroke-width': 1.6 })];
    return [];
  });
}

/** Tags beside their rings, below where there is room, never over a ring, another tag or the letters of the cut. */
function drawProbeTags(view: PlanView, at: PlanScale, field: Box, taken: Box[]): Shape[] {
  const shapes: Shape[] = [];
  const rings = view.probes.map((probe) => ({ probe, x: at.x(probe.x_mm), y: at.y(probe.y_mm) }));
  for (const { x, y } of rings) taken.push({ left: x - 5, right: x + 5, top: y - 5, bottom: y + 5 });
  for (const { probe, x, y } of rings) {
    const width = textWidth_px(probe.tag, true);
    const near: [number, number, Anchor][] = [
      [x, y + 19, 'middle'],
      [x, y - 10, 'middle'],
      [x + 9, y + 4, 'start'],
      [x - 9, y + 4, 'end'],
    ];
    const far = [34, -25, 49, -40].map((shift): [number, number, Anchor] => [x, y + shift, 'middle']);
    for (const [tagX, tagY, anchor] of [...near, ...far]) {
      const box = textBox(width, tagX, tagY, anchor);
      const isInside =
        box.left >= field.left &&
        box.right <= field.right &&
        box.top >= field.top &&
        box.bottom <= field.bottom;
      if (!isInside || taken.some((other) => boxesOverlap(box, other, 1))) continue;
      taken.push(box);
      shapes.push(makeText(probe.tag, tagX, tagY, 'b halo', anchor));
      break;
    }
  }
  return [...rings.map(({ x, y }) => makeCircle('pt', x, y, 3.6)), ...shapes];
}

/**
 * The plan: what the section cannot show. Outline, pack, plate or strips, zones dashed, probes, and where it is cut.
 *
 * @param width_px the room there is, from about 200 px up
 */
export function drawPlan(view: PlanView, width_px: number): Drawing {
  const margin = 20;
  const top = 10;
  const mostHigh = Math.max(220, 0.6 * width_px);
  const perMillimetre = Math.min((width_px - 2 * margin) / view.length_mm, mostHigh / view.width_mm);
  const [left, bottom] = [margin, top + view.width_mm * perMillimetre];
  const right = left + view.length_mm * perMillimetre;
  const at: PlanScale = {
    perMillimetre,
    x: (along_mm) => left + along_mm * perMillimetre,
    y: (across_mm) => bottom - across_mm * perMillimetre,
  };

  const grid_mm = [5, 10, 20, 50, 100].find((step) => step * perMillimetre >= 7) ?? 200;
  const strokes: string[] = [];
  for (let along = 0; along <= view.length_mm + 1e-9; along += grid_mm)
    strokes.push(`M${roundPixel(at.x(along))} ${top - 5}V${roundPixel(bottom + 5)}`);
  for (let across = 0; across <= view.width_mm + 1e-9; across += grid_mm)
    strokes.push(`M${left} ${roundPixel(at.y(across))}H${roundPixel(right)}`);

  const whole = { x_mm: 0, y_mm: 0, length_mm: view.length_mm, width_mm: view.width_mm };
  const shapes: Shape[] = [
    makePath('gr', strokes.join('')),
    drawRectangle(at, 'ln', whole, { rx: 6 }),
    ...drawPackPlan(view, at),
    ...drawLayersPlan(view, at),
    ...view.zones.map((zone) => drawRectangle(at, 'hl dash', zone)),
  ];
  const taken: Box[] = [];
  if (view.cut_mm !== null) {
    const y = roundPixel(at.y(view.cut_mm));
    shapes.push(
      makePath('ac', `M${left - 5} ${y}H${roundPixel(right + 5)}`, { 'stroke-dasharray': '10 3 2 3' }),
    );
    shapes.push(makeText('A', left - 8, y + 4, 'a b', 'end'), makeText('A', right + 8, y + 4, 'a b'));
  }
  shapes.push(...drawProbeTags(view, at, { left, right, top, bottom }, taken));
  return { width: width_px, height: Math.ceil(bottom + 10), label: view.label, shapes };
}
