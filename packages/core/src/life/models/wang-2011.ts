import { type AgeingModel, arrhenius, type CycleState, powerLaw } from './ageing-model.js';

const exponent = 0.55;
/** Capacity of the tested cell, Ah: the paper counts charge in ampere-hours of this cell, discharged only. */
const cell_Ah = 2.2;

/** Prefactors at the four tested rates, per cent. */
export const wang2011Prefactors = [
  { rate: 0.5, prefactor: 31630 },
  { rate: 2, prefactor: 21681 },
  { rate: 6, prefactor: 12934 },
  { rate: 10, prefactor: 15512 },
] as const;

/**
 * The published loss, as a fraction, after a charge at one rate and temperature.
 *
 * @param discharged_Ah of the 2.2 Ah cell, discharged only
 * @source [WANG-11] Qloss[%] = B exp((-31700 + 370.3 C)/(RT)) Ah^0.55
 */
export function lossByCharge(prefactor: number, rate: number, temp_K: number, discharged_Ah: number): number {
  return (prefactor / 100) * arrhenius(31700 - 370.3 * rate, temp_K) * discharged_Ah ** exponent;
}

/** Loss for one full equivalent cycle, with the smooth prefactor of later authors, 10000 (15/C)^(1/3), and the tested rates only. */
function perFullCycle({ rate, temp_K }: CycleState): number {
  const tested = Math.min(10, Math.max(0.5, rate));
  return lossByCharge(10_000 * Math.cbrt(15 / tested), tested, temp_K, cell_Ah);
}

export const wang2011: AgeingModel = {
  id: 'wang-2011',
  title: 'LFP/graphite, cycling',
  chemistry: 'LFP',
  cell: '2.2 Ah 26650',
  capacity: [powerLaw(exponent, { perFullCycle, knowsTemperature: true })],
  resistance: [],
  range: { temperature_C: [15, 60], charge: [0, 1], rate: [0.5, 10], most_d: 730 },
  pivot_C: 35,
  source: '[WANG-11]',
  status: 'second hand',
  cautions: [
    'Fitted to cells that were cycled without a pause: the time it took is inside, and a pack that lies about ages more than it says.',
  ],
  containsTime: true,
};
