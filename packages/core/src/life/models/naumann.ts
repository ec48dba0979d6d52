import { secondsFromHours } from '../../measure/index.js';
import { type AgeingModel, arrhenius, powerLaw } from './ageing-model.js';

const gasConstant = 8.3144598;
const reference_K = 298.15;
const day_s = secondsFromHours(24);

/** @source [NAUMANN-18] k_T k_SOC sqrt(t), t in seconds, per s^0.5 */
export function naumannCalendarRate(temp_K: number, charge: number): number {
  return (
    1.2571e-5 * arrhenius(17_126, temp_K, reference_K, gasConstant) * (2.8575 * (charge - 0.5) ** 3 + 0.60225)
  );
}

/** @source [NAUMANN-18] resistance, linear in time, per second; one public copy has a cube in the charge term, three a square */
export function naumannResistanceRate(temp_K: number, charge: number): number {
  return (
    3.4194e-10 *
    arrhenius(71_827, temp_K, reference_K, gasConstant) *
    (-3.3903 * (charge - 0.5) ** 2 + 1.5604)
  );
}

/** @source [NAUMANN-20] 0.01 (0.0630 C + 0.0971) (4.0253 (DOD - 0.6)³ + 1.0923), per sqrt of a full equivalent cycle */
export function naumannCycleRate(rate: number, depth: number): number {
  return 0.01 * (0.063 * rate + 0.0971) * (4.0253 * (depth - 0.6) ** 3 + 1.0923);
}

/** @source [NAUMANN-20] 0.01 (-0.0020 C + 0.0021) (6.8477 (DOD - 0.5)³ + 0.91882), per full equivalent cycle */
export function naumannCycleResistanceRate(rate: number, depth: number): number {
  return 0.01 * (-0.002 * rate + 0.0021) * (6.8477 * (depth - 0.5) ** 3 + 0.91882);
}

/** The cycle part alone: also lent to iron phosphate that was only tested at rest. */
export const naumannCycling = powerLaw(0.5, {
  perFullCycle: ({ rate, depth }) => naumannCycleRate(Math.min(1, rate), depth),
  knowsTemperature: false,
});

export const naumann: AgeingModel = {
  id: 'naumann',
  title: 'LFP/graphite, calendar and cycling',
  chemistry: 'LFP',
  cell: '3 Ah 26650',
  capacity: [
    powerLaw(0.5, {
      perDay: ({ temp_K, charge }) => naumannCalendarRate(temp_K, charge) * Math.sqrt(day_s),
      knowsTemperature: true,
    }),
    naumannCycling,
  ],
  resistance: [
    powerLaw(1, {
      perDay: ({ temp_K, charge }) => naumannResistanceRate(temp_K, charge) * day_s,
      knowsTemperature: true,
    }),
    powerLaw(1, {
      perFullCycle: ({ rate, depth }) => naumannCycleResistanceRate(Math.min(1, rate), depth),
      knowsTemperature: false,
    }),
  ],
  range: { temperature_C: [0, 60], charge: [0, 1], rate: [0.2, 1], most_d: 885 },
  pivot_C: 25,
  source: '[NAUMANN-18] [NAUMANN-20]',
  status: 'second hand',
  cautions: ['Its cycling was tested at 25 to 40 °C and knows no temperature.'],
};
