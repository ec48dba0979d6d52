import { type AgeingModel, powerLaw } from './ageing-model.js';

/** @source [KEIL-16-FIT] k = 75.4 exp(-3340/T) exp(353 SOC/T), q = k t^0.512, t in days: a fit to the data of [KEIL-16] */
export const keilNca: AgeingModel = {
  id: 'keil-nca',
  title: 'NCA/graphite, calendar',
  chemistry: 'NCA',
  cell: '3 Ah 18650',
  capacity: [
    powerLaw(0.512, {
      perDay: ({ temp_K, charge }) => 75.4 * Math.exp(-3340 / temp_K) * Math.exp((353 * charge) / temp_K),
      knowsTemperature: true,
    }),
  ],
  resistance: [],
  range: { temperature_C: [25, 50], charge: [0, 1], rate: null, most_d: 300 },
  pivot_C: 40,
  source: '[KEIL-16-FIT] [KEIL-16]',
  status: 'second hand',
  cautions: [
    'The data behind it have plateaus: a step in charge may buy little or much where this curve is smooth.',
  ],
};
