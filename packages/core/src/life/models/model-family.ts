import type { AgeingMechanism, AgeingModel, Chemistry } from './ageing-model.js';
import { keilNca } from './keil-nca.js';
import { lamModels } from './lam-2024.js';
import { naumann, naumannCycling } from './naumann.js';
import { schmalstieg2014, schmalstiegCycling } from './schmalstieg-2014.js';
import { smith2017 } from './smith-2017.js';
import { wang2011 } from './wang-2011.js';
import { wang2014 } from './wang-2014.js';
import { xu2018 } from './xu-2018.js';

/** Every published model there is. Adding one is a file, its test, and a line here: docs/adding-an-ageing-model.md. */
export const publishedModels: readonly AgeingModel[] = [
  ...lamModels,
  schmalstieg2014,
  smith2017,
  keilNca,
  xu2018,
  wang2014,
  naumann,
  wang2011,
];

/** A model completed so that it can answer for time and for cycles. */
export interface FamilyMember {
  readonly model: AgeingModel;
  readonly capacity: readonly AgeingMechanism[];
  /** True where the tested cells had the pack's own chemistry. */
  readonly isOwn: boolean;
  /** Where its wear by cycling comes from when it has none of its own. */
  readonly lentFrom: string | null;
}

/** Layered oxides on graphite age by the same film on the same anode; iron phosphate stands apart by its voltage. */
const layered: readonly Chemistry[] = ['LCO', 'LiHV', 'NMC', 'NMC+LMO', 'NCA', 'LMO'];

/** Chemistries whose models count as a pack's own. */
const ownOf: Readonly<Record<Chemistry, readonly Chemistry[]>> = {
  LCO: ['LCO'],
  LiHV: ['LCO'],
  NMC: ['NMC'],
  'NMC+LMO': ['NMC+LMO', 'NMC', 'LMO'],
  NCA: ['NCA'],
  LMO: ['LMO'],
  LFP: ['LFP'],
};

function hasCycles(states: readonly AgeingMechanism[]): boolean {
  return states.some((state) => state.agePerCycle !== null);
}

/** Least cycling, full equivalent cycles a day, for a fit to cycling alone to speak for a pack. @assumed; its cells never rested */
const leastCycles_per_day = 0.5;

/**
 * The models that speak for a chemistry: its own, and those of cells with the same anode. None was fitted to a hand-held pack of unknown
 * make, so they count alike, and what they disagree about is the answer's doubt.
 *
 * A model tested at rest only is lent the wear by cycling of its neighbour, and says so. A fit that contains the time its cycling took
 * gets no calendar ageing added, and is left out where the pack mostly lies about.
 *
 * @param fullCycles_per_day of the duty
 */
export function modelFamily(chemistry: Chemistry, fullCycles_per_day: number): readonly FamilyMember[] {
  const isLayered = layered.includes(chemistry);
  return publishedModels
    .filter((model) => !model.shapeOnly && layered.includes(model.chemistry) === isLayered)
    .filter((model) => !model.containsTime || fullCycles_per_day >= leastCycles_per_day)
    .map((model) => {
      const isOwn = ownOf[chemistry].includes(model.chemistry);
      if (hasCycles(model.capacity)) return { model, capacity: model.capacity, isOwn, lentFrom: null };
      const lent = isLayered ? schmalstiegCycling : naumannCycling;
      return {
        model,
        capacity: [...model.capacity, lent],
        isOwn,
        lentFrom: (isLayered ? schmalstieg2014 : naumann).source,
      };
    });
}
