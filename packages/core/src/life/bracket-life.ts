import { kelvinFromCelsius, OutOfRangeError } from '../measure/index.js';
import type { Duty } from '../records/index.js';
import type { LifeBracket } from './bracket.js';

/** Molar gas constant, J/(mol K). @source [SI-2019] exact product of the Boltzmann and Avogadro constants */
const gasConstant = 8.31446261815324;

/**
 * Published temperature dependences of ageing, each as the activation energy of the TIME to a given loss. Where a paper gives
 * loss = k t^z, that is the energy of k divided by z: using k's own energy would understate what heat does to life.
 */
export const ageingModels = [
  { model: 'LFP/graphite, calendar', activation_kJ_per_mol: 17.126 / 0.5, source: '[NAUMANN-18]' },
  { model: 'NMC+LMO/graphite, calendar', activation_kJ_per_mol: 24.5 / 0.5, source: '[WANG-14]' },
  {
    model: 'LFP/graphite, cycling at C/2',
    activation_kJ_per_mol: (31.7 - 0.3703 * 0.5) / 0.55,
    source: '[WANG-11]',
  },
  { model: 'NMC pouch, calendar', activation_kJ_per_mol: 35.392 / 0.5, source: '[SMITH-17]' },
  { model: 'NMC/graphite, calendar', activation_kJ_per_mol: 57.998 / 0.75, source: '[SCHMALSTIEG-14]' },
] as const;

/**
 * How many times faster a cell ages at `to_C` than at `from_C`.
 *
 * As a factor on life it needs the activation energy of the time to a given loss, not that of the loss at a given time.
 * Below about 25 °C a cell under charge ages faster again as it gets colder; the law does not know that.
 *
 * @param activation_kJ_per_mol 0 to 200
 * @source [ARRHENIUS] as exp(E/R (1/T_from - 1/T_to))
 */
export function ageingFactor(activation_kJ_per_mol: number, from_C: number, to_C: number): number {
  if (!(activation_kJ_per_mol >= 0 && activation_kJ_per_mol <= 200)) {
    throw new OutOfRangeError(
      'activation_kJ_per_mol',
      activation_kJ_per_mol,
      [0, 200],
      'Is it in kilojoules per mole?',
    );
  }
  return Math.exp(
    ((activation_kJ_per_mol * 1000) / gasConstant) *
      (1 / kelvinFromCelsius(from_C) - 1 / kelvinFromCelsius(to_C)),
  );
}

/** Rises of the deciding cell above the room in the two phases of a day's use, K. */
export interface DutyRises {
  readonly load_K: number;
  readonly idle_K: number;
}

/** Ageing over a day, in hours at the resting temperature that would age the cell as much. */
export function ageingHours(activation_kJ_per_mol: number, duty: Duty, rises: DutyRises): number {
  const at = (cell_C: number) => ageingFactor(activation_kJ_per_mol, duty.rest_C, cell_C);
  const rest_h = 24 - duty.load_h_per_day - duty.idle_h_per_day;
  return (
    duty.load_h_per_day * at(duty.ambient_C + rises.load_K) +
    duty.idle_h_per_day * at(duty.ambient_C + rises.idle_K) +
    rest_h
  );
}

/** One set-up's rises with the 95 % interval of how much cooler it is than the baseline. */
export interface LifeRequest extends DutyRises {
  readonly setup: string;
  readonly cooler95_K: readonly [number, number];
}

/**
 * How many times longer cells last in each set-up than in the baseline, as a range over the published activation energies.
 *
 * A bracket of calendar ageing only: charge limit, current and cold are the same for all set-ups and left out, and what
 * they wear dilutes the gain. It is a ratio between set-ups and no year count.
 *
 * @param duty an ordinary day; load and idle hours together at most 24
 * @source derived: hours weighted by the Arrhenius factor, which is exact for a rate law in the time to a given loss
 */
export function bracketLife(duty: Duty, baseline: LifeRequest, others: readonly LifeRequest[]): LifeBracket {
  if (duty.load_h_per_day + duty.idle_h_per_day > 24) {
    throw new OutOfRangeError(
      'load_h_per_day + idle_h_per_day',
      duty.load_h_per_day + duty.idle_h_per_day,
      [0, 24],
      'A day has 24 hours.',
    );
  }
  const factor = (energy: number, rises: DutyRises) =>
    ageingHours(energy, duty, baseline) / ageingHours(energy, duty, rises);
  return {
    baseline: baseline.setup,
    rows: [baseline, ...others].map((request) => {
      const byModel = ageingModels.map(({ model, activation_kJ_per_mol }) => ({
        model,
        activation_kJ_per_mol,
        factor: factor(activation_kJ_per_mol, request),
      }));
      const factors = byModel.map((row) => row.factor);
      const [least_K, most_K] = request.cooler95_K;
      const shifted = [least_K, most_K].flatMap((cooler_K) =>
        ageingModels.map(({ activation_kJ_per_mol }) =>
          factor(activation_kJ_per_mol, { ...request, load_K: baseline.load_K - cooler_K }),
        ),
      );
      const isBaseline = request.setup === baseline.setup;
      return {
        setup: request.setup,
        factor: [Math.min(...factors), Math.max(...factors)] as const,
        factor95: isBaseline ? ([1, 1] as const) : ([Math.min(...shifted), Math.max(...shifted)] as const),
        load_C: duty.ambient_C + request.load_K,
        idle_C: duty.ambient_C + request.idle_K,
        byModel,
      };
    }),
    conditions: `${duty.load_h_per_day} h under load and ${duty.idle_h_per_day} h idle a day at ${duty.ambient_C} °C, the rest switched off at ${duty.rest_C} °C`,
    missing: ['the pack’s own chemistry and history', 'wear by charging, current and cold', 'a year count'],
  };
}
