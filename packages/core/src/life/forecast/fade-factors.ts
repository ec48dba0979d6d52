import type { CondensedYear } from '../duty/condense-year.js';
import type { AgeingMechanism } from '../models/ageing-model.js';
import { ageInState } from './age-over-year.js';

/** A year as new, and years of the same use of a pack that has faded. */
export interface FadingYears {
  readonly condensed: CondensedYear;
  readonly worn: readonly CondensedYear[];
}

/**
 * By how much faster a cell ages in each state of the device once it has faded, against x, the loss over what is left: 1 + f1 x + f2 x² up
 * to the end of a life and a straight line of slope f3 beyond it. A charge that took d of a new cell takes d (1 + x) of a worn one, so a
 * rate that is a parabola of the depth is met exactly.
 *
 * What a law makes of the depth is each paper's own: depth and rest are shares of the full charge left, charge put through and rates are
 * counted in rated capacity. Worked out at one rise per state. Laws that part temperature from charge, all but [KEIL-16-FIT], do not ask
 * which; there ten kelvins change a factor by less than 0.005.
 *
 * @param rises_K of each state
 * @returns f1, f2, f3 for each state, or null where nothing is gained when new
 */
export function fadeFactors(
  mechanism: AgeingMechanism,
  { condensed, worn }: FadingYears,
  rises_K: readonly number[],
): readonly (readonly [number, number, number] | null)[] {
  const agesIn = (year: CondensedYear) =>
    year.states.map((_, state) =>
      ageInState(mechanism, year, state, rises_K[state] ?? 0, { more_J_per_mol: 0, pivot_K: 298.15 }),
    );
  const fresh = agesIn(condensed);
  const later = worn.map((year) => {
    const ages = agesIn(year);
    // A state entered only by a worn pack has no age of its own to be a multiple of: the others carry it.
    const [all, known] = [sum(ages), sum(ages.filter((_, state) => (fresh[state] ?? 0) > 0))];
    return { x: 1 / year.left - 1, ages, more: known > 0 ? all / known : 1 };
  });
  return fresh.map((age, state) => {
    if (!(age > 0)) return null;
    const [tenth, fifth, most] = later.map((each) => ({
      x: each.x,
      more: ((each.ages[state] ?? 0) * each.more) / age - 1,
    })) as [Factor, Factor, Factor];
    const curve = (fifth.more / fifth.x - tenth.more / tenth.x) / (fifth.x - tenth.x);
    return [tenth.more / tenth.x - curve * tenth.x, curve, (most.more - fifth.more) / (most.x - fifth.x)];
  });
}

interface Factor {
  readonly x: number;
  readonly more: number;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
