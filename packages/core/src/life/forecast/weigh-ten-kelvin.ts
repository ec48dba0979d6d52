import { restingStates } from '../../records/index.js';
import type { FamilyMember } from '../models/model-family.js';
import { ageInState } from './age-over-year.js';
import { timeOfLoss } from './ageing.kernel.js';
import type { PreparedLife } from './forecast-input.js';
import { endLoss, longestLife_years } from './life-end.js';

/** What ten kelvins less in use would buy, as a multiple of life, lowest and highest over the models. */
export interface TenKelvin {
  /** Hours a day, averaged over the year, in which the pack is warmed by use. */
  readonly hot_h: number;
  readonly buys: readonly [number, number];
  /** The same if it were in use, as hot, all day and every day. */
  readonly ifAlways: readonly [number, number];
}

const cooler_K = 10;

/**
 * How much of ten kelvins in use reaches a pack's life. A day has 24 hours, and a pack ages in all of them: where it is hot for few, most
 * of its ageing happens while it is not, and cooling those few buys little. Wear by cycling that knows no temperature dilutes it further.
 *
 * Nominal, for the first cell of the first set-up, without the doubt of rises and models, and with the pack used as when new: a worn
 * one is used deeper with and without the ten kelvins alike.
 */
export function weighTenKelvin(prepared: PreparedLife, family: readonly FamilyMember[]): TenKelvin {
  const { condensed, rises } = prepared;
  const isUse = condensed.states.map((state) => !(restingStates as readonly string[]).includes(state));
  const hot_h = condensed.hours.reduce((sum, h, i) => sum + (isUse[i] ? h : 0), 0);
  const shares = condensed.hours.map((h, i) => (isUse[i] && hot_h > 0 ? h / hot_h : 0));
  const factors = family.map((member) => {
    /** Years in which a fifth is lost when use is so much cooler, and takes its hours or the whole day. */
    const yearsAt = (less_K: number, isAlways: boolean) => {
      const ages = member.capacity.map((mechanism) =>
        condensed.states.reduce((sum, _, state) => {
          const hours = condensed.hours[state] ?? 0;
          if (hours === 0 || (isAlways && !isUse[state])) return sum;
          const rise_K = (rises[0]?.[state]?.[0]?.value ?? 0) - (isUse[state] ? less_K : 0);
          const age = ageInState(mechanism, condensed, state, rise_K, { more_J_per_mol: 0, pivot_K: 298.15 });
          // Only what time does grows with the hours; the cycles of a day stay what they are.
          const isCycleOnly = mechanism.agePerDay === null;
          return sum + age * (isAlways && !isCycleOnly ? (24 * (shares[state] ?? 0)) / hours : 1);
        }, 0),
      );
      return timeOfLoss(endLoss, 1 / 365, longestLife_years, (t) =>
        member.capacity.reduce((sum, { lossAt }, m) => sum + lossAt((ages[m] ?? 0) * t), 0),
      );
    };
    return {
      buys: yearsAt(cooler_K, false) / yearsAt(0, false),
      ifAlways: hot_h > 0 ? yearsAt(cooler_K, true) / yearsAt(0, true) : 1,
    };
  });
  const range = (values: readonly number[]) => [Math.min(...values), Math.max(...values)] as const;
  return {
    hot_h,
    buys: range(factors.map(({ buys }) => buys)),
    ifAlways: range(factors.map(({ ifAlways }) => ifAlways)),
  };
}
