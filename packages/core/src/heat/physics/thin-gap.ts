/** Heat across a thin gap of air: what the air conducts and the faces radiate. */
import { metreFromMillimetre, OutOfRangeError } from '../../measure/index.js';
import { findRoot } from '../../numerics/index.js';
import { airAt, airTrendAt } from './air.js';
import {
  radiationConductance_W_per_m2K,
  radiationFlux_W_per_m2,
  radiationSlope_W_per_m2K,
  shieldedEmissivity,
} from './radiation.js';

export interface Gap {
  /** Above 0, at most 50 mm. */
  readonly thickness_mm: number;
  /** Of the two faces that bound the gap. */
  readonly emissivities: readonly [number, number];
  /** Thin sheets hung in the gap, each with the emissivities of its two faces. They stop radiation and conduct as nothing. */
  readonly sheets?: readonly (readonly [number, number])[] | undefined;
  /** Conductivity of the gas; left out, that of air at the mean temperature of the gap. */
  readonly k_W_per_mK?: number | undefined;
}

/** Conductance of a gap per area, and its two parts. All in W/(m² K). */
export interface GapConductance {
  readonly conduction_W_per_m2K: number;
  readonly radiation_W_per_m2K: number;
  readonly total_W_per_m2K: number;
}

/**
 * What a gap passes per kelvin, radiation linearised at the mean of its faces: within 0.2 % of exact up to 50 K of difference.
 *
 * Air at rest is assumed: `gapConvection` tells whether it is. The temperature jump at the faces is left out (0.1 % at 0.2 mm). Where
 * two sheets touch, in places or everywhere, the gap is thinner than any caliper says, and that decides more than all of this.
 *
 * @param mean_C mean temperature of the two faces, -50 to 200 °C
 * @throws OutOfRangeError for thickness, emissivity or temperature
 * @source derived here: k/L + 4 sigma T³ / (1/e1 + 1/e2 - 1), conduction and radiation in parallel
 */
export function gapConductance(gap: Gap, mean_C: number): GapConductance {
  checkGap(gap);
  const conduction_W_per_m2K = gasConductivity(gap, mean_C) / metreFromMillimetre(gap.thickness_mm);
  const radiation_W_per_m2K = radiationConductance_W_per_m2K(emissivityOf(gap), mean_C);
  return {
    conduction_W_per_m2K,
    radiation_W_per_m2K,
    total_W_per_m2K: conduction_W_per_m2K + radiation_W_per_m2K,
  };
}

/**
 * The gap as a layer of solid: through it conductance times thickness, along it the gas alone, since radiation crosses and does not creep.
 *
 * @throws OutOfRangeError as `gapConductance`
 */
export function gapConductivity(
  gap: Gap,
  mean_C: number,
): { readonly kInPlane_W_per_mK: number; readonly kThrough_W_per_mK: number } {
  const { total_W_per_m2K } = gapConductance(gap, mean_C);
  return {
    kInPlane_W_per_mK: gasConductivity(gap, mean_C),
    kThrough_W_per_mK: total_W_per_m2K * metreFromMillimetre(gap.thickness_mm),
  };
}

/** Heat across a gap at given faces, exactly, with its slopes for a linearisation. */
export interface GapFlux {
  readonly flux_W_per_m2: number;
  /** Change of the flux per kelvin of the first face, the second one held; and of the second, which is negative. */
  readonly slopeFrom_W_per_m2K: number;
  readonly slopeTo_W_per_m2K: number;
}

/**
 * Heat across a gap, with the fourth powers of radiation and the gas at its mean temperature.
 *
 * @param from_C face that the heat leaves when the flux is positive
 * @param to_C the other face
 * @throws OutOfRangeError as `gapConductance`
 */
export function gapFlux(gap: Gap, from_C: number, to_C: number): GapFlux {
  checkGap(gap);
  const mean_C = (from_C + to_C) / 2;
  const length_m = metreFromMillimetre(gap.thickness_mm);
  const gas_k = gasConductivity(gap, mean_C);
  const gasPerFace = gap.k_W_per_mK === undefined ? (gas_k * airTrendAt(mean_C).k_per_K) / 2 : 0;
  const emissivity = emissivityOf(gap);
  const difference_K = from_C - to_C;
  const trend = (gasPerFace * difference_K) / length_m;
  return {
    flux_W_per_m2: (gas_k * difference_K) / length_m + radiationFlux_W_per_m2(emissivity, from_C, to_C),
    slopeFrom_W_per_m2K: gas_k / length_m + trend + radiationSlope_W_per_m2K(emissivity, from_C),
    slopeTo_W_per_m2K: -gas_k / length_m + trend - radiationSlope_W_per_m2K(emissivity, to_C),
  };
}

/**
 * How much hotter one face of a gap gets than the other when a flux must cross it.
 *
 * @param flux_W_per_m2 0 to what brings the hot face to 200 °C; beyond, the answer stops there
 * @param cold_C the colder face
 * @throws OutOfRangeError as `gapConductance`, and for a negative flux
 */
export function gapDifference_K(gap: Gap, flux_W_per_m2: number, cold_C: number): number {
  if (!(flux_W_per_m2 >= 0)) {
    throw new OutOfRangeError(
      'flux_W_per_m2',
      flux_W_per_m2,
      [0, Number.POSITIVE_INFINITY],
      'Give the colder face as cold_C.',
    );
  }
  const guess = flux_W_per_m2 / gapConductance(gap, cold_C).total_W_per_m2K;
  return findRoot(
    (difference) => gapFlux(gap, cold_C + difference, cold_C).flux_W_per_m2 - flux_W_per_m2,
    (difference) => gapFlux(gap, cold_C + difference, cold_C).slopeFrom_W_per_m2K,
    guess,
    [0, 200 - cold_C],
  );
}

/**
 * A gap bridged in part by spacers, weighted by area.
 *
 * Exact only between faces that are each at one temperature throughout. Elsewhere it is an upper bound: heat has to find the spacer, so
 * strips at the edge, away from the source, pass less. In finite volumes of a hand-held stack with strips over a sixth of the area it
 * overstated what they do to the pack by 0.1 K in the mean and 0.4 K under the source.
 *
 * @param gap_W_per_m2K conductance of the open gap
 * @param share part of the area under spacers, 0 to 1
 * @param spacer_k_W_per_mK conductivity of the spacers through their thickness, above 0
 * @param thickness_mm of gap and spacer
 * @throws OutOfRangeError for the share
 * @source derived here: conductances in parallel
 */
export function bridgedGap_W_per_m2K(
  gap_W_per_m2K: number,
  share: number,
  spacer_k_W_per_mK: number,
  thickness_mm: number,
): number {
  if (!(share >= 0 && share <= 1)) throw new OutOfRangeError('share', share, [0, 1], 'Is it in per cent?');
  return (1 - share) * gap_W_per_m2K + (share * spacer_k_W_per_mK) / metreFromMillimetre(thickness_mm);
}

function gasConductivity(gap: Gap, mean_C: number): number {
  return gap.k_W_per_mK ?? airAt(mean_C).k_W_per_mK;
}

function emissivityOf(gap: Gap): number {
  return shieldedEmissivity(gap.emissivities, gap.sheets ?? []);
}

function checkGap({ thickness_mm }: Gap): void {
  if (!(thickness_mm > 0 && thickness_mm <= 50)) {
    throw new OutOfRangeError('thickness_mm', thickness_mm, [0, 50], 'Is it in millimetres, and above 0?');
  }
}
