import { BadInputError, formatNumber } from '../measure/index.js';
import type { Probe, ProbeCheck } from '../records/index.js';
import type { Sensor } from './sensors/sensor.js';
import { makeSensor } from './sensors/sensor-types.js';
import { terminalsU_K } from './unchecked-doubt.js';

type Point = ProbeCheck['points'][number];
type Reading = Point['readings'][number];

/** A reading of a check as a temperature, however it was noted. */
export interface TakenReading {
  readonly probe: string;
  readonly reading_C: number;
  /** Standard uncertainty of the reading itself as noted, K. */
  readonly u_K: number | undefined;
  /** What the temperature of a thermocouple's terminals puts on it, K; 0 where it was noted as a temperature or has none. */
  readonly terminals_u_K: number;
  /** "3.096 mV", as it was noted; null for one that was noted as a temperature. */
  readonly signal: string | null;
}

/** What a reading noted as a temperature may be, by its record, °C: a signal is held to the same. */
const readable_C = [-60, 300] as const;

/**
 * The readings of one bath as temperatures: those noted in a sensor's own signal are made one by the sensor that the probe states.
 *
 * @param where what a fault calls the bath
 * @throws BadInputError where a probe states no sensor, or one of another signal; where it is not known how warm the terminals of a
 *   thermocouple were; and for a signal that is no temperature of the sensor
 */
export function takeReadings({ readings }: Point, probes: readonly Probe[], where: string): TakenReading[] {
  return readings.map((reading, index) => {
    const { probe, reading_C, u_K } = reading;
    if (reading_C !== undefined) return { probe, reading_C, u_K, terminals_u_K: 0, signal: null };
    const place = `${where}, reading ${index + 1}`;
    return {
      probe,
      u_K,
      ...convertSignal(
        reading,
        probes.find(({ id }) => id === probe),
        place,
      ),
    };
  });
}

function convertSignal(
  { probe: id, reading_mV, reading_ohm, terminals_C }: Reading,
  probe: Probe | undefined,
  where: string,
): Pick<TakenReading, 'reading_C' | 'terminals_u_K' | 'signal'> {
  const refuse = (what: string, remedy: string) => new BadInputError([{ where, what, remedy }]);
  const value = reading_mV ?? reading_ohm ?? Number.NaN;
  const unit = reading_mV === undefined ? 'ohm' : 'mV';
  const signal = `${String(value).replace('-', '−')} ${unit === 'mV' ? 'mV' : 'Ω'}`;
  const fits = unit === 'mV' ? 'a thermocouple' : 'a platinum resistor or an NTC';
  if (probe?.sensor === undefined) {
    throw refuse(
      `${signal} was read, and probe "${id}" does not state what sensor makes a temperature of it.`,
      `State the sensor of the probe, ${fits}, or note the reading as a temperature.`,
    );
  }
  const made = makeSensor(probe.sensor);
  if (!made.ok) throw refuse(`Probe "${id}": ${made.reason.what}`, made.reason.remedy);
  const sensor = made.value;
  if (sensor.unit !== unit) {
    throw refuse(
      `${signal} was read, and probe "${id}" is a ${sensor.title}, whose signal is in ${sensor.unit === 'mV' ? 'mV' : 'Ω'}.`,
      `Note the reading in its own unit, or state ${fits} as the sensor of the probe.`,
    );
  }
  const fixed_C =
    probe.sensor.kind === 'thermocouple' && probe.sensor.coldJunction?.kind === 'fixed'
      ? probe.sensor.coldJunction.fixed_C
      : undefined;
  const junction_C = sensor.coldJunction === null ? undefined : (terminals_C ?? fixed_C);
  if (sensor.coldJunction !== null && junction_C === undefined) {
    throw refuse(
      `${signal} was read at probe "${id}", a thermocouple: it tells how much warmer its tip is than the terminals, and how warm those were is not known.`,
      'Note the temperature of the terminals with the reading, or state a fixed one for the probe.',
    );
  }
  const answer = sensor.temperature_C(value, junction_C);
  if (!answer.ok || answer.value < readable_C[0] || answer.value > readable_C[1]) {
    throw refuse(
      `${signal} is no temperature from ${formatNumber(readable_C[0], 0)} to ${formatNumber(readable_C[1], 0)} °C of a ${sensor.title}.`,
      'Correct the reading, its unit or the sensor of the probe.',
    );
  }
  return {
    reading_C: answer.value,
    terminals_u_K: junction_C === undefined ? 0 : terminalsDoubt_K(sensor, probe, answer.value, junction_C),
    signal,
  };
}

/** How far the answer is in doubt because the terminals are. */
function terminalsDoubt_K(sensor: Sensor, probe: Probe, reading_C: number, junction_C: number): number {
  return (sensor.coldJunction?.weight(reading_C, junction_C) ?? 0) * terminalsU_K(probe);
}
