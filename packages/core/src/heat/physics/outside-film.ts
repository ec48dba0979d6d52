/** What an outside face of a device loses: convection, radiation, or what it lies on. */
import { OutOfRangeError } from '../../measure/index.js';
import { findRoot } from '../../numerics/index.js';
import { type Attitude, type LowerFaceLaw, naturalConvection } from './natural-convection.js';
import { radiationFlux_W_per_m2, radiationSlope_W_per_m2K } from './radiation.js';

export type Convection =
  | {
      readonly kind: 'natural';
      readonly attitude: Attitude;
      /** From `plateLength_mm`. */
      readonly length_mm: number;
      /** Multiplies the published law: what a fit to runs finds; left out, 1. */
      readonly factor?: number | undefined;
      readonly law?: LowerFaceLaw | undefined;
    }
  | {
      readonly kind: 'fixed';
      readonly h_W_per_m2K: number;
      /** What the heat flows to, where that is not the room: a hand. */
      readonly sink_C?: number | undefined;
    };

export interface OutsideFace {
  readonly convection: Convection;
  /** 0 where the face sees nothing: it lies on something. */
  readonly emissivity: number;
  /** Walls that the face radiates to; left out, as warm as the room's air. */
  readonly surroundings_C?: number | undefined;
}

/** What a face loses at one temperature, and how that changes. */
export interface FaceLoss {
  /** Positive outwards. */
  readonly flux_W_per_m2: number;
  /** Change of the flux per kelvin of the face: the film coefficient of a linearisation. */
  readonly slope_W_per_m2K: number;
  readonly convection_W_per_m2: number;
  readonly radiation_W_per_m2: number;
  /** Flux over the difference to the room; the slope where there is no difference. */
  readonly h_W_per_m2K: number;
  /** False where a law of natural convection is used outside its published range. */
  readonly inRange: boolean;
}

/**
 * What a face loses at a temperature of its own.
 *
 * The face counts as one plate at one temperature: convection from a hot spot is somewhat more, from the cool rim less. Radiation to a
 * sunlit wall or from a lamp is not in it.
 *
 * @param face how it loses heat
 * @param surface_C temperature of the face, -50 to 200 °C
 * @param ambient_C temperature of the room's air
 * @throws OutOfRangeError for temperatures, length, film coefficient or emissivity
 * @source [INCROPERA] chapters 9 and 13, from memory: convection and radiation in parallel
 */
export function faceLoss(face: OutsideFace, surface_C: number, ambient_C: number): FaceLoss {
  checkFace(face);
  const { convection, emissivity } = face;
  const air = convective(convection, surface_C, ambient_C);
  const radiation_W_per_m2 = radiationFlux_W_per_m2(emissivity, surface_C, face.surroundings_C ?? ambient_C);
  const flux_W_per_m2 = air.flux_W_per_m2 + radiation_W_per_m2;
  const slope_W_per_m2K = air.slope_W_per_m2K + radiationSlope_W_per_m2K(emissivity, surface_C);
  const difference_K = surface_C - ambient_C;
  return {
    flux_W_per_m2,
    slope_W_per_m2K,
    convection_W_per_m2: air.flux_W_per_m2,
    radiation_W_per_m2,
    h_W_per_m2K: difference_K === 0 ? slope_W_per_m2K : flux_W_per_m2 / difference_K,
    inRange: air.inRange,
  };
}

/** A surface temperature is sought in this range. @assumed devices on a bench */
const sought_C = [-50, 200] as const;

/**
 * The temperature at which a face loses a given flux: a surface's energy balance.
 *
 * @param flux_W_per_m2 what the face must lose; negative for a face that takes heat up
 * @returns °C, to rounding; the end of the range -50 to 200 °C where the answer lies beyond it
 * @throws OutOfRangeError as `faceLoss`
 * @source derived: the flux of `faceLoss`, solved by Newton's steps
 */
export function surfaceTemperature_C(face: OutsideFace, flux_W_per_m2: number, ambient_C: number): number {
  // A level face without radiation loses nothing per kelvin at the air's own temperature: the step is then left to halving.
  const least_W_per_m2K = 1e-9;
  return findRoot(
    (surface_C) => faceLoss(face, surface_C, ambient_C).flux_W_per_m2 - flux_W_per_m2,
    (surface_C) => Math.max(least_W_per_m2K, faceLoss(face, surface_C, ambient_C).slope_W_per_m2K),
    ambient_C + flux_W_per_m2 / 10,
    sought_C,
  );
}

function convective(
  convection: Convection,
  surface_C: number,
  ambient_C: number,
): { readonly flux_W_per_m2: number; readonly slope_W_per_m2K: number; readonly inRange: boolean } {
  if (convection.kind === 'fixed') {
    const flux_W_per_m2 = convection.h_W_per_m2K * (surface_C - (convection.sink_C ?? ambient_C));
    return { flux_W_per_m2, slope_W_per_m2K: convection.h_W_per_m2K, inRange: true };
  }
  const { attitude, length_mm, factor = 1, law } = convection;
  const natural = naturalConvection(attitude, length_mm, surface_C, ambient_C, law);
  return {
    flux_W_per_m2: factor * natural.h_W_per_m2K * (surface_C - ambient_C),
    slope_W_per_m2K: factor * natural.slope_W_per_m2K,
    inRange: natural.inRange,
  };
}

function checkFace({ convection, emissivity }: OutsideFace): void {
  if (!(emissivity >= 0 && emissivity <= 1)) throw new OutOfRangeError('emissivity', emissivity, [0, 1]);
  if (convection.kind === 'fixed' && !(convection.h_W_per_m2K >= 0)) {
    throw new OutOfRangeError('h_W_per_m2K', convection.h_W_per_m2K, [0, Number.POSITIVE_INFINITY]);
  }
  const factor = convection.kind === 'natural' ? (convection.factor ?? 1) : 1;
  if (!(factor > 0)) throw new OutOfRangeError('factor', factor, [0, Number.POSITIVE_INFINITY]);
}
