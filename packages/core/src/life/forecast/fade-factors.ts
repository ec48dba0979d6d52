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
 * to the end of a life. A charge that took d of a new cell takes d (1 + x) of a worn one, so a
 * rate that is a parabola of the depth is met exactly.
 *
 * What a law makes of the depth is each paper's own: depth and rest are shares of the full charge left, charge put through and rates are
 * counted in rated capacity. Worked out at one rise per state. Laws that part temperature from charge, all but [KEIL-16-FIT], do not ask
 * which; there ten kelvins change a factor by less than 0.005.
 *
 * @param rises_K of each state
 * @returns f1 and f2 for each state, or null where nothing is gained when new
 */
export function fadeFactors(
  mechanism: AgeingMechanism,
  { condensed, worn }: FadingYears,
  rises_K: readonly number[],
): readonly (readonly [number, number] | null)[] {
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
    // The parabola through one when new and what the two worn years say.
    const [tenth, fifth] = later.map(({ x, ages, more }) => ({
      x,
      slope: (((ages[state] ?? 0) * more) / age - 1) / x,
    })) as [Slope, Slope];
    const curve = (fifth.slope - tenth.slope) / (fifth.x - tenth.x);
    return [tenth.slope - curve * tenth.x, curve];
  });
}

interface Slope {
  readonly x: number;
  readonly slope: number;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
