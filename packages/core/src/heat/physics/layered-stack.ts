import { metreFromMillimetre, OutOfRangeError } from '../../measure/index.js';
import { cosineMeans, type SeriesPattern, type SeriesStack } from './layered-series.kernel.js';

export interface StackLayer {
  readonly thickness_mm: number;
  readonly kx_W_per_mK: number;
  readonly ky_W_per_mK: number;
  /** Through the layer. */
  readonly kz_W_per_mK: number;
  /** Resistance of the contact with the next layer; left out, none. */
  readonly contactBelow_m2K_per_W?: number | undefined;
}

/** A face of a layer. Plane 0 is the top of the stack, plane i the one above layer i (counted from 0), the last one the bottom. */
export interface StackPlane {
  readonly plane: number;
  /** Where a contact lies in the plane: on which of its two faces; left out, the upper. */
  readonly side?: 'above' | 'below' | undefined;
}

export interface Rectangle {
  readonly centre_mm: readonly [number, number];
  readonly size_mm: readonly [number, number];
}

/** Heat spread evenly over a rectangle of a plane. */
export interface StackSource extends StackPlane, Rectangle {
  readonly power_W: number;
}

/** Every layer covers the footprint, the sides are adiabatic, both outer faces lose to one ambient. */
export interface LayeredStack {
  readonly width_mm: number;
  readonly height_mm: number;
  /** Top to bottom, at least one. */
  readonly layers: readonly StackLayer[];
  /** 0 for an adiabatic face; not both. */
  readonly topFilm_W_per_m2K: number;
  readonly bottomFilm_W_per_m2K: number;
  readonly sources: readonly StackSource[];
}

/**
 * The stack as the series wants it: metres, and faces numbered from the top, two where a contact parts them.
 *
 * @throws OutOfRangeError for what cannot be a stack
 */
export function describeStack(stack: LayeredStack): SeriesStack {
  checkStack(stack);
  const { layers } = stack;
  const top = new Int32Array(layers.length);
  const contactTop: number[] = [];
  const contact: number[] = [];
  let node = 0;
  for (const [i, { contactBelow_m2K_per_W = 0 }] of layers.entries()) {
    top[i] = node++;
    if (contactBelow_m2K_per_W > 0 && i < layers.length - 1) {
      contactTop.push(node++);
      contact.push(1 / contactBelow_m2K_per_W);
    }
  }
  return {
    a: metreFromMillimetre(stack.width_mm),
    b: metreFromMillimetre(stack.height_mm),
    t: Float64Array.from(layers, (layer) => metreFromMillimetre(layer.thickness_mm)),
    kx: Float64Array.from(layers, (layer) => layer.kx_W_per_mK),
    ky: Float64Array.from(layers, (layer) => layer.ky_W_per_mK),
    kz: Float64Array.from(layers, (layer) => layer.kz_W_per_mK),
    top,
    contactTop: Int32Array.from(contactTop),
    contact: Float64Array.from(contact),
    nodes: node + 1,
    hTop: stack.topFilm_W_per_m2K,
    hBottom: stack.bottomFilm_W_per_m2K,
  };
}

/** The face that a plane means. The lower face of the layer above it is always the node after that layer's upper one. */
export function nodeOf({ top }: SeriesStack, { plane, side = 'above' }: StackPlane): number {
  const layers = top.length;
  if (!(Number.isInteger(plane) && plane >= 0 && plane <= layers)) {
    throw new OutOfRangeError('plane', plane, [0, layers], 'Planes are counted from the top of the stack.');
  }
  const below = top[plane];
  const above = plane === 0 ? undefined : (top[plane - 1] as number) + 1;
  return (side === 'below' ? below : above) ?? above ?? (below as number);
}

/** A rectangle, or a point where its size is 0, as a pattern of so many terms. */
export function describePattern(
  stack: LayeredStack,
  node: number,
  { centre_mm, size_mm }: Rectangle,
  terms: number,
): SeriesPattern {
  const [width, height] = [stack.width_mm, stack.height_mm];
  return {
    node,
    X: cosineMeans(centre_mm[0], size_mm[0], width, terms),
    Y: cosineMeans(centre_mm[1], size_mm[1], height, terms),
  };
}

/** Rounding of a place given in millimetres. */
const rounding_mm = 1e-9;

/** @throws OutOfRangeError where a rectangle reaches beyond the footprint */
export function checkRectangle(stack: LayeredStack, { centre_mm, size_mm }: Rectangle): void {
  const sides = [stack.width_mm, stack.height_mm];
  for (const axis of [0, 1] as const) {
    const [centre, size, side] = [centre_mm[axis], size_mm[axis], sides[axis] as number];
    if (!(size >= 0)) throw new OutOfRangeError('size_mm', size, [0, side]);
    for (const edge of [centre - size / 2, centre + size / 2]) {
      if (!(edge >= -rounding_mm && edge <= side + rounding_mm)) {
        throw new OutOfRangeError(
          'centre_mm',
          centre,
          [size / 2, side - size / 2],
          'It must lie within the footprint.',
        );
      }
    }
  }
}

function checkStack(stack: LayeredStack): void {
  const positive: [string, number][] = [
    ['width_mm', stack.width_mm],
    ['height_mm', stack.height_mm],
    ['layers', stack.layers.length],
    ['topFilm_W_per_m2K + bottomFilm_W_per_m2K', stack.topFilm_W_per_m2K + stack.bottomFilm_W_per_m2K],
    ...stack.layers.flatMap(
      ({ contactBelow_m2K_per_W, ...figures }) => Object.entries(figures) as [string, number][],
    ),
  ];
  for (const [name, value] of positive) {
    if (!(value > 0 && value < Number.POSITIVE_INFINITY)) {
      throw new OutOfRangeError(name, value, [0, Number.POSITIVE_INFINITY], 'It must be above 0.');
    }
  }
  const notNegative: [string, number][] = [
    ['topFilm_W_per_m2K', stack.topFilm_W_per_m2K],
    ['bottomFilm_W_per_m2K', stack.bottomFilm_W_per_m2K],
    ...stack.layers.map(({ contactBelow_m2K_per_W = 0 }): [string, number] => [
      'contactBelow_m2K_per_W',
      contactBelow_m2K_per_W,
    ]),
  ];
  for (const [name, value] of notNegative) {
    if (!(value >= 0)) throw new OutOfRangeError(name, value, [0, Number.POSITIVE_INFINITY]);
  }
  for (const source of stack.sources) checkRectangle(stack, source);
}
