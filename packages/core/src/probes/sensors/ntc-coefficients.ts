import { celsiusFromKelvin, found, kelvinFromCelsius, type Result, refused } from '../../measure/index.js';
import { findRoot, polynomialAt, polynomialSlopeAt } from '../../numerics/index.js';
import type { SensorFacts } from '../../records/index.js';
import { checkTemperature, isOutside, refuseSignal } from './check-range.js';
import { ntcTolerance } from './ntc-tolerance.js';
import type { FalseFacts, Sensor, SensorType } from './sensor.js';

type Facts = Extract<SensorFacts, { kind: 'ntc-coefficients' }>;

/** Where NTC of this kind are used. @assumed common practice, no source */
const range_C = [-50, 150] as const;
/** No NTC on a bench is outside this. @assumed */
const widest_ohm = [1, 1e8] as const;
/** Places at which the curve is looked at, so that no bend is missed. */
const places = 200;

/** An NTC by the coefficients of Steinhart and Hart, with or without the square. */
export const ntcCoefficients: SensorType<Facts> = {
  kind: 'ntc-coefficients',
  title: 'NTC by coefficients',
  unit: 'ohm',
  make: makeCoefficients,
};

/** @source [STEINHART-HART-68] 1/T as a polynomial in ln R */
function makeCoefficients(facts: Facts): Result<Sensor, FalseFacts> {
  const { k0_per_K, k1_per_K, k2_per_K = 0, k3_per_K = 0, reference_ohm = 1, tolerance_K } = facts;
  const coefficients = [k0_per_K, k1_per_K, k2_per_K, k3_per_K];
  const widest = [Math.log(widest_ohm[0] / reference_ohm), Math.log(widest_ohm[1] / reference_ohm)] as const;
  const logAt = (temp_C: number) =>
    findRoot(
      (log) => polynomialAt(coefficients, log) - 1 / kelvinFromCelsius(temp_C),
      (log) => polynomialSlopeAt(coefficients, log),
      (1 / kelvinFromCelsius(temp_C) - k0_per_K) / k1_per_K,
      widest,
    );
  const resistanceAt = (temp_C: number) => reference_ohm * Math.exp(logAt(temp_C));
  const span = widest[1] - widest[0];
  const rises = Array.from({ length: places + 1 }, (_, i) => widest[0] + (span * i) / places).every(
    (log) => polynomialSlopeAt(coefficients, log) > 0,
  );
  const reaches =
    1 / polynomialAt(coefficients, widest[0]) > kelvinFromCelsius(range_C[1]) &&
    polynomialAt(coefficients, widest[1]) > 1 / kelvinFromCelsius(range_C[0]);
  if (!rises || !reaches) {
    return refused({
      kind: 'false-facts',
      what: 'No NTC has these coefficients: its resistance must fall all the way from −50 to 150 °C.',
      remedy:
        'Compare them with the data sheet: the power of ten of each, which of them belongs to the square and which to the cube, and what the sheet divides the resistance by.',
    });
  }
  const allowed = [resistanceAt(range_C[1]), resistanceAt(range_C[0])] as const;
  return found({
    id: 'ntc-coefficients',
    title: `NTC by its coefficients, ${(resistanceAt(25) / 1000).toPrecision(3)} kΩ at 25 °C`,
    unit: 'ohm',
    range_C,
    coldJunction: null,
    tolerance: ntcTolerance(tolerance_K),
    source: 'STEINHART-HART-68',
    temperature_C(signal) {
      if (isOutside(signal, allowed)) return refuseSignal(signal, allowed);
      return found(celsiusFromKelvin(1 / polynomialAt(coefficients, Math.log(signal / reference_ohm))));
    },
    signalAt(temp_C) {
      checkTemperature(temp_C, range_C);
      return resistanceAt(temp_C);
    },
  });
}
