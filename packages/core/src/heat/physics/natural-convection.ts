/** Natural convection on the outside of a device: vertical, facing up, facing down. */
import { kelvinFromCelsius, metreFromMillimetre, OutOfRangeError } from '../../measure/index.js';
import { airAt, airTrendAt } from './air.js';
import { rayleighNumber } from './rayleigh.js';

/** How an outside face lies. */
export type Attitude = 'upright' | 'face-up' | 'face-down';

/** Which of two published laws a warm face that looks down follows; they differ by 16 to 23 %. */
export type LowerFaceLaw = 'newer' | 'older';

/** One standard deviation of the logarithm of what these laws give. @assumed they are quoted as good to ±15 to ±25 %, read as two of them and rounded up */
export const naturalConvectionSpread = 0.12;

export interface NaturalConvection {
  /** Film coefficient; 0 for a level face at the temperature of the air. */
  readonly h_W_per_m2K: number;
  /** Change of the flux h (T - T_air) per kelvin of the face, which is more than h. */
  readonly slope_W_per_m2K: number;
  readonly rayleigh: number;
  /** Whether the law's published range holds this Rayleigh number. */
  readonly inRange: boolean;
}

/** Nu = factor Ra^power, between two Rayleigh numbers. */
interface PowerLaw {
  readonly factor: number;
  readonly power: number;
  readonly range: readonly [number, number];
}

/** @source [INCROPERA] eq. 9.30, second hand: a warm face that looks up, length = area over perimeter */
const upperFace: PowerLaw = { factor: 0.54, power: 1 / 4, range: [1e4, 1e7] };

/**
 * A warm face that looks down. The newer law is used unless the older one is asked for, because it alone was fitted where hand-held devices
 * are, Rayleigh numbers near 1e4; the older one begins at 1e5.
 *
 * @source [RADZIEMSKA-01] as the newer editions of [INCROPERA] print it; the older one [MCADAMS-54]; both second hand
 */
const lowerFace: Readonly<Record<LowerFaceLaw, PowerLaw>> = {
  newer: { factor: 0.52, power: 1 / 5, range: [1e4, 1e9] },
  older: { factor: 0.27, power: 1 / 4, range: [1e5, 1e10] },
};

/** The law for upright faces holds from rest to fully turbulent. @source [CHURCHILL-CHU-75] second hand */
const uprightRange = [0, 1e12] as const;

/**
 * The length that the laws count with: height of an upright face; area over perimeter of one that lies.
 *
 * @param width_mm across; above 0
 * @param height_mm upwards for an upright face, else the other side; above 0
 */
export function plateLength_mm(attitude: Attitude, width_mm: number, height_mm: number): number {
  return attitude === 'upright' ? height_mm : (width_mm * height_mm) / (2 * (width_mm + height_mm));
}

/**
 * Film coefficient of natural convection from one face into still air, and how its flux changes with the face's temperature.
 *
 * For single plates in a still, wide room: a draught of 0.5 m/s about doubles it. A face colder than the air behaves as a warm one
 * turned over. Below a Rayleigh number of 1e4, which is a level face of less than some 20 mm of area over perimeter, the laws are
 * extended beyond their range, and `inRange` says so.
 *
 * @param length_mm from `plateLength_mm`, above 0
 * @param surface_C and @param air_C such that their mean lies within -50 to 200 °C
 * @throws OutOfRangeError for the length or the temperatures
 * @source [CHURCHILL-CHU-75] upright; [INCROPERA] facing up; [RADZIEMSKA-01] facing down
 */
export function naturalConvection(
  attitude: Attitude,
  length_mm: number,
  surface_C: number,
  air_C: number,
  law: LowerFaceLaw = 'newer',
): NaturalConvection {
  if (!(length_mm > 0 && length_mm <= 2000)) {
    throw new OutOfRangeError('length_mm', length_mm, [0, 2000], 'Is it in millimetres, and above 0?');
  }
  const film_C = (surface_C + air_C) / 2;
  const rayleigh = rayleighNumber(length_mm, surface_C, air_C);
  const trend = airTrendAt(film_C);
  const difference_K = surface_C - air_C;
  // Half, because the film's temperature follows the face's at half its pace; 1/T_film is the expansion in the Rayleigh number.
  const half_K = difference_K / 2;
  const rayleighTrend = 1 + half_K * (-1 / kelvinFromCelsius(film_C) - trend.damping_per_K);
  const nusselt =
    attitude === 'upright'
      ? uprightTrend(rayleigh, airAt(film_C).prandtl, rayleighTrend, half_K * trend.prandtl_per_K)
      : levelNusselt(levelLaw(attitude, difference_K, law), rayleigh, rayleighTrend);
  const scale = airAt(film_C).k_W_per_mK / metreFromMillimetre(length_mm);
  return {
    h_W_per_m2K: scale * nusselt.value,
    slope_W_per_m2K: scale * (nusselt.value * (1 + half_K * trend.k_per_K) + nusselt.change),
    rayleigh,
    inRange: rayleigh >= nusselt.range[0] && rayleigh <= nusselt.range[1],
  };
}

/** A Nusselt number with its change per relative change of the temperature difference, and the range of its law. */
interface Nusselt {
  readonly value: number;
  readonly change: number;
  readonly range: readonly [number, number];
}

function levelLaw(attitude: Attitude, difference_K: number, law: LowerFaceLaw): PowerLaw {
  const warmAbove = (attitude === 'face-up') === difference_K >= 0;
  return warmAbove ? upperFace : lowerFace[law];
}

function levelNusselt({ factor, power, range }: PowerLaw, rayleigh: number, rayleighTrend: number): Nusselt {
  const value = factor * rayleigh ** power;
  return { value, change: value * power * rayleighTrend, range };
}

/**
 * Nusselt number of an upright plate at one temperature.
 *
 * @param rayleigh with the plate's height, 0 to 1e12
 * @param prandtl of the gas
 * @source [CHURCHILL-CHU-75] second hand
 */
export function uprightNusselt(rayleigh: number, prandtl: number): number {
  return (0.825 + uprightGrowth(rayleigh, prandtl)) ** 2;
}

function uprightGrowth(rayleigh: number, prandtl: number): number {
  return (0.387 * rayleigh ** (1 / 6)) / (1 + (0.492 / prandtl) ** (9 / 16)) ** (8 / 27);
}

function uprightTrend(
  rayleigh: number,
  prandtl: number,
  rayleighTrend: number,
  prandtlTrend: number,
): Nusselt {
  const ratio = (0.492 / prandtl) ** (9 / 16);
  const prandtlPower = (8 / 27) * (9 / 16) * (ratio / (1 + ratio));
  const growth = uprightGrowth(rayleigh, prandtl);
  return {
    value: uprightNusselt(rayleigh, prandtl),
    change: 2 * (0.825 + growth) * growth * (rayleighTrend / 6 + prandtlPower * prandtlTrend),
    range: uprightRange,
  };
}
