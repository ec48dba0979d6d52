import { type AgeingModel, arrhenius, powerLaw } from './ageing-model.js';

/** @source [SMITH-17] b1 = 3.503e-3 exp(-(35392/R)(1/T - 1/298.15)), per sqrt of a day, its factors of charge and depth set to 1 */
export const smith2017: AgeingModel = {
  id: 'smith-2017',
  title: 'NMC/graphite pouch, calendar',
  chemistry: 'NMC',
  cell: '75 Ah pouch',
  capacity: [
    powerLaw(0.5, {
      perDay: ({ temp_K }) => 3.503e-3 * arrhenius(35_392, temp_K, 298.15),
      knowsTemperature: true,
    }),
  ],
  resistance: [],
  range: { temperature_C: [0, 55], charge: [0, 1], rate: null, most_d: 400 },
  pivot_C: 25,
  source: '[SMITH-17]',
  status: 'second hand',
  cautions: ['Only its growth of the film on the anode is used; it then knows no charge.'],
};
