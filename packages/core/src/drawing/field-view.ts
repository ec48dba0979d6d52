import type { Drawing } from './shape.js';
import type { TemperatureAnchors } from './temperature-scale.js';

/** How an outline on a field is drawn. */
export type OutlineLook = 'device' | 'pack' | 'zone' | 'plate' | 'strip' | 'part';

export interface FieldOutline {
  readonly look: OutlineLook;
  readonly x: readonly [from_mm: number, to_mm: number];
  readonly y: readonly [from_mm: number, to_mm: number];
  /** Written beside the section where there is room; absent, it is not named. */
  readonly name?: string;
}

export interface FieldMark {
  readonly tag: string;
  readonly x_mm: number;
  readonly y_mm: number;
  /** What the field has there, °C; null where the model cannot read it. */
  readonly level_C: number | null;
}

/** A plane through a field of temperatures: from above, or cut through with the front on top. */
export interface FieldView {
  readonly kind: 'plan' | 'section';
  readonly label: string;
  /** Edges of the cells, mm: along the device, and across it (plan) or from the front (section). */
  readonly x_mm: Float64Array;
  readonly y_mm: Float64Array;
  /** Cell by cell, x running fastest. */
  readonly level_C: Float32Array;
  readonly anchors: TemperatureAnchors;
  readonly outlines: readonly FieldOutline[];
  readonly marks: readonly FieldMark[];
  /** Where the other drawing cuts this one, mm; null where it does not. */
  readonly cut_mm: number | null;
}

/** A drawing of a field says where the field itself lies, so that a page can paint it there. */
export interface FieldDrawing extends Drawing {
  readonly frame: FieldFrame;
  /** How many times depths are drawn larger than lengths. */
  readonly stretch: number;
  /** From line to line, K; null where the field is too even for lines. */
  readonly step_K: number | null;
}

/** Where the field lies, in pixels, and what of the device it shows, in mm. */
export interface FieldFrame {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  /** True where y runs down the page, as depths do. */
  readonly isDown: boolean;
  readonly length_mm: number;
  readonly across_mm: number;
}

/** The place on the device under a pixel of the drawing; null outside the field. */
export function placeInFrame(
  frame: FieldFrame,
  x_px: number,
  y_px: number,
): { x_mm: number; y_mm: number } | null {
  const across = (x_px - frame.left) / frame.width;
  const down = (y_px - frame.top) / frame.height;
  if (!(across >= 0 && across <= 1 && down >= 0 && down <= 1)) return null;
  return {
    x_mm: across * frame.length_mm,
    y_mm: (frame.isDown ? down : 1 - down) * frame.across_mm,
  };
}
