import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { OutOfRangeError } from '../../measure/index.js';
import type { SensorFacts } from '../../records/index.js';
import { makeSensor, sensorTypes } from './sensor-types.js';

/** At least one of each kind; the next sensor type adds its own line and is held to the same laws. */
const examples: readonly SensorFacts[] = [
  { kind: 'thermocouple', type: 'K' },
  { kind: 'thermocouple', type: 'J' },
  { kind: 'thermocouple', type: 'T' },
  { kind: 'thermocouple', type: 'N' },
  { kind: 'platinum', element: 'Pt100' },
  { kind: 'platinum', element: 'Pt1000', lead_ohm: 1.5 },
  { kind: 'ntc-beta', r25_ohm: 10_000, beta_K: 3950 },
  { kind: 'ntc-coefficients', k0_per_K: 8.8037e-4, k1_per_K: 2.52677e-4, k3_per_K: 1.875e-7 },
  {
    kind: 'ntc-table',
    rows: [
      { at_C: 0, resistance_ohm: 27280 },
      { at_C: 40, resistance_ohm: 5827 },
      { at_C: 60, resistance_ohm: 3020 },
      { at_C: 100, resistance_ohm: 973 },
    ],
  },
];

test('every kind of sensor has an example here', () => {
  expect(new Set(examples.map(({ kind }) => kind))).toEqual(new Set(Object.keys(sensorTypes)));
});

describe.each(examples.map((facts) => ({ name: JSON.stringify(facts).slice(0, 60), facts })))(
  '$name',
  ({ facts }) => {
    const made = makeSensor(facts);
    if (!made.ok) throw new Error(made.reason.what);
    const sensor = made.value;
    const [low_C, high_C] = sensor.range_C;
    const anywhere = fc.double({ min: low_C, max: high_C, noNaN: true });
    const room = fc.double({ min: 0, max: 50, noNaN: true });

    // A law: temperature and signal are exact inverses of each other, whatever the cold junction.
    test('reads back any temperature of its range', () => {
      fc.assert(
        fc.property(anywhere, room, (temp_C, cold_C) => {
          const back = sensor.temperature_C(sensor.signalAt(temp_C, cold_C), cold_C);
          expect(back.ok && Math.abs(back.value - temp_C)).toBeLessThan(1e-9);
        }),
        { numRuns: 500 },
      );
    });

    // A law: no two temperatures share a signal, so readings keep their order.
    test('moves one way only', () => {
      const way = Math.sign(sensor.signalAt(high_C, 20) - sensor.signalAt(low_C, 20));
      fc.assert(
        fc.property(anywhere, anywhere, (one_C, other_C) => {
          fc.pre(Math.abs(one_C - other_C) > 1e-6);
          const rise = sensor.signalAt(other_C, 20) - sensor.signalAt(one_C, 20);
          expect(Math.sign(rise) * way).toBe(Math.sign(other_C - one_C));
        }),
      );
    });

    test('answers every signal with a temperature near its range or a reason, and never throws', () => {
      fc.assert(
        fc.property(fc.double(), fc.option(fc.double(), { nil: undefined }), (signal, cold_C) => {
          const answer = sensor.temperature_C(signal, cold_C);
          if (answer.ok) {
            expect(answer.value).toBeGreaterThan(low_C - 0.1);
            expect(answer.value).toBeLessThan(high_C + 0.1);
          } else expect(['out-of-range', 'no-cold-junction']).toContain(answer.reason.kind);
        }),
      );
      expect(sensor.temperature_C(Number.NaN, 20)).toMatchObject({ ok: false });
    });

    test.each([Number.NaN, low_C - 1, high_C + 1])('refuses to give a signal at %d °C', (temp_C) => {
      expect(() => sensor.signalAt(temp_C, 20)).toThrow(OutOfRangeError);
    });

    test('never lets its maker err by nothing', () => {
      if (sensor.tolerance === null) return;
      fc.assert(
        fc.property(anywhere, (temp_C) => {
          expect(sensor.tolerance?.halfWidth_K(temp_C)).toBeGreaterThan(0);
        }),
      );
    });
  },
);
