import { celsiusFromKelvin, found, kelvinFromCelsius } from '../../measure/index.js';
import type { SensorFacts } from '../../records/index.js';
import { checkTemperature, isOutside, refuseSignal } from './check-range.js';
import { ntcTolerance } from './ntc-tolerance.js';
import type { Sensor, SensorType } from './sensor.js';

type Facts = Extract<SensorFacts, { kind: 'ntc-beta' }>;

/** Where NTC of this kind are used. @assumed common practice, no source */
const range_C = [-50, 150] as const;
const reference_K = kelvinFromCelsius(25);

/**
 * An NTC by its resistance at 25 °C and one number for its steepness: R = R25 exp(beta (1/T - 1/T25)).
 *
 * One number cannot follow a real NTC: with the beta of 25 to 85 °C it is wrong by 0.4 K at 50 °C, 1 K at 0 °C and at 110 °C.
 */
export const ntcBeta: SensorType<Facts> = {
  kind: 'ntc-beta',
  title: 'NTC by R25 and beta',
  unit: 'ohm',
  make: (facts) => found(makeBeta(facts)),
};

/** @source [STEINHART-HART-68] the law that their equation betters; exact where beta does not depend on temperature */
function makeBeta({ r25_ohm, beta_K, tolerance_K }: Facts): Sensor {
  const resistanceAt = (temp_C: number) =>
    r25_ohm * Math.exp(beta_K * (1 / kelvinFromCelsius(temp_C) - 1 / reference_K));
  const allowed = [resistanceAt(range_C[1]), resistanceAt(range_C[0])] as const;
  return {
    id: 'ntc-beta',
    title: `NTC of ${r25_ohm} Ω and beta ${beta_K} K`,
    unit: 'ohm',
    range_C,
    coldJunction: null,
    tolerance: ntcTolerance(tolerance_K),
    source: 'STEINHART-HART-68',
    temperature_C(signal) {
      if (isOutside(signal, allowed)) return refuseSignal(signal, allowed);
      return found(celsiusFromKelvin(1 / (1 / reference_K + Math.log(signal / r25_ohm) / beta_K)));
    },
    signalAt(temp_C) {
      checkTemperature(temp_C, range_C);
      return resistanceAt(temp_C);
    },
  };
}
