import { found } from '../../measure/index.js';
import { findRoot } from '../../numerics/index.js';
import type { SensorFacts } from '../../records/index.js';
import { checkTemperature, isOutside, refuseSignal } from './check-range.js';
import type { Sensor, SensorType, Tolerance } from './sensor.js';

type Facts = Extract<SensorFacts, { kind: 'platinum' }>;

const range_C = [-200, 850] as const;

/** R = R0 (1 + A t + B t² + C (t - 100) t³), C only below 0 °C. @source [IEC-60751] */
const linear = 3.9083e-3;
const square = -5.775e-7;
const below0 = -4.183e-12;

/** Printed tables give hundredths of an ohm for a Pt100: a signal half of that beyond the range is still in it. */
const slack = 0.5e-4;

/** Platinum resistors with 100 or 1000 ohm at 0 °C. */
export const platinum: SensorType<Facts> = {
  kind: 'platinum',
  title: 'platinum resistor',
  unit: 'ohm',
  make: (facts) => found(makePlatinum(facts)),
};

function makePlatinum(facts: Facts): Sensor {
  const nominal_ohm = facts.element === 'Pt100' ? 100 : 1000;
  // Through two wires the meter sees their resistance too: 1 ohm reads 2.6 K high on a Pt100.
  const lead_ohm = facts.lead_ohm ?? 0;
  const allowed = [
    nominal_ohm * (ratioAt(range_C[0]) - slack) + lead_ohm,
    nominal_ohm * (ratioAt(range_C[1]) + slack) + lead_ohm,
  ] as const;
  return {
    id: facts.element.toLowerCase(),
    title: facts.element,
    unit: 'ohm',
    range_C,
    coldJunction: null,
    tolerance: toleranceOf(facts),
    source: 'IEC-60751',
    temperature_C(signal) {
      if (isOutside(signal, allowed)) return refuseSignal(signal, allowed);
      return found(invert((signal - lead_ohm) / nominal_ohm));
    },
    signalAt(temp_C) {
      checkTemperature(temp_C, range_C);
      return nominal_ohm * ratioAt(temp_C) + lead_ohm;
    },
  };
}

function ratioAt(temp_C: number): number {
  const quadratic = 1 + temp_C * (linear + temp_C * square);
  return temp_C < 0 ? quadratic + below0 * (temp_C - 100) * temp_C ** 3 : quadratic;
}

/** The quadratic is exact from 0 °C upwards. Below, it is 2.4 K wrong at -200 °C, and only where the exact inverse starts. */
function invert(ratio: number): number {
  const quadratic_C = (-linear + Math.sqrt(linear * linear - 4 * square * (1 - ratio))) / (2 * square);
  if (ratio >= 1) return quadratic_C;
  return findRoot(
    (temp_C) => ratioAt(temp_C) - ratio,
    (temp_C) => linear + temp_C * (2 * square + below0 * temp_C * (4 * temp_C - 300)),
    quadratic_C,
    [range_C[0] - 1, 0],
  );
}

/** ± (a + b |t|). @source [IEC-60751] tolerance classes */
const classes: Readonly<Record<NonNullable<Facts['class']>, readonly [number, number]>> = {
  AA: [0.1, 0.0017],
  A: [0.15, 0.002],
  B: [0.3, 0.005],
  C: [0.6, 0.01],
};

/** Where no class is stated, B is taken: it is what elements without a word on their class are sold as. */
function toleranceOf({ class: stated }: Facts): Tolerance {
  const [fixed_K, share] = classes[stated ?? 'B'];
  return {
    words: `class ${stated ?? 'B'}`,
    isAssumed: stated === undefined,
    halfWidth_K: (temp_C) => fixed_K + share * Math.abs(temp_C),
  };
}
