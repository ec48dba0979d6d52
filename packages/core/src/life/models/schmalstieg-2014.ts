import { type AgeingModel, powerLaw, type RestState } from './ageing-model.js';

/** Capacity of the tested cell, Ah. A full equivalent cycle puts twice of it through: the paper counts charge and discharge. */
const cell_Ah = 2.05;
const fullCycle_Ah = 2 * cell_Ah;

/** @source [SCHMALSTIEG-14] α_cap = (7.543 V - 23.75) 1e6 exp(-6976/T), per day^0.75; held at 0 below 3.149 V */
export function calendarLossRate({ cell_V, temp_K }: Pick<RestState, 'cell_V' | 'temp_K'>): number {
  return Math.max(0, 7.543 * cell_V - 23.75) * 1e6 * Math.exp(-6976 / temp_K);
}

/** @source [SCHMALSTIEG-14] α_res = (5.270 V - 16.32) 1e5 exp(-5986/T), per day^0.75; held at 0 below 3.097 V */
export function calendarResistanceRate({ cell_V, temp_K }: Pick<RestState, 'cell_V' | 'temp_K'>): number {
  return Math.max(0, 5.27 * cell_V - 16.32) * 1e5 * Math.exp(-5986 / temp_K);
}

/** @source [SCHMALSTIEG-14] β_cap = 7.348e-3 (V - 3.667)² + 7.600e-4 + 4.081e-3 DOD, per Ah^0.5 both ways */
export function cycleLossRate(mean_V: number, depth: number): number {
  return 7.348e-3 * (mean_V - 3.667) ** 2 + 7.6e-4 + 4.081e-3 * depth;
}

/** @source [SCHMALSTIEG-14] β_res = 2.153e-4 (V - 3.725)² - 1.521e-5 + 2.798e-4 DOD, per Ah both ways; held at 0 */
export function cycleResistanceRate(mean_V: number, depth: number): number {
  return Math.max(0, 2.153e-4 * (mean_V - 3.725) ** 2 - 1.521e-5 + 2.798e-4 * depth);
}

/** The cycle part alone: also lent to layered oxides that were only tested at rest. */
export const schmalstiegCycling = powerLaw(0.5, {
  perFullCycle: ({ cell_V, depth }) => cycleLossRate(cell_V, depth) * Math.sqrt(fullCycle_Ah),
  knowsTemperature: false,
});

export const schmalstieg2014: AgeingModel = {
  id: 'schmalstieg-2014',
  title: 'NMC111/graphite, calendar and cycling',
  chemistry: 'NMC',
  cell: '2.05 Ah 18650',
  capacity: [powerLaw(0.75, { perDay: calendarLossRate, knowsTemperature: true }), schmalstiegCycling],
  resistance: [
    powerLaw(0.75, { perDay: calendarResistanceRate, knowsTemperature: true }),
    powerLaw(1, {
      perFullCycle: ({ cell_V, depth }) => cycleResistanceRate(cell_V, depth) * fullCycle_Ah,
      knowsTemperature: false,
    }),
  ],
  range: { temperature_C: [35, 50], charge: [0, 1], rate: [0.5, 1], most_d: 500 },
  pivot_C: 42,
  source: '[SCHMALSTIEG-14]',
  status: 'second hand',
  cautions: [
    'Stored at 35 to 50 °C: below 35 °C it is drawn on beyond its tests.',
    'Its cycling was tested at 35 °C only: wear by cycling does not change with temperature in it.',
  ],
};
