import { kelvinFromCelsius, metreFromMillimetre } from '../../measure/index.js';
import { airAt } from './air.js';

/** @source [SI-2019] standard acceleration of free fall, a convention */
const gravity_m_per_s2 = 9.80665;

/**
 * Rayleigh number of air between two temperatures: whether buoyancy moves it, and how briskly.
 *
 * @param length_mm the gap's thickness, a plate's height, or its area over its perimeter, as the law in question wants it
 * @param one_C one side; the order does not matter
 * @param other_C the other side, or the room's air; properties count at the mean
 * @returns 0 where both are equal
 * @source [INCROPERA] chapter 9, from memory: g beta dT L³ / (nu alpha), beta = 1/T of an ideal gas
 */
export function rayleighNumber(length_mm: number, one_C: number, other_C: number): number {
  const mean_C = (one_C + other_C) / 2;
  const air = airAt(mean_C);
  const expansion_per_K = 1 / kelvinFromCelsius(mean_C);
  const length_m = metreFromMillimetre(length_mm);
  return (
    (gravity_m_per_s2 * expansion_per_K * Math.abs(one_C - other_C) * length_m ** 3) /
    (air.viscosity_m2_per_s * air.diffusivity_m2_per_s)
  );
}
