import { celsiusFromKelvin, found, kelvinFromCelsius, type Result, refused } from '../../measure/index.js';
import { findRoot, passMonotone } from '../../numerics/index.js';
import type { SensorFacts } from '../../records/index.js';
import { checkTemperature, isOutside, refuseSignal } from './check-range.js';
import { ntcTolerance } from './ntc-tolerance.js';
import type { FalseFacts, Sensor, SensorType } from './sensor.js';

type Facts = Extract<SensorFacts, { kind: 'ntc-table' }>;

/** An NTC by the table of its data sheet. */
export const ntcTable: SensorType<Facts> = {
  kind: 'ntc-table',
  title: 'NTC by a table',
  unit: 'ohm',
  make: makeTable,
};

/**
 * Between the rows 1/T runs smoothly and without a turn over ln R, where an NTC is almost a straight line: a table in steps of
 * 10 K so gives what lies between to some 0.01 K.
 *
 * @source [FRITSCH-BUTLAND-84] the curve; [STEINHART-HART-68] why 1/T over ln R
 */
function makeTable({ rows, tolerance_K }: Facts): Result<Sensor, FalseFacts> {
  const sorted = rows.toSorted((one, other) => one.resistance_ohm - other.resistance_ohm);
  const turn = sorted.findIndex((row, i) => {
    const before = sorted[i - 1];
    return before !== undefined && !(row.at_C < before.at_C && row.resistance_ohm > before.resistance_ohm);
  });
  const [warmest, coldest] = [sorted[0], sorted.at(-1)];
  if (turn >= 0 || warmest === undefined || coldest === undefined || warmest === coldest) {
    const [low, high] = [sorted[turn - 1], sorted[turn]];
    return refused({
      kind: 'false-facts',
      what:
        low === undefined || high === undefined
          ? 'A table needs two rows at least.'
          : `The resistance of an NTC falls as it gets warmer; the table has ${low.resistance_ohm} Ω at ${low.at_C} °C and ${high.resistance_ohm} Ω at ${high.at_C} °C.`,
      remedy: 'Compare the rows with the data sheet.',
    });
  }
  const curve = passMonotone(
    sorted.map(({ resistance_ohm }) => Math.log(resistance_ohm)),
    sorted.map(({ at_C }) => 1 / kelvinFromCelsius(at_C)),
  );
  const range_C = [coldest.at_C, warmest.at_C] as const;
  const allowed = [warmest.resistance_ohm, coldest.resistance_ohm] as const;
  const ends = [Math.log(allowed[0]), Math.log(allowed[1])] as const;
  return found({
    id: 'ntc-table',
    title: `NTC by a table of ${rows.length} rows`,
    unit: 'ohm',
    range_C,
    coldJunction: null,
    tolerance: ntcTolerance(tolerance_K),
    source: 'FRITSCH-BUTLAND-84',
    temperature_C(signal) {
      if (isOutside(signal, allowed)) return refuseSignal(signal, allowed);
      return found(celsiusFromKelvin(1 / curve.at(Math.log(signal))));
    },
    signalAt(temp_C) {
      checkTemperature(temp_C, range_C);
      const log = findRoot(
        (at) => curve.at(at) - 1 / kelvinFromCelsius(temp_C),
        curve.slopeAt,
        (ends[0] + ends[1]) / 2,
        ends,
      );
      return Math.min(allowed[1], Math.max(allowed[0], Math.exp(log)));
    },
  });
}
