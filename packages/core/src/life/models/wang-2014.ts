import { found, type Result, refused } from '../../measure/index.js';
import { type AgeingModel, arrhenius, powerLaw } from './ageing-model.js';

/** @source [WANG-14] Qcal[%] = 14876 exp(-24500/(RT)) t^0.5, t in days; coefficients from memory */
export const wang2014: AgeingModel = {
  id: 'wang-2014',
  title: 'NMC+LMO/graphite, calendar',
  chemistry: 'NMC+LMO',
  cell: '1.5 Ah 18650',
  capacity: [
    powerLaw(0.5, {
      perDay: ({ temp_K }) => 148.76 * arrhenius(24_500, temp_K),
      knowsTemperature: true,
    }),
  ],
  resistance: [],
  range: { temperature_C: [10, 46], charge: [0, 1], rate: null, most_d: 700 },
  pivot_C: 25,
  source: '[WANG-14]',
  status: 'from memory',
  cautions: [
    'The coefficients are from memory and wait for someone to confirm them.',
    'It loses 14 % a year at 25 °C, far more than present-day cells: good for the shape, not for the level.',
    'It knows no charge.',
  ],
  shapeOnly: true,
};

export interface NegativeAgeing {
  readonly kind: 'negative-ageing';
  readonly factor: number;
  readonly remedy: string;
}

/**
 * The cycle part with the rounded coefficients it is passed on with. They give a pack that grows younger between 13.3 and 36.3 °C,
 * because their rounding is larger than the sum they make there; such an answer is refused, and no forecast uses this part.
 *
 * @param temp_K about 283 to 319 K
 * @param rate discharge current over capacity
 * @param charge_Ah put through the 1.5 Ah cell
 * @returns the loss as a fraction, or why there is none
 * @source [WANG-14] Qcyc[%] = (aT² + bT + c) exp((dT + e) C) Ah; coefficients from memory, rounded
 */
export function wang2014CycleLoss(
  temp_K: number,
  rate: number,
  charge_Ah: number,
): Result<number, NegativeAgeing> {
  const factor = wang2014Bracket(temp_K);
  if (!(factor > 0)) {
    return refused({
      kind: 'negative-ageing',
      factor,
      remedy:
        'The rounded coefficients carry no information at this temperature. Use another model for cycling.',
    });
  }
  return found((factor / 100) * Math.exp(wang2014RateSlope(temp_K) * rate) * charge_Ah);
}

/** The bracket in temperature, % per Ah. Its rounding is worth ±2.4e-3 at 25 °C. */
export function wang2014Bracket(temp_K: number): number {
  return 8.61e-6 * temp_K ** 2 - 5.13e-3 * temp_K + 7.63e-1;
}

/** How the cycle part grows with the rate. */
export function wang2014RateSlope(temp_K: number): number {
  return -6.7e-3 * temp_K + 2.35;
}
