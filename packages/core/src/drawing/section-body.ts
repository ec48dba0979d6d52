import { formatNumber } from '../measure/index.js';
import { hatchRect, makePath, makeRect, makeText, roundPixel } from './make-shape.js';
import type { SectionScale } from './section-scale.js';
import { type SectionLayer, stripStarts } from './section-view.js';
import type { Shape } from './shape.js';
import { textWidth_px } from './text-width.js';

/** Thinner than this a coloured line cannot be seen; the layer's place stays true, only its stroke is wider. */
const thinnest_px = 1.6;

/** The faint grid, a little beyond the device; its cells show the vertical stretch. */
export function drawGrid(at: SectionScale): Shape {
  const strokes: string[] = [];
  const step = at.grid_mm;
  for (let along = 0; along <= at.view.length_mm + 1e-9; along += step) {
    const x = at.x(along);
    if (x >= at.left - 0.5 && x <= at.right + 0.5)
      strokes.push(`M${roundPixel(x)} ${roundPixel(at.top - 8)}V${roundPixel(at.bottom + 8)}`);
  }
  for (let depth = 0; depth <= Math.max(at.depths.total, at.depths.packBack) + 1e-9; depth += step) {
    strokes.push(`M${roundPixel(at.left)} ${roundPixel(at.y(depth))}H${roundPixel(at.right)}`);
  }
  return makePath('gr', strokes.join(''));
}

/** A rectangle from lengths and depths, cut off where the drawing ends. */
function cutRect(
  at: SectionScale,
  classes: string,
  from_mm: number,
  to_mm: number,
  top: number,
  bottom: number,
  more: Record<string, string | number> = {},
): Shape[] {
  const [left, right] = [Math.max(at.left, at.x(from_mm)), Math.min(at.right, at.x(to_mm))];
  return right - left < 0.3 ? [] : [makeRect(classes, left, top, right - left, bottom - top, more)];
}

function drawShells(at: SectionScale): Shape[] {
  const { view, depths } = at;
  const wall_mm = Math.min(view.frontShell_mm, view.backShell_mm, view.length_mm / 4);
  const [outer, inner] = [
    [Math.max(at.left, at.x(0)), Math.min(at.right, at.x(view.length_mm))],
    [Math.max(at.left, at.x(wall_mm)), Math.min(at.right, at.x(view.length_mm - wall_mm))],
  ] as const;
  const [top, gap, back, bottom] = [at.y(0), at.y(depths.gap), at.y(depths.backShell), at.y(depths.total)];
  const rect = (left: number, right: number, from: number, to: number) =>
    `M${roundPixel(left)} ${roundPixel(from)}H${roundPixel(right)}V${roundPixel(to)}H${roundPixel(left)}Z`;
  const walls = [
    [outer[0], inner[0]],
    [inner[1], outer[1]],
  ] as const;
  const hatch = [
    hatchRect(outer[0], top, outer[1], gap),
    hatchRect(outer[0], back, outer[1], bottom),
    ...walls.map(([left, right]) => hatchRect(left, gap, right, back)),
  ].join('');
  // Where a detail cuts the device, its faces end open at the break line.
  const isCut = at.x(0) < at.left - 1 || at.x(view.length_mm) > at.right + 1;
  const faces = isCut
    ? [
        makeRect('', outer[0], top, outer[1] - outer[0], gap - top, { fill: 'var(--paper)' }),
        makeRect('', outer[0], back, outer[1] - outer[0], bottom - back, { fill: 'var(--paper)' }),
        makePath(
          'ln',
          [top, gap, back, bottom]
            .map((y) => `M${roundPixel(outer[0])} ${roundPixel(y)}H${roundPixel(outer[1])}`)
            .join(''),
        ),
      ]
    : [
        makePath('shell', rect(outer[0], outer[1], top, bottom) + rect(inner[0], inner[1], gap, back), {
          'fill-rule': 'evenodd',
        }),
      ];
  return [...faces, makePath('hatch', hatch)];
}

const layerLook: Readonly<
  Record<SectionLayer['material'], { classes: string; more?: Record<string, string | number> }>
> = {
  polyimide: { classes: 'fm' },
  aluminium: { classes: 'pl' },
  copper: { classes: '', more: { fill: 'var(--film)', stroke: 'var(--ink)', 'stroke-width': 1 } },
  graphite: { classes: 'zn' },
  tape: { classes: 'sp' },
  foam: { classes: '', more: { fill: 'var(--grid)', stroke: 'var(--ink)', 'stroke-width': 0.75 } },
  paper: { classes: '', more: { fill: 'var(--sheet)', stroke: 'var(--ink)', 'stroke-width': 0.75 } },
  air: {
    classes: '',
    more: { fill: 'none', stroke: 'var(--ink2)', 'stroke-width': 0.75, 'stroke-dasharray': '2 3' },
  },
  other: { classes: '', more: { fill: 'var(--rule)', stroke: 'var(--ink)', 'stroke-width': 0.75 } },
};

function drawLayers(at: SectionScale): Shape[] {
  let depth = at.depths.layers;
  return at.view.layers.flatMap((layer) => {
    const [top, bottom] = [at.y(depth), at.y(depth + layer.thickness_mm)];
    depth += layer.thickness_mm;
    const { classes, more } = layerLook[layer.material];
    if (layer.strips) {
      const { width_mm } = layer.strips;
      return stripStarts(layer.x_mm, layer.length_mm, layer.strips).flatMap((x) =>
        cutRect(at, 'sp', x, x + width_mm, top, Math.max(bottom, top + thinnest_px)),
      );
    }
    // An outlined sheet needs room for both its lines; a film is one line of its own colour.
    const isThin = bottom - top < 2.6;
    const middle = (top + bottom) / 2;
    const half = Math.max(thinnest_px, bottom - top) / 2;
    const look = isThin && more ? { ...more, 'stroke-width': 0 } : more;
    return cutRect(at, classes, layer.x_mm, layer.x_mm + layer.length_mm, middle - half, middle + half, {
      ...look,
      ...(layer.material === 'tape' ? { opacity: 0.65 } : {}),
    });
  });
}

