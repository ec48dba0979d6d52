import { faceLoss, type OutsideFace } from '../physics/outside-film.js';
import { type FaceSize, findPlacement } from '../physics/placements.js';
import type { FaceName } from '../solve/faces.js';
import type { Surroundings } from './device-model.js';
import type { LaidParts } from './part.js';
import { films, type Unknown } from './unknown.js';

/** What one outer face of the device meets, and how well that is known. */
export interface OuterFace {
  readonly face: FaceName;
  readonly outside: OutsideFace;
  readonly unknown: Unknown;
  readonly area_m2: number;
}

/** A film in a linearisation about a surface's temperature. */
export interface Film {
  /** Heat over rise: what the field is solved with. */
  readonly h_W_per_m2K: number;
  /** Change of heat per kelvin: what small changes are solved with. */
  readonly slope_W_per_m2K: number;
  /** What the face is warmed to by what it touches, above the room: a hand. Zero in air. */
  readonly drivenBy_K: number;
  /** False where a law of natural convection is used outside its published range. */
  readonly inRange: boolean;
}

/** Nothing loses less: keeps a face at the room's own temperature solvable. */
const leastFilm_W_per_m2K = 0.1;

/**
 * Which law each outer face follows. Flat, the front looks up; upright, the device stands on its short side.
 *
 * @param emissivity of the shell
 */
export function findOuterFaces(
  { length_mm, width_mm, thickness_mm }: LaidParts,
  { posture, front, back }: Surroundings,
  emissivity: number,
): OuterFace[] {
  const flat = posture === 'flat';
  const large: FaceSize = { width_mm, height_mm: length_mm };
  const ends: FaceSize = { width_mm, height_mm: thickness_mm };
  const flanks: FaceSize = flat
    ? { width_mm: length_mm, height_mm: thickness_mm }
    : { width_mm: thickness_mm, height_mm: length_mm };
  const meets = (what: Surroundings['front'], inAir: string) =>
    ({ air: inAir, table: 'on-table', cloth: 'on-cloth', hand: 'in-hand' })[what];
  const make = (face: FaceName, placement: string, size: FaceSize, unknown: Unknown): OuterFace => {
    const found = findPlacement(placement);
    if (found === undefined) throw new Error(`No placement is called ${placement}.`);
    return {
      face,
      outside: found.makeFace(size, emissivity),
      unknown,
      area_m2: size.width_mm * size.height_mm * 1e-6,
    };
  };
  return [
    make('front', meets(front, flat ? 'face-up' : 'upright'), large, filmOf('front', front)),
    make('back', meets(back, flat ? 'face-down' : 'upright'), large, filmOf('back', back)),
    make('west', flat ? 'upright' : 'face-down', ends, films.sides),
    make('east', flat ? 'upright' : 'face-up', ends, films.sides),
    make('south', 'upright', flanks, films.sides),
    make('north', 'upright', flanks, films.sides),
  ];
}

/** What lies against a face is known far worse than air. @assumed spreads of the placements, rounded */
function filmOf(face: 'front' | 'back', meets: Surroundings['front']): Unknown {
  return meets === 'air'
    ? films[face]
    : { ...films[face], spread: 0.6, source: 'common practice, no source' };
}

/**
 * The film of a face at the mean temperature of its surface.
 *
 * One film for the whole face: a hot spot loses somewhat more than this says, the cool rim less.
 *
 * @param rise_K mean rise of the surface over the room
 * @param factor on the whole film
 */
export function filmAt({ outside }: OuterFace, rise_K: number, ambient_C: number, factor: number): Film {
  const loss = faceLoss(outside, ambient_C + rise_K, ambient_C);
  const sink_C = outside.convection.kind === 'fixed' ? (outside.convection.sink_C ?? ambient_C) : ambient_C;
  const driven = sink_C !== ambient_C;
  const h = driven ? loss.slope_W_per_m2K : loss.h_W_per_m2K;
  return {
    h_W_per_m2K: Math.max(leastFilm_W_per_m2K, factor * h),
    slope_W_per_m2K: Math.max(leastFilm_W_per_m2K, factor * loss.slope_W_per_m2K),
    drivenBy_K: sink_C - ambient_C,
    inRange: loss.inRange,
  };
}

/** Step for the trend of a film, K: films bend over tens of kelvins. */
const trendStep_K = 0.05;

/** Change of a face's film, as `filmAt` has it, with the mean rise of its surface, W/m²K². */
export function filmTrendAt(outer: OuterFace, rise_K: number, ambient_C: number, factor: number): number {
  const at = (by_K: number) => filmAt(outer, rise_K + by_K, ambient_C, factor).h_W_per_m2K;
  return (at(trendStep_K) - at(-trendStep_K)) / (2 * trendStep_K);
}
