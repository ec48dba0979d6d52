import {
  type FieldView,
  type KnotField,
  paintField,
  type TemperatureAnchors,
  temperatureTable,
} from '@soakbench/core/drawing';
import { useMemo } from 'preact/hooks';

/** Colours by temperature, made anew only where the scale's ends move. */
export function useTemperatureTable(anchors: TemperatureAnchors): Uint32Array {
  return useMemo(() => temperatureTable(anchors), [anchors.ambient_C, anchors.lowestLimit_C]);
}

/** Paints a field over the whole of a canvas. */
export function paintCanvas(
  canvas: HTMLCanvasElement,
  knots: KnotField,
  { anchors }: Pick<FieldView, 'anchors'>,
  table: Uint32Array,
  size: { readonly width_px: number; readonly height_px: number; readonly isDown: boolean },
): void {
  if (canvas.width !== size.width_px) canvas.width = size.width_px;
  if (canvas.height !== size.height_px) canvas.height = size.height_px;
  const pixels = paintField(knots, anchors, table, size);
  const image = new ImageData(new Uint8ClampedArray(pixels.buffer), size.width_px, size.height_px);
  canvas.getContext('2d')?.putImageData(image, 0, 0);
}
