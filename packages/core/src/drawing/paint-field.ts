import type { KnotField } from './isotherm.js';
import { paintPixels } from './paint-field.kernel.js';
import { type TemperatureAnchors, temperatureColour, temperatureScaleTop_C } from './temperature-scale.js';

const colours = 256;

/**
 * The temperature scale as a table of 256 pixels, red in the lowest byte, as a canvas on every machine of today keeps them.
 *
 * A step is 0.16 K on a scale of 40 K: finer than the eye tells apart.
 */
export function temperatureTable(anchors: TemperatureAnchors): Uint32Array {
  const span_K = temperatureScaleTop_C(anchors) - anchors.ambient_C;
  return Uint32Array.from({ length: colours }, (_, index) => {
    const hex = temperatureColour(anchors.ambient_C + ((index + 0.5) / colours) * span_K, anchors);
    const byte = (at: number) => Number.parseInt(hex.slice(at, at + 2), 16);
    return (0xff000000 | (byte(5) << 16) | (byte(3) << 8) | byte(1)) >>> 0;
  });
}

/**
 * A field as pixels in the colours of the one scale.
 *
 * @param table from `temperatureTable` for the same anchors
 * @param isDown true where y runs down the picture
 * @returns rows from the top, as many as `height_px`
 */
export function paintField(
  knots: KnotField,
  anchors: TemperatureAnchors,
  table: Uint32Array,
  size: { readonly width_px: number; readonly height_px: number; readonly isDown: boolean },
): Uint32Array<ArrayBuffer> {
  const { width_px, height_px, isDown } = size;
  const along = placePixels(knots.x, width_px, false);
  const down = placePixels(knots.y, height_px, !isDown);
  const pixels = new Uint32Array(width_px * height_px);
  const perK = colours / (temperatureScaleTop_C(anchors) - anchors.ambient_C);
  paintPixels(
    knots.level_C,
    knots.x.length,
    along.knot,
    along.share,
    down.knot,
    down.share,
    table,
    anchors.ambient_C,
    perK,
    pixels,
  );
  return pixels;
}

/** For the middle of each pixel the interval of knots it lies in, and how far along. */
function placePixels(knots: Float64Array, count: number, isTurned: boolean) {
  const knot = new Int32Array(count);
  const share = new Float32Array(count);
  const [from, to] = [knots[0] as number, knots.at(-1) as number];
  let index = 0;
  for (let pixel = 0; pixel < count; pixel++) {
    const at = from + ((pixel + 0.5) / count) * (to - from);
    while (index + 2 < knots.length && (knots[index + 1] as number) <= at) index++;
    const [low, high] = [knots[index] as number, knots[index + 1] as number];
    const place = isTurned ? count - 1 - pixel : pixel;
    knot[place] = index;
    share[place] = (at - low) / (high - low);
  }
  return { knot, share };
}
