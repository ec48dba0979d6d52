import { describe, expect, test } from 'vitest';
import { polynomialAt } from '../../numerics/index.js';
import type { SensorFacts } from '../../records/index.js';
import type { Sensor } from './sensor.js';
import { thermocouple } from './thermocouple.js';
import { thermocoupleFunctions } from './thermocouple-functions.js';

type Facts = Extract<SensorFacts, { kind: 'thermocouple' }>;
type Letter = Facts['type'];

function make(type: Letter, facts: Partial<Facts> = {}): Sensor {
  const made = thermocouple.make({ kind: 'thermocouple', type, ...facts });
  if (!made.ok) throw new Error(made.reason.what);
  return made.value;
}
const letters: readonly Letter[] = ['K', 'J', 'T', 'N'];
const emf_mV = (type: Letter, temp_C: number) => make(type).signalAt(temp_C, 0);
function tempOf_C(type: Letter, signal_mV: number, coldJunction_C = 0): number {
  const answer = make(type).temperature_C(signal_mV, coldJunction_C);
  return answer.ok ? answer.value : Number.NaN;
}

describe('the reference functions', () => {
  // [NIST-MONO-175] tables, printed to three decimals; the tolerance is half of the last one.
  const printed: Readonly<Record<Letter, Readonly<Record<number, number>>>> = {
    K: {
      '-200': -5.891,
      '-190': -5.73,
      '-150': -4.913,
      '-20': -0.778,
      20: 0.798,
      25: 1,
      40: 1.612,
      60: 2.436,
      80: 3.267,
      100: 4.096,
      120: 4.92,
      150: 6.138,
      500: 20.644,
    },
    J: {
      '-210': -8.095,
      20: 1.019,
      25: 1.277,
      40: 2.059,
      60: 3.116,
      80: 4.187,
      100: 5.269,
      150: 8.01,
      760: 42.919,
    },
    T: {
      '-200': -5.603,
      '-100': -3.379,
      '-50': -1.819,
      '-40': -1.475,
      20: 0.79,
      25: 0.992,
      40: 1.612,
      60: 2.468,
      80: 3.358,
      100: 4.279,
      150: 6.704,
      400: 20.872,
    },
    N: { '-200': -3.99, 600: 20.613 },
  };
  test.each(letters)('of type %s give the printed table', (type) => {
    for (const [temp_C, signal_mV] of Object.entries(printed[type])) {
      expect(Math.abs(emf_mV(type, Number(temp_C)) - signal_mV)).toBeLessThanOrEqual(5.0001e-4);
    }
  });

  // The same functions summed outside the project with 40 digits (mpmath 1.3) from the coefficients of [NIST-MONO-175].
  test.each([
    {
      type: 'K',
      at: [
        -5.89140359235, -3.55363133658, -1.5269479513, -0.777540367568, 0.798119699062, 1.00024235457,
        2.4364716269, 4.09623021872, 6.13834392715,
      ],
    },
    {
      type: 'J',
      at: [
        -7.89048325877, -4.63252367973, -1.9606456026, -0.994726248627, 1.01914927521, 1.27728838449,
        3.11566836713, 5.26891608337, 8.00990494927,
      ],
    },
    {
      type: 'T',
      at: [
        -5.60296069956, -3.37858205631, -1.47499186989, -0.756837614042, 0.789611637114, 0.99197726782,
        2.46815052902, 4.2785186158, 6.7040865477,
      ],
    },
    {
      type: 'N',
      at: [
        -3.99037607928, -2.40681119323, -1.02275683526, -0.518048760326, 0.525184130751, 0.658645843438,
        1.61896850337, 2.77412403556, 4.30184416208,
      ],
    },
  ] as const)('of type $type give the same sums with more digits', ({ type, at }) => {
    const temps_C = [-200, -100, -40, -20, 20, 25, 60, 100, 150];
    for (const [i, temp_C] of temps_C.entries()) {
      expect(Math.abs(emf_mV(type, temp_C) - (at[i] as number))).toBeLessThan(1e-8);
    }
  });

  // One copy of the tables in circulation has the fifth coefficient of type K below 0 °C with a wrong sign: −3.55 mV at −100 °C
  // becomes −4.90 mV, while −20 °C still looks right. The printed −3.554 mV tells them apart.
  test('have the right sign in the coefficient that is copied wrongly', () => {
    const { below0 } = thermocoupleFunctions.K;
    const wrong = below0.map((value, power) => (power === 5 ? -value : value));
    expect(Math.abs(polynomialAt(wrong, -100) - -4.903813)).toBeLessThan(1e-6);
    expect(Math.abs(polynomialAt(below0, -100) - -3.554)).toBeLessThanOrEqual(5e-4);
  });

  // The exponential of type K belongs to 0 °C and above; there it leaves 2.0e-9 mV, which is less than 0.1 µK.
  test('of type K meet at 0 °C', () => {
    const k = make('K');
    expect(Math.abs(k.signalAt(0, -1e-12))).toBeLessThan(1e-8);
    expect(k.signalAt(-1e-9, 0) - k.signalAt(0, 0)).toBeLessThan(0);
  });
});

