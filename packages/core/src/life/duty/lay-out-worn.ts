import type { DutyYear } from '../../records/index.js';
import type { OpenCircuit } from '../open-circuit/open-circuit.js';
import { type CondensedYear, condenseYear } from './condense-year.js';
import { layOutYear, usualChargeRate } from './lay-out-year.js';

/** Shares of the rated capacity for which a worn pack's year is laid out. Below the last, the end of a life, its use is taken as no deeper. */
export const wornShares = [0.9, 0.8] as const;

/**
 * The same use of a pack that has faded: the same watts and hours take it deeper, and down to empty sooner. Charger and limit stay what they
 * were, and the resting voltage is that of the same share of a full charge.
 *
 * @param energy_Wh of the pack as new, above 0
 * @param limit where charging stops, as a share of a full charge
 * @throws BadInputError where the duty contradicts itself
 */
export function layOutWorn(
  duty: DutyYear,
  energy_Wh: number,
  limit: number,
  curve: Pick<OpenCircuit, 'voltageAt'>,
): readonly CondensedYear[] {
  const charge_W = duty.charging.charge_W ?? usualChargeRate * energy_Wh;
  const same = { ...duty, charging: { ...duty.charging, charge_W } };
  return wornShares.map((left) => condenseYear(layOutYear(same, left * energy_Wh, limit), curve, left));
}
