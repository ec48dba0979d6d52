import type { FamilyMember } from '../models/model-family.js';
import { ageInState } from './age-over-year.js';
import type { PreparedLife } from './forecast-input.js';

/** Gain of resistance that one model gives for one set-up, as a fraction of the initial one. */
export interface ResistanceGain {
  readonly setup: string;
  readonly model: string;
  readonly afterTwo: number;
  readonly atHorizon: number;
}

/**
 * How resistance grows in the hottest cell of each set-up, by the models that know it: few do.
 *
 * Nominal, without doubt: what is known about resistance is thinner than about capacity. It matters for run time under load and for a pack's
 * own heat; neither is fed back into the forecast.
 */
export function gainResistance(prepared: PreparedLife, family: readonly FamilyMember[]): ResistanceGain[] {
  const { condensed, rises, input } = prepared;
  return input.setups.flatMap(({ setup }, s) =>
    family
      .filter(({ model }) => model.resistance.length > 0)
      .map(({ model }) => {
        const gains = rises[s]?.[0]?.map((_, cell) => {
          const ages = model.resistance.map((mechanism) =>
            condensed.states.reduce(
              (sum, __, state) =>
                sum +
                ageInState(mechanism, condensed, state, rises[s]?.[state]?.[cell]?.value ?? 0, {
                  more_J_per_mol: 0,
                  pivot_K: 298.15,
                }),
              0,
            ),
          );
          return (years: number) =>
            model.resistance.reduce((sum, { lossAt }, m) => sum + lossAt(years * (ages[m] ?? 0)), 0);
        });
        const most = (years: number) => Math.max(0, ...(gains ?? []).map((gain) => gain(years)));
        return { setup, model: model.id, afterTwo: most(2), atHorizon: most(input.horizon_years ?? 5) };
      }),
  );
}
