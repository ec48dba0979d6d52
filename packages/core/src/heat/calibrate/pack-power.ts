import { formatNumber } from '../../measure/index.js';
import { mean, standardDeviation } from '../../numerics/index.js';
import type { Build, Pack } from '../../records/index.js';
import type { Unknown } from '../device/unknown.js';
import {
  cobaltEntropy_mV_per_K,
  cobaltEntropyDoubt_mV_per_K,
  packHeatAtCurrent,
} from '../physics/pack-heat.js';
import type { SoakState } from './calibration-data.js';

/** Heat that the pack's own current makes in it, evenly over its cells, and how well that is known. */
export interface PackPower {
  /** Before any run is looked at; computed from a resistance it may be below zero: reactions can cool. */
  readonly value_W: number;
  readonly unknown: Unknown;
}

/** What charging and, where the runs noted the pack's current, discharging make of heat in the pack. */
export interface PackPowers {
  /** Null where nothing tells of it: no run was charged, and neither resistance nor current is recorded. */
  readonly charge: PackPower | null;
  /** Null where no run notes a current: the load's heat is then all there is, as where a supply feeds the device. */
  readonly discharge: PackPower | null;
  readonly notes: readonly string[];
}

/** Resistance grows with age, charge, cold and the time it is measured over. @assumed 30 %, common practice, no source */
const resistanceSpread = 0.3;
/** A mean current that somebody noted: it tapers, and a meter in the line is read now and then. @assumed 10 % */
const currentSpread = 0.1;
/** The same where only the charger's power is recorded. @assumed 25 % */
const chargerSpread = 0.25;
/** Charge over which a pack is soaked: the mean of the entropy over it counts, and its spread over it is doubt. @assumed */
const soakedCharges = [0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9];
/** Nobody knows the entropy: iron phosphate and nickel-rich cells swing to either side of nothing by this. @assumed from memory */
const unknownEntropy_mV_per_K = 0.3;
/** Cells in a soak are about as warm as this. What five kelvins more change is a sixtieth. @assumed */
const soaked_C = 35;

/** What a charge warms a pack with where no resistance is recorded, as a share of the power that goes in. @assumed 1 to 6 % of it, common practice, no source */
const chargeLoss = 0.03;
/** A charge puts half of the pack's energy in an hour. @assumed common practice, no source */
const chargeRate_per_h = 0.5;
/** So rough that a factor of two either way is usual. */
const chargeLossSpread = 0.8;

/**
 * The pack's own heat in soaks and in untried uses: current squared times resistance, and the reactions' part, where the pack's resistance
 * and its current are recorded; a share of the charger's power where they are not.
 *
 * Either is where a fit begins. Runs under charge move it as far as they can tell, and where there are none it stands with its doubt.
 *
 * @source [BERNARDI-85] by `packHeatAtCurrent`; doubts combined as [JCGM-100] 5.1.2
 */
export function findPackPowers(
  build: Pick<Build, 'newPack' | 'dutyYear'>,
  loaded: readonly Pick<SoakState, 'charging' | 'pack_A'>[],
): PackPowers {
  const pack = build.newPack;
  const noted_A = (charging: boolean) => {
    const each = loaded.filter((state) => state.charging === charging);
    const currents = each.flatMap(({ pack_A }) => pack_A ?? []);
    return currents.length > 0 ? mean(currents) : null;
  };
  const isCharged = loaded.some(({ charging }) => charging);
  const notes: string[] = [];
  const given_A = noted_A(false);
  let discharge: PackPower | null = null;
  if (given_A !== null && given_A > 0) {
    if (pack?.resistance_mohm === undefined)
      notes.push('The pack’s current is noted and its resistance is not: what it makes of heat is left out.');
    else discharge = fromResistance(pack, pack.resistance_mohm, given_A, currentSpread, 'discharge');
  }
  const charger = chargeCurrent(build, noted_A(true));
  if (pack?.resistance_mohm !== undefined && charger !== null) {
    const charge = fromResistance(pack, pack.resistance_mohm, -charger.current_A, charger.spread, 'charge');
    notes.push(
      `Heat of a charge: ${formatNumber(charge.value_W, 2)} ± ${formatNumber(charge.unknown.spread, 2)} W by the pack’s resistance at ${formatNumber(charger.current_A, 1)} A${isCharged ? ', before the runs under charge' : '; no run was charged, so nothing measured stands behind it'}.`,
    );
    return { charge, discharge, notes };
  }
  if (!isCharged) return { charge: null, discharge, notes };
  notes.push(
    'Heat of a charge: a usual share of a usual charger’s power, before the runs under charge. The pack’s resistance and the current noted with the runs would tell more.',
  );
  const value_W = chargeLoss * chargeRate_per_h * (pack?.energy_Wh ?? usualPack_Wh);
  const unknown: Unknown = {
    id: 'charge',
    name: 'heat that a charge makes in the pack',
    spread: chargeLossSpread,
    source: 'common practice, no source',
    nominal: { value: value_W, unit: 'W' },
  };
  return { charge: { value_W, unknown }, discharge, notes };
}

