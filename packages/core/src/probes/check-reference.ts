import { BadInputError, formatNumber } from '../measure/index.js';
import type { CheckReference } from '../records/index.js';
import {
  boilingPoint_C,
  saltRise_K,
  standardPressure_hPa,
  stationFromSeaLevel_hPa,
  waterHead_hPa,
} from './boiling-point.js';

/** A bath whose temperature follows from what it is; probes that merely hang together tell no temperature. */
export type KnownReference = Exclude<CheckReference, { kind: 'together' }>;

/** What a check point's bath was at, and why we say so. */
export interface ReferenceTemperature {
  readonly reference_C: number;
  readonly u_K: number;
  readonly why: string;
}

/**
 * Doubt of each kind of bath where the record gives none.
 *
 * Ice: a slush of crushed ice and clean water, probe in the middle, spreads by some 0.01 K; 0.05 K allows for a kitchen's
 * water and a probe near the wall. Boiling: superheat and bubbles, and the depth where it is not told (5 cm make 0.13 K);
 * plus the pressure's own doubt, 1 hPa for a barometer or an altimeter setting, 3 hPa for a report reduced in a way that
 * nobody noted or with the temperature of the day, 10 hPa for a standard day at this altitude, each 0.028 K/hPa.
 *
 * @assumed common practice, no source; the spread in kelvins is what the person may overwrite with `u_K`
 */
const assumed = {
  ice_K: 0.05,
  boiling_K: 0.1,
  barometer_hPa: 1,
  report_hPa: 3,
  standardDay_hPa: 10,
  boiling_K_per_hPa: 0.028,
};

/**
 * Temperature of a check point.
 *
 * @param reference as recorded
 * @param where what a fault calls the record
 * @throws BadInputError where a boiling point has no pressure and no altitude, or a sea-level pressure no altitude
 */
export function referenceTemperature(reference: KnownReference, where: string): ReferenceTemperature {
  if (reference.kind === 'ice') {
    return { reference_C: 0, u_K: reference.u_K ?? assumed.ice_K, why: 'melting ice in water' };
  }
  if (reference.kind === 'reference') {
    return { reference_C: reference.reference_C, u_K: reference.u_K, why: 'reference thermometer' };
  }
  const { pressure_hPa, u_hPa, why } = kettlePressure(reference, where);
  const { depth_mm = 0, salt_g_per_kg = 0 } = reference;
  const boiling_C = boilingPoint_C(pressure_hPa + waterHead_hPa(depth_mm)) + saltRise_K(salt_g_per_kg);
  const u_K = reference.u_K ?? Math.hypot(assumed.boiling_K, assumed.boiling_K_per_hPa * u_hPa);
  return {
    reference_C: boiling_C,
    u_K,
    why: [
      `boiling water at ${formatNumber(pressure_hPa, 1)} hPa, ${why}`,
      ...(depth_mm > 0 ? [`${formatNumber(depth_mm, 0)} mm deep`] : []),
      ...(salt_g_per_kg > 0 ? [`${formatNumber(salt_g_per_kg, 1)} g/kg of salt`] : []),
    ].join(', '),
  };
}

function kettlePressure(reference: Extract<KnownReference, { kind: 'boiling' }>, where: string) {
  const { station_hPa, seaLevel_hPa, altitude_m, reduction } = reference;
  if (station_hPa !== undefined)
    return { pressure_hPa: station_hPa, u_hPa: assumed.barometer_hPa, why: 'read at the kettle' };
  if (altitude_m === undefined) {
    throw new BadInputError([
      {
        where,
        what:
          seaLevel_hPa === undefined
            ? 'The boiling point needs a pressure, and none is given.'
            : 'A pressure reduced to sea level needs the altitude of the kettle.',
        remedy: 'Give station_hPa from a barometer, or seaLevel_hPa with altitude_m, or altitude_m alone.',
      },
    ]);
  }
  if (seaLevel_hPa !== undefined) {
    return {
      pressure_hPa: stationFromSeaLevel_hPa(seaLevel_hPa, altitude_m),
      u_hPa: reduction === 'altimeter' ? assumed.barometer_hPa : assumed.report_hPa,
      why: `from ${formatNumber(seaLevel_hPa, 1)} hPa at sea level${reductionWords(reduction)} and ${formatNumber(altitude_m, 0)} m`,
    };
  }
  return {
    pressure_hPa: standardPressure_hPa(altitude_m),
    u_hPa: assumed.standardDay_hPa,
    why: `a standard day at ${formatNumber(altitude_m, 0)} m`,
  };
}

function reductionWords(reduction: 'altimeter' | 'weather' | undefined): string {
  if (reduction === 'altimeter') return ' (altimeter setting)';
  return reduction === 'weather' ? ' (reduced with the day’s temperature)' : '';
}