describe('a thermocouple read back', () => {
  test.each(letters)('of type %s is right to 1e-9 K all along both branches', (type) => {
    const [low_C, high_C] = make(type).range_C;
    let worst_K = 0;
    for (let temp_C = low_C; temp_C <= high_C; temp_C += 0.37) {
      worst_K = Math.max(worst_K, Math.abs(tempOf_C(type, emf_mV(type, temp_C)) - temp_C));
    }
    expect(worst_K).toBeLessThan(1e-9);
  });

  // [NIST-MONO-175] the printed inverse polynomials, and how far they are off by the reference function: printed bounds -0.05 to
  // 0.04 K for K from 0 to 500 °C, ±0.03 K for T. The figures beside each type were computed from them outside the project.
  test.each([
    {
      type: 'K',
      at: {
        '-20': -20.0086,
        25: 24.9896,
        40: 40.0291,
        60: 60.0213,
        80: 79.9823,
        100: 99.9689,
        150: 150.0292,
      },
    },
    {
      type: 'J',
      at: {
        '-20': -20.0181,
        25: 24.9646,
        40: 39.9705,
        60: 59.9891,
        80: 80.0077,
        100: 100.0197,
        150: 150.0152,
      },
    },
    {
      type: 'T',
      at: {
        '-20': -19.9939,
        25: 25.0151,
        40: 39.9956,
        60: 59.985,
        80: 79.9923,
        100: 100.0047,
        150: 150.0052,
      },
    },
    {
      type: 'N',
      at: { '-20': -19.9955, 25: 25.0265, 40: 40.016, 60: 59.9978, 80: 79.9864, 100: 99.9846, 150: 150.0027 },
    },
  ] as const)('of type $type starts from a polynomial that alone is off', ({ type, at }) => {
    const { inverseBelow0, inverseFrom0 } = thermocoupleFunctions[type];
    for (const [temp_C, alone_C] of Object.entries(at)) {
      const signal_mV = emf_mV(type, Number(temp_C));
      const start_C = polynomialAt(signal_mV < 0 ? inverseBelow0 : inverseFrom0, signal_mV);
      expect(Math.abs(start_C - alone_C)).toBeLessThan(5.1e-5);
    }
  });

  test.each([
    { type: 'K', to_C: 500, low_K: -0.05, high_K: 0.04 },
    { type: 'T', to_C: 400, low_K: -0.03, high_K: 0.03 },
  ] as const)(
    'of type $type starts within the printed bounds of its polynomial',
    ({ type, to_C, low_K, high_K }) => {
      for (let temp_C = 0; temp_C <= to_C; temp_C += 0.5) {
        const off_K = polynomialAt(thermocoupleFunctions[type].inverseFrom0, emf_mV(type, temp_C)) - temp_C;
        expect(off_K).toBeGreaterThanOrEqual(low_K);
        expect(off_K).toBeLessThanOrEqual(high_K);
      }
    },
  );

  test('keeps a difference of 15 K, which the polynomial alone bends to 15.04 K', () => {
    const { inverseFrom0 } = thermocoupleFunctions.K;
    const [low_mV, high_mV] = [emf_mV('K', 25), emf_mV('K', 40)];
    expect(polynomialAt(inverseFrom0, high_mV) - polynomialAt(inverseFrom0, low_mV)).toBeCloseTo(15.0395, 3);
    expect(tempOf_C('K', high_mV) - tempOf_C('K', low_mV)).toBeCloseTo(15, 10);
  });

  test('takes the ends of its range as tables print them', () => {
    const ends = {
      K: [-5.891, 20.644],
      J: [-8.095, 42.919],
      T: [-5.603, 20.872],
      N: [-3.99, 20.613],
    } as const;
    for (const type of letters) {
      const [low_C, high_C] = make(type).range_C;
      const [low_mV, high_mV] = ends[type];
      // Half of the last decimal, 0.5 µV, over the slope of the signal there, 10 µV/K at least.
      expect(Math.abs(tempOf_C(type, low_mV) - low_C)).toBeLessThan(0.05);
      expect(Math.abs(tempOf_C(type, high_mV) - high_C)).toBeLessThan(0.05);
    }
    // A strict test against the printed −5.891 would refuse the true signal of −200 °C.
    expect(tempOf_C('K', -5.891404)).toBeCloseTo(-200, 3);
  });

  test('refuses what lies beyond, and no number', () => {
    for (const signal_mV of [-5.9, 20.7, 78.1, Number.NaN, Number.POSITIVE_INFINITY]) {
      const answer = make('K').temperature_C(signal_mV, 0);
      expect(answer).toMatchObject({ ok: false, reason: { kind: 'out-of-range' } });
    }
  });
});

