/** What a face of a device does: stand in free air, lie on something, be held. Ready-made faces for the outside film. */
import { type Property, property } from '../../materials/index.js';
import { type Attitude, naturalConvectionSpread, plateLength_mm } from './natural-convection.js';
import type { OutsideFace } from './outside-film.js';

export interface FaceSize {
  readonly width_mm: number;
  /** Upwards where the face stands upright. */
  readonly height_mm: number;
}

/** One way of a face to lose heat, with how far to trust it. */
export interface Placement {
  readonly id: string;
  readonly name: string;
  /** @param emissivity of the shell's face; what lies on something does not use it */
  readonly makeFace: (size: FaceSize, emissivity: number) => OutsideFace;
  /** One standard deviation of the logarithm of its convective or contact coefficient. */
  readonly spread: number;
  /** True where the figure is our assumption and no published law: to be fitted to runs before anything is concluded from it. */
  readonly assumed: boolean;
  readonly why: string;
}

/**
 * Wood of some 0.15 W/(m K), thick: a hand-held footprint on a half space gives 4.6 W/(m² K), a thin top that itself loses heat more,
 * the gap under the rubber feet less. A metal or glass top is not meant. @assumed
 */
const onTable: Property = property(5, [2.5, 10], 'common practice, no source', 'assumed');
/** Padding of 0.05 W/(m K) on the same half space gives 1.5 W/(m² K); a thin cloth on wood passes more. @assumed */
const onCloth: Property = property(2, [0.7, 4], 'common practice, no source', 'assumed');
/** Palm and fingers touch about half of the face and blood carries the heat away. @assumed by far the least certain of all */
const inHand: Property = property(30, [10, 80], 'common practice, no source', 'assumed');
/** Skin of a palm that holds something warm. @assumed from memory: resting palms are at 32 to 35 °C */
const palm_C = 34;

/** The ready-made ones. A fit to runs replaces their coefficients, never their kind. */
export const placements: readonly Placement[] = [
  inAir('upright', 'upright in free air'),
  inAir('face-up', 'facing up in free air'),
  inAir('face-down', 'facing down, raised so that air reaches it'),
  onSomething('on-table', 'lying on a wooden table', onTable),
  onSomething('on-cloth', 'lying on a cloth, bed or sofa', onCloth),
  onSomething('in-hand', 'held in a hand', inHand, palm_C),
];

export function findPlacement(id: string): Placement | undefined {
  return placements.find((placement) => placement.id === id);
}

function inAir(attitude: Attitude, name: string): Placement {
  return {
    id: attitude,
    name,
    makeFace: ({ width_mm, height_mm }, emissivity) => ({
      convection: { kind: 'natural', attitude, length_mm: plateLength_mm(attitude, width_mm, height_mm) },
      emissivity,
    }),
    spread: naturalConvectionSpread,
    assumed: false,
    why: 'Published laws of natural convection from single plates, and radiation to the room.',
  };
}

function onSomething(id: string, name: string, coefficient: Property, sink_C?: number): Placement {
  return {
    id,
    name,
    makeFace: () => ({
      convection: { kind: 'fixed', h_W_per_m2K: coefficient.value, sink_C },
      emissivity: 0,
    }),
    spread: coefficient.spread,
    assumed: true,
    why: 'An assumption with a wide spread: what lies beneath decides, and no law knows it.',
  };
}