/** A hand-held device's pack where its energy is not entered. @assumed */
const usualPack_Wh = 20;

/** What the pack makes of heat for one value of its unknown's factor, W. */
export function heatOf({ value_W, unknown }: PackPower, factor: number): number {
  return unknown.adds === true ? value_W + Math.log(factor) : value_W * factor;
}

/** Mean current of a charge: noted with the runs, or by the charger's recorded power. */
function chargeCurrent(
  { newPack, dutyYear }: Pick<Build, 'newPack' | 'dutyYear'>,
  noted_A: number | null,
): { current_A: number; spread: number } | null {
  if (noted_A !== null && noted_A > 0) return { current_A: noted_A, spread: currentSpread };
  const charge_W = dutyYear?.charging.charge_W;
  if (charge_W === undefined || newPack === undefined) return null;
  return {
    current_A: charge_W / (newPack.nominal_V ?? newPack.series * usualCell_V),
    spread: chargerSpread,
  };
}

const usualCell_V = 3.7;

function fromResistance(
  pack: Pack,
  resistance_mohm: number,
  current_A: number,
  spread: number,
  id: 'charge' | 'discharge',
): PackPower {
  const entropy = entropyOf(pack);
  const cells = {
    series: pack.series,
    parallel: pack.parallel,
    cell_ohm: (resistance_mohm / 1000) * (pack.parallel / pack.series),
    openCircuit_V: usualCell_V,
    entropy_mV_per_K: entropy.value_mV_per_K,
  };
  const heat = packHeatAtCurrent(cells, current_A, soaked_C);
  const reversible_W = heat.reversible_W ?? 0;
  const perEntropy_W =
    packHeatAtCurrent({ ...cells, entropy_mV_per_K: 1 }, current_A, soaked_C).reversible_W ?? 0;
  const u_W = Math.hypot(
    heat.irreversible_W * resistanceSpread,
    (2 * heat.irreversible_W + reversible_W) * spread,
    perEntropy_W * entropy.u_mV_per_K,
  );
  const value_W = heat.irreversible_W + reversible_W;
  return {
    value_W,
    unknown: {
      id,
      name:
        id === 'charge'
          ? 'heat that a charge makes in the pack, by its resistance'
          : 'heat that the pack makes while it feeds the device, by its resistance',
      spread: u_W,
      adds: true,
      source: entropy.isKnown ? '[BERNARDI-85], [AI-20]' : '[BERNARDI-85], from memory',
      nominal: { value: value_W, unit: 'W' },
    },
  };
}

/** Change of one cell's resting voltage per kelvin over the charges of a soak: of cobalt oxide where the pack is of it. */
function entropyOf({ chemistry = '' }: Pack) {
  if (!/\blco\b|cobalt oxide/i.test(chemistry) || /mangan|nickel|nmc|nca/i.test(chemistry))
    return { value_mV_per_K: 0, u_mV_per_K: unknownEntropy_mV_per_K, isKnown: false };
  const each = soakedCharges.flatMap((charge) => {
    const looked = cobaltEntropy_mV_per_K(charge);
    return looked.ok ? [looked.value] : [];
  });
  return {
    value_mV_per_K: mean(each),
    u_mV_per_K: Math.hypot(standardDeviation(each), cobaltEntropyDoubt_mV_per_K),
    isKnown: true,
  };
}
