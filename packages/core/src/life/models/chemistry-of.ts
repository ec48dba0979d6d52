import { found, type Result, refused } from '../../measure/index.js';
import type { Chemistry } from './ageing-model.js';

/** Words for a chemistry as people and labels write them; the first that fits counts. "Lithium polymer" and "lithium-ion" name none. */
const words: readonly (readonly [RegExp, Chemistry])[] = [
  [/\b(lihv|high.?voltage (lco|lipo|li-?po))\b/i, 'LiHV'],
  [/\b(nmc|ncm)\b.*\b(lmo)\b|\blmo\b.*\b(nmc|ncm)\b/i, 'NMC+LMO'],
  [/\b(lfp|lifepo4|iron.?phosphate)\b/i, 'LFP'],
  [/\b(lco|licoo2|cobalt.?oxide)\b/i, 'LCO'],
  [/\b(nca)\b/i, 'NCA'],
  [/\b(nmc|ncm)\s?\d{0,3}\b/i, 'NMC'],
  [/\b(lmo|limn2o4|spinel)\b/i, 'LMO'],
];

export interface UnknownChemistry {
  readonly kind: 'unknown-chemistry';
  readonly given: string;
  readonly remedy: string;
}

/**
 * The chemistry that a pack's record names, if it names one.
 *
 * A pouch, "lithium-ion" and "lithium polymer" say how a cell is built, not what ages in it: then there is no forecast in years, and
 * only the bracket of ratios between set-ups remains.
 */
export function chemistryOf(given: string | undefined): Result<Chemistry, UnknownChemistry> {
  const match = words.find(([pattern]) => given !== undefined && pattern.test(given));
  if (match) return found(match[1]);
  return refused({
    kind: 'unknown-chemistry',
    given: given ?? '',
    remedy: `${given ? `"${given}" names` : 'The pack names'} no cathode, so no years can be counted; the ratio between set-ups still holds as a bracket. Give LCO, LiHV, NMC, NMC+LMO, NCA, LMO or LFP from the maker's sheet.`,
  });
}