/** Where each cell lies along the device, mm. */
export function cellSpans(at: Pick<SectionScale, 'view' | 'x'>): (readonly [number, number])[] {
  const { pack, cells } = at.view;
  const pitch = pack.length_mm / Math.max(cells.length, 1);
  const isReadable = cells.length > 1 && at.x(pitch) - at.x(0) >= 14;
  if (!isReadable) return [[pack.x_mm, pack.x_mm + pack.length_mm]];
  const gap = Math.min(1, 0.06 * pitch);
  return cells.map((_, index): [number, number] => [
    pack.x_mm + index * pitch + (index > 0 ? gap / 2 : 0),
    pack.x_mm + (index + 1) * pitch - (index < cells.length - 1 ? gap / 2 : 0),
  ]);
}

function drawPack(at: SectionScale, hasCaptions: boolean): Shape[] {
  const { view, depths } = at;
  const [top, back, shell] = [at.y(depths.pack), at.y(depths.packBack), at.y(depths.backShell)];
  const spans = cellSpans(at);
  const shapes: Shape[] = [];
  for (const [index, [from, to]] of spans.entries()) {
    shapes.push(...cutRect(at, 'ce', from, to, top, back, { rx: 3 }));
    const [left, right] = [Math.max(at.left, at.x(from)), Math.min(at.right, at.x(to))];
    if (view.reserve_mm > 0 && right - left > 8) shapes.push(drawSwelling(at, from, to, back, shell));
    const all = spans.length === view.cells.length ? (view.cells[index] ?? '') : '';
    const caption =
      [all, all.split(' · ')[0] ?? ''].find((words) => textWidth_px(words) <= right - left - 10) ?? '';
    if (hasCaptions && caption !== '' && view.reserve_mm >= 0) {
      shapes.push(makeText(caption, (left + right) / 2, back - 14, '', 'middle'));
    }
  }
  if (view.reserve_mm < -1e-9) shapes.push(...drawOverflow(at, shell, back));
  return shapes;
}

/** What the reserve is for: each cell bulging until it touches the shell. */
function drawSwelling(at: SectionScale, from_mm: number, to_mm: number, back: number, shell: number): Shape {
  const points: [number, number][] = [];
  for (let step = 0; step <= 24; step += 1) {
    const share = step / 24;
    const x = at.x(from_mm + share * (to_mm - from_mm));
    if (x < at.left || x > at.right) continue;
    points.push([x, back + (shell - back) * 4 * share * (1 - share)]);
  }
  return makePath(
    'hl dash',
    points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${roundPixel(x)} ${roundPixel(y)}`).join(''),
  );
}

/** A pack that does not fit is drawn where it would lie, and what is too much is marked and said. */
function drawOverflow(at: SectionScale, shell: number, back: number): Shape[] {
  const { pack } = at.view;
  const [left, right] = [
    Math.max(at.left, at.x(pack.x_mm)),
    Math.min(at.right, at.x(pack.x_mm + pack.length_mm)),
  ];
  return [
    makePath('', hatchRect(left, shell, right, back, 5), {
      stroke: 'var(--stop)',
      'stroke-width': 1,
      fill: 'none',
    }),
    makePath('lim', `M${roundPixel(left)} ${roundPixel(shell)}H${roundPixel(right)}`),
  ];
}

/** How much a set-up is too thick, under the device; nothing where it fits. */
export function drawOverflowWords(at: SectionScale): Shape[] {
  const over_mm = -at.view.reserve_mm;
  if (!(over_mm > 1e-9)) return [];
  const figure = `${formatNumber(over_mm, over_mm < 0.095 ? 2 : 1)} mm`;
  const room = at.right - at.left;
  const words =
    [`${figure} too thick for the bay`, `${figure} too thick`, `${figure} over`].find(
      (each) => textWidth_px(each, true) <= room,
    ) ?? figure;
  return [makeText(words, (at.left + at.right) / 2, at.bottom + 23, 'b', 'middle')];
}

/** Room those words take. */
export const overflowWords_px = 18;

/** Everything that is there: shells, board, zones, layers, pack, reserve. */
export function drawBody(at: SectionScale, hasCaptions: boolean): Shape[] {
  const { view, depths } = at;
  const { board } = view;
  const shapes = [
    ...drawShells(at),
    ...cutRect(
      at,
      'bd',
      board.x_mm,
      board.x_mm + board.length_mm,
      at.y(depths.board),
      at.y(depths.boardBack),
    ),
  ];
  for (const zone of [...view.zones].sort((one, other) => Number(one.isCut) - Number(other.isCut))) {
    const height = Math.max(at.y(depths.boardBack + zone.height_mm) - at.y(depths.boardBack), 1.2);
    const [from, top] = [zone.x_mm, at.y(depths.boardBack)];
    if (zone.isCut) shapes.push(...cutRect(at, 'zn', from, from + zone.length_mm, top, top + height));
    else shapes.push(...cutRect(at, 'hl dash', from, from + zone.length_mm, top, top + height));
  }
  // The zones beside the cut may be taller than those under the pack; layers and pack lie in front of them.
  shapes.push(...drawLayers(at), ...drawPack(at, hasCaptions));
  return shapes;
}
