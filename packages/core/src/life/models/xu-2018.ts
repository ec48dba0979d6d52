import type { AgeingMechanism, AgeingModel } from './ageing-model.js';

const filmShare = 5.75e-2;
const filmSpeed = 121;
const reference_K = 298.15;
const day_s = 86_400;

/** @source [XU-18] L = 1 - α exp(-β f) - (1 - α) exp(-f) */
export function xuLoss(age: number): number {
  return -filmShare * Math.expm1(-filmSpeed * age) - (1 - filmShare) * Math.expm1(-age);
}

/** @source [MILLNER-10] exp(k (T - T_ref) T_ref / T), k = ln 2 / 10: "twice per 10 °C" at the reference */
export function temperatureStress(temp_K: number): number {
  return Math.exp((6.93e-2 * (temp_K - reference_K) * reference_K) / temp_K);
}

/** @source [XU-18] exp(1.04 (SOC - 0.5)) */
export function chargeStress(charge: number): number {
  return Math.exp(1.04 * (charge - 0.5));
}

/** @source [XU-18] 1 / (1.40e5 δ^-0.501 - 1.23e5), for δ up to 1 */
export function depthStress(depth: number): number {
  return 1 / (1.4e5 * depth ** -0.501 - 1.23e5);
}

/** Time and cycles share one age here: their losses are not added, their ages are. */
const state: AgeingMechanism = {
  agePerDay: ({ temp_K, charge }) => day_s * 4.14e-10 * chargeStress(charge) * temperatureStress(temp_K),
  agePerCycle: ({ temp_K, charge, depth }) =>
    depth > 0 ? depthStress(Math.min(1, depth)) * chargeStress(charge) * temperatureStress(temp_K) : 0,
  lossAt: xuLoss,
  exponent: null,
  knowsTemperature: true,
};

export const xu2018: AgeingModel = {
  id: 'xu-2018',
  title: 'LMO/graphite, calendar and cycling',
  chemistry: 'LMO',
  cell: 'LMO cell of a grid store',
  capacity: [state],
  resistance: [],
  range: { temperature_C: [15, 55], charge: [0, 1], rate: [0.2, 1], most_d: 1100 },
  pivot_C: 25,
  source: '[XU-18] [MILLNER-10]',
  status: 'second hand',
  cautions: [
    'One public copy uses 20 °C as its reference temperature, another 25 °C; here it is 25 °C.',
    'Its temperature term was made for twice the rate per 10 °C, not measured so.',
  ],
};
