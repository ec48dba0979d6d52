import { formatNumber } from '../measure/index.js';
import type { Build } from '../records/index.js';
import { makePath, makeRect, makeText, roundPixel } from './make-shape.js';
import { hexFromOklab, type Oklab, oklabFromHex } from './oklab.kernel.js';
import { placeInRows } from './place-words.js';
import type { Drawing, Shape } from './shape.js';
import { lineHeight_px, textWidth_px } from './text-width.js';
import { findTicks } from './ticks.js';

/**
 * The colours of warmth: celadon, straw, ochre, rust, plum, eleven stops at equal perceived distance, lightness falling
 * from 0.95 to 0.34 all along, so that a grey print still reads. The same in light, dark and print. The style sheet
 * knows them as `--temp-32` to `--temp-72`.
 */
export const temperatureStops = [
  '#dbf4e8',
  '#c9e3be',
  '#d0ce8b',
  '#d5b464',
  '#d79846',
  '#d07c34',
  '#c3612f',
  '#ad4c2c',
  '#943b2d',
  '#7b2b2e',
  '#631b2f',
] as const;

/** Where on the scale the lowest limit falls: where straw turns to ochre. 13 K of the 40 K the stops are named for. */
const limitShare = 0.325;

/** The scale spans three times as much: 25 K at least. @assumed common practice, no source */
const nearest_K = 8;

/** What the scale is tied to: it begins at the design ambient, and straw turns to ochre at the lowest limit. */
export interface TemperatureAnchors {
  readonly ambient_C: number;
  readonly lowestLimit_C: number;
}

/**
 * The anchors of a build: its design ambient and the lowest limit that says *stop* and lies at least 8 K above it: were it
 * nearer, everything a pack reaches would have the scale's last colour.
 *
 * Without a design ambient the scale begins at 25 °C, without such a limit it turns 13 K above its beginning. That
 * moves colours only; no result rests on it.
 */
export function temperatureAnchors(build: Pick<Build, 'designAmbient' | 'limits'>): TemperatureAnchors {
  const ambient_C = build.designAmbient?.ambient_C ?? 25;
  const limits = build.limits
    .filter((limit) => limit.level === 'stop' && limit.limit_C >= ambient_C + nearest_K)
    .map((limit) => limit.limit_C);
  return { ambient_C, lowestLimit_C: limits.length > 0 ? Math.min(...limits) : ambient_C + 13 };
}

function spanOf(anchors: TemperatureAnchors): number {
  return Math.max(anchors.lowestLimit_C - anchors.ambient_C, 1) / limitShare;
}

/** The highest temperature the scale tells apart, °C. */
export function temperatureScaleTop_C(anchors: TemperatureAnchors): number {
  return anchors.ambient_C + spanOf(anchors);
}

const stops: readonly Oklab[] = temperatureStops.map(oklabFromHex);

/** The colour of a temperature, as `#rrggbb`. Beyond the ends of the scale the end colours stay. */
export function temperatureColour(level_C: number, anchors: TemperatureAnchors): string {
  const share = Math.max(0, Math.min(1, (level_C - anchors.ambient_C) / spanOf(anchors)));
  const place = share * (stops.length - 1);
  const index = Math.min(Math.floor(place), stops.length - 2);
  const [from, to] = [stops[index], stops[index + 1]];
  if (from === undefined || to === undefined || Number.isNaN(place)) return temperatureStops[0];
  const part = place - index;
  return hexFromOklab([
    from[0] + part * (to[0] - from[0]),
    from[1] + part * (to[1] - from[1]),
    from[2] + part * (to[2] - from[2]),
  ]);
}

/** A temperature worth a name on the scale, such as a limit. */
export interface ScaleMark {
  readonly level_C: number;
  readonly words: string;
}

/** The scale itself, with its numbers, and names for the ambient and the limits. */
export function drawTemperatureScale(
  anchors: TemperatureAnchors,
  marks: readonly ScaleMark[],
  width_px: number,
): Drawing {
  const [low, high] = [anchors.ambient_C, temperatureScaleTop_C(anchors)];
  const left = 12;
  const right = width_px - 24;
  const x = (level_C: number) => left + ((level_C - low) / (high - low)) * (right - left);
  const within = marks
    .filter((mark) => mark.level_C >= low - 1e-9 && mark.level_C <= high + 1e-9)
    .sort((one, other) => one.level_C - other.level_C);
  const placed = placeInRows(
    within.map((mark) => ({
      at: x(mark.level_C),
      words: mark.words,
      anchors: ['middle', 'start', 'end'] as const,
    })),
    0,
    width_px,
  );
  const rows = placed.reduce((most, each) => Math.max(most, each.row + 1), 0);
  const top = rows * lineHeight_px + 3;
  const bottom = top + 12;

  const shapes: Shape[] = placed.map(({ words, x: place, anchor, row }) =>
    makeText(words, place, 11 + (rows - 1 - row) * lineHeight_px, 'q', anchor),
  );
  const count = Math.max(20, Math.min(100, Math.round((right - left) / 3)));
  for (let step = 0; step < count; step += 1) {
    const [from, to] = [left + (step * (right - left)) / count, left + ((step + 1) * (right - left)) / count];
    const colour = temperatureColour(low + ((step + 0.5) / count) * (high - low), anchors);
    // Half a pixel of overlap, or thin seams show between the steps.
    shapes.push(makeRect('', from, top, Math.min(to + 0.5, right) - from, 12, { fill: colour }));
  }
  const at = [...new Set([low, ...within.map((mark) => mark.level_C)])];
  shapes.push(makePath('hl', `M${left} ${bottom}H${roundPixel(right)}`));
  shapes.push(
    makePath('ln', at.map((level_C) => `M${roundPixel(x(level_C))} ${top - 1}V${bottom + 5}`).join('')),
  );
  shapes.push(...drawNumbers(at, [low, high], x, bottom, width_px));
  const named = within.map((mark) => `${mark.words} ${formatNumber(mark.level_C, 0)}`).join(', ');
  return {
    width: width_px,
    height: bottom + 24,
    label: `Temperature scale from ${formatNumber(low, 0)} to ${formatNumber(high, 0)} °C, light to dark${named === '' ? '' : `: ${named}`}.`,
    shapes,
  };
}

/** Named temperatures first, in bold; round ones between them where there is room. */
function drawNumbers(
  named: readonly number[],
  [low, high]: readonly [number, number],
  x: (level_C: number) => number,
  bottom: number,
  width: number,
): Shape[] {
  const taken: [number, number][] = [];
  const shapes: Shape[] = [];
  const put = (level_C: number, isBold: boolean, unit: string) => {
    const words = `${formatNumber(level_C, Number.isInteger(level_C) ? 0 : 1)}${unit}`;
    const half = textWidth_px(words, isBold) / 2;
    const middle = Math.max(half, Math.min(width - half, x(level_C)));
    if (taken.some(([from, to]) => middle - half < to + 8 && middle + half > from - 8)) return;
    taken.push([middle - half, middle + half]);
    shapes.push(makeText(words, middle, bottom + 19, isBold ? 'b' : 'q', 'middle'));
  };
  put(Math.floor(high), false, ' °C');
  for (const level_C of named) put(level_C, true, '');
  for (const level_C of findTicks(low, high, 6).values) put(level_C, false, '');
  return shapes;
}