describe('the cold junction', () => {
  // The reference function inverted outside the project with 40 digits (mpmath 1.3), [NIST-MONO-175].
  test.each([
    { type: 'K', signal_mV: 2.5, cold_C: 23.5, temp_C: 84.1615416931, added_C: 85.0333389838 },
    { type: 'K', signal_mV: 1, cold_C: 25, temp_C: 49.446273001, added_C: 49.994018538 },
    { type: 'K', signal_mV: -0.3, cold_C: 25, temp_C: 17.570153254, added_C: 17.3571560094 },
    { type: 'T', signal_mV: 1.5, cold_C: 22, temp_C: 57.7542935137, added_C: 59.3286794744 },
    { type: 'J', signal_mV: 3, cold_C: 25, temp_C: 81.6835883133, added_C: 82.8249072037 },
  ] as const)(
    'of type $type at $cold_C °C makes $signal_mV mV $temp_C °C',
    ({ type, signal_mV, cold_C, temp_C, added_C }) => {
      expect(Math.abs(tempOf_C(type, signal_mV, cold_C) - temp_C)).toBeLessThan(1e-8);
      // Adding temperatures instead of voltages is the usual slip.
      expect(tempOf_C(type, signal_mV) + cold_C).toBeCloseTo(added_C, 6);
    },
  );

  // The ratio of the two slopes of [NIST-MONO-175], 40.518 and 41.531 µV/K.
  test('weighs by the ratio of the slopes', () => {
    expect(make('K').coldJunction?.weight(84.16, 25)).toBeCloseTo(0.976, 3);
    const moved_K = tempOf_C('K', 2.5, 24) - tempOf_C('K', 2.5, 23);
    expect(moved_K).toBeCloseTo(make('K').coldJunction?.weight(84.16, 23.5) as number, 4);
  });

  test('must be known', () => {
    expect(make('K').temperature_C(1)).toEqual({ ok: false, reason: { kind: 'no-cold-junction' } });
    expect(make('K').temperature_C(1, Number.NaN)).toMatchObject({ ok: false });
    expect(make('K').temperature_C(1, 2000)).toMatchObject({ ok: false });
    expect(() => make('K').signalAt(40)).toThrow(/temp_C must lie in/);
  });
});

describe('tolerance classes', () => {
  // [IEC-60584-1] the larger of a fixed error and a share; computed by hand from the printed pairs.
  test.each([
    { type: 'K', class: '1', at_C: 60, half_K: 1.5 },
    { type: 'K', class: '1', at_C: 400, half_K: 1.6 },
    { type: 'K', class: '2', at_C: 60, half_K: 2.5 },
    { type: 'K', class: '2', at_C: 400, half_K: 3 },
    { type: 'N', class: '1', at_C: -40, half_K: 1.5 },
    { type: 'J', class: '2', at_C: 60, half_K: 2.5 },
    { type: 'T', class: '1', at_C: 60, half_K: 0.5 },
    { type: 'T', class: '1', at_C: 150, half_K: 0.6 },
    { type: 'T', class: '2', at_C: 150, half_K: 1.125 },
  ] as const)(
    'type $type class $class allows $half_K K at $at_C °C',
    ({ type, class: stated, at_C, half_K }) => {
      const { tolerance } = make(type, { class: stated });
      expect(tolerance?.halfWidth_K(at_C)).toBeCloseTo(half_K, 12);
      expect(tolerance?.isAssumed).toBe(false);
    },
  );

  test('where none is stated, the wider one stands and says so', () => {
    const { tolerance } = make('K');
    expect(tolerance?.halfWidth_K(60)).toBe(2.5);
    expect(tolerance).toMatchObject({ words: 'class 2', isAssumed: true });
  });
});
