import { kelvinFromCelsius, OutOfRangeError } from '../../measure/index.js';

/** Stefan-Boltzmann constant, W/(m² K⁴). @source [SI-2019] exact from the defining constants, rounded in the tenth digit */
export const stefanBoltzmann_W_per_m2K4 = 5.670374419e-8;

/**
 * One emissivity that stands for two wide faces looking at each other.
 *
 * The duller face decides little where the other shines: 0.05 against 0.9 and against 0.8 are the same within 1 %.
 *
 * @param one emissivity above 0, at most 1
 * @param other the other face's
 * @throws OutOfRangeError outside that range
 * @source [INCROPERA] chapter 13, from memory: 1/(1/e1 + 1/e2 - 1), grey and diffuse faces
 */
export function effectiveEmissivity(one: number, other: number): number {
  return 1 / faceResistance(one, other);
}

/**
 * The same with thin sheets hung between the faces, each with its own two emissivities: they resist in series.
 *
 * @param faces emissivities of the outer faces
 * @param sheets emissivities of both faces of each sheet
 * @throws OutOfRangeError for an emissivity not above 0 or beyond 1
 * @source [INCROPERA] chapter 13, radiation shields, from memory; checked on a published example
 */
export function shieldedEmissivity(
  faces: readonly [number, number],
  sheets: readonly (readonly [number, number])[],
): number {
  let resistance = faceResistance(faces[0], faces[1]);
  for (const [one, other] of sheets) resistance += faceResistance(one, other);
  return 1 / resistance;
}

/** Radiation between two faces, exactly, W/m²; negative where the first is the colder. @source [INCROPERA] from memory: the law of Stefan and Boltzmann */
export function radiationFlux_W_per_m2(emissivity: number, from_C: number, to_C: number): number {
  return (
    emissivity * stefanBoltzmann_W_per_m2K4 * (kelvinFromCelsius(from_C) ** 4 - kelvinFromCelsius(to_C) ** 4)
  );
}

/** Slope of that flux with the temperature of the first face, W/(m² K). */
export function radiationSlope_W_per_m2K(emissivity: number, from_C: number): number {
  return 4 * emissivity * stefanBoltzmann_W_per_m2K4 * kelvinFromCelsius(from_C) ** 3;
}

/**
 * Radiation as a conductance, 4 e sigma T³ at the mean of the two faces: within 0.2 % up to 50 K of difference.
 *
 * @param mean_C of the two faces. Frozen at 40 °C instead it is 6 % wrong for 50 K of difference.
 */
export function radiationConductance_W_per_m2K(emissivity: number, mean_C: number): number {
  return radiationSlope_W_per_m2K(emissivity, mean_C);
}

function faceResistance(one: number, other: number): number {
  checkEmissivity(one);
  checkEmissivity(other);
  return 1 / one + 1 / other - 1;
}

function checkEmissivity(emissivity: number): void {
  if (!(emissivity > 0 && emissivity <= 1)) {
    throw new OutOfRangeError('emissivity', emissivity, [0, 1], 'No face has an emissivity of 0.');
  }
}
