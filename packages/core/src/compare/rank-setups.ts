import { dofNumber } from '../measure/index.js';
import { chanceOfLeast, median } from '../numerics/index.js';
import type { Contest } from './contest.js';

/** How likely one set-up is to be the coolest of those measured, 0 to 1. */
export interface Rank {
  readonly setup: string;
  readonly coolest: number;
}

/** More set-ups than this are not ranked. */
const most = 19;

/**
 * Chance of each set-up to be truly the coolest, given these runs and no opinion beforehand; the likeliest first.
 *
 * It is no finding: the likeliest of many can be far from certain, and a chance near 1 says nothing of by how much.
 *
 * @returns nothing where no difference could be judged, or there are more than 19 set-ups
 */
export function rankSetups({ setups, covariance_K2, pairs }: Contest): Rank[] {
  if (setups.length > most || pairs.every(({ finding }) => finding === 'no-verdict')) return [];
  const chances = chanceOfLeast(
    setups.map(({ rise_K }) => rise_K.value),
    Float64Array.from(covariance_K2.flat()),
    median(pairs.map(({ cooler_K }) => dofNumber(cooler_K))),
  );
  return setups
    .map(({ setup }, index) => ({ setup, coolest: chances[index] as number }))
    .sort((one, other) => other.coolest - one.coolest);
}
