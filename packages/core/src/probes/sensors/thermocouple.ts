import { found, refused } from '../../measure/index.js';
import { findRoot, polynomialAt, polynomialSlopeAt } from '../../numerics/index.js';
import type { SensorFacts } from '../../records/index.js';
import { checkTemperature, isOutside, refuseSignal } from './check-range.js';
import type { Sensor, SensorType, Tolerance } from './sensor.js';
import { type ThermocoupleFunctions, thermocoupleFunctions } from './thermocouple-functions.js';

type Facts = Extract<SensorFacts, { kind: 'thermocouple' }>;
type Letter = Facts['type'];

/** Printed tables give three decimals of a millivolt: a signal that much beyond the range is still in it. */
const slack_mV = 1e-3;

/** Thermocouples: the signal tells how much warmer the tip is than the cold junction, where the wires end. */
export const thermocouple: SensorType<Facts> = {
  kind: 'thermocouple',
  title: 'thermocouple',
  unit: 'mV',
  make: (facts) => found(makeThermocouple(facts)),
};

function makeThermocouple(facts: Facts): Sensor {
  const functions: ThermocoupleFunctions = thermocoupleFunctions[facts.type];
  const { range_C } = functions;
  const [lowest_mV, highest_mV] = range_C.map((end_C) => signalOf(functions, end_C)) as [number, number];
  return {
    id: `thermocouple-${facts.type}`,
    title: `type ${facts.type} thermocouple`,
    unit: 'mV',
    range_C,
    coldJunction: {
      weight: (temp_C, coldJunction_C) => slopeOf(functions, coldJunction_C) / slopeOf(functions, temp_C),
    },
    tolerance: toleranceOf(facts),
    source: 'NIST-MONO-175',
    temperature_C(signal, coldJunction_C = Number.NaN) {
      if (isOutside(coldJunction_C, range_C)) return refused({ kind: 'no-cold-junction' });
      const atTerminals_mV = signalOf(functions, coldJunction_C);
      const allowed = [
        lowest_mV - slack_mV - atTerminals_mV,
        highest_mV + slack_mV - atTerminals_mV,
      ] as const;
      if (isOutside(signal, allowed)) return refuseSignal(signal, allowed);
      return found(invert(functions, signal + atTerminals_mV));
    },
    signalAt(temp_C, coldJunction_C = Number.NaN) {
      checkTemperature(temp_C, range_C);
      checkTemperature(coldJunction_C, range_C);
      return signalOf(functions, temp_C) - signalOf(functions, coldJunction_C);
    },
  };
}

/** Signal against a cold junction at 0 °C, mV. @source [NIST-MONO-175] */
function signalOf(functions: ThermocoupleFunctions, temp_C: number): number {
  return temp_C < 0 ? polynomialAt(functions.below0, temp_C) : signalFrom0(functions, temp_C);
}

function signalFrom0({ from0, bell }: ThermocoupleFunctions, temp_C: number): number {
  const main = polynomialAt(from0, temp_C);
  return bell === undefined ? main : main + bell[0] * Math.exp(bell[1] * (temp_C - bell[2]) ** 2);
}

/** Its slope, mV/K. */
function slopeOf(functions: ThermocoupleFunctions, temp_C: number): number {
  return temp_C < 0 ? polynomialSlopeAt(functions.below0, temp_C) : slopeFrom0(functions, temp_C);
}

function slopeFrom0({ from0, bell }: ThermocoupleFunctions, temp_C: number): number {
  const main = polynomialSlopeAt(from0, temp_C);
  if (bell === undefined) return main;
  const from_K = temp_C - bell[2];
  return main + bell[0] * Math.exp(bell[1] * from_K * from_K) * 2 * bell[1] * from_K;
}

/**
 * The temperature at which the reference function has this value, °C.
 *
 * The printed inverse polynomials are right to some 0.05 K only and bend: between 25 and 40 °C that of type K makes 15.04 K out
 * of 15 K. So they only say where to start, and the function itself is inverted on the branch the signal tells. That of type K has a step of
 * 2 nV at 0 °C; half-way up it, rounding cannot mistake the branch.
 */
function invert(functions: ThermocoupleFunctions, signal_mV: number): number {
  const [lowest_C, highest_C] = functions.range_C;
  if (signal_mV < signalFrom0(functions, 0) / 2) {
    return findRoot(
      (temp_C) => polynomialAt(functions.below0, temp_C) - signal_mV,
      (temp_C) => polynomialSlopeAt(functions.below0, temp_C),
      polynomialAt(functions.inverseBelow0, signal_mV),
      [lowest_C - 1, 1],
    );
  }
  return findRoot(
    (temp_C) => signalFrom0(functions, temp_C) - signal_mV,
    (temp_C) => slopeFrom0(functions, temp_C),
    polynomialAt(functions.inverseFrom0, signal_mV),
    [-1, highest_C + 1],
  );
}

/**
 * Tolerance classes: the larger of a fixed error and a share of the temperature, of new wire.
 * @source [IEC-60584-1] tolerance classes 1 and 2
 */
const classes: Readonly<Record<Letter, Readonly<Record<'1' | '2', readonly [number, number]>>>> = {
  K: { 1: [1.5, 0.004], 2: [2.5, 0.0075] },
  J: { 1: [1.5, 0.004], 2: [2.5, 0.0075] },
  N: { 1: [1.5, 0.004], 2: [2.5, 0.0075] },
  T: { 1: [0.5, 0.004], 2: [1, 0.0075] },
};

/** Where no class is stated the wider one is taken: wire without a word on its class is sold as class 2 at best. */
function toleranceOf({ type, class: stated }: Facts): Tolerance {
  const [fixed_K, share] = classes[type][stated ?? '2'];
  return {
    words: `class ${stated ?? '2'}`,
    isAssumed: stated === undefined,
    halfWidth_K: (temp_C) => Math.max(fixed_K, share * Math.abs(temp_C)),
  };
}
