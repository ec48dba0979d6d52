import { describe, expect, test } from 'vitest';
import { BadInputError } from '../measure/index.js';
import type { Probe, ProbeCheck, SensorFacts } from '../records/index.js';
import { correctionU_K, differenceU_K, gainU } from './apply-correction.js';
import { correctProbes } from './correct-probes.js';
import { takeReadings } from './take-readings.js';

type Reading = ProbeCheck['points'][number]['readings'][number];
const probe = (id: string, sensor?: SensorFacts): Probe => ({
  id,
  name: id,
  place: 'cell',
  attachment_u_K: 0,
  ...(sensor && { sensor }),
});
const typeK: SensorFacts = { kind: 'thermocouple', type: 'K' };
const atFixed: SensorFacts = { ...typeK, coldJunction: { kind: 'fixed', fixed_C: 25, u_K: 0.5 } };
const pt100: SensorFacts = { kind: 'platinum', element: 'Pt100' };
const point = (...readings: Reading[]): ProbeCheck['points'][number] => ({
  reference: { kind: 'ice', u_K: 0.05 },
  readings,
});
const taken = (sensor: SensorFacts | undefined, reading: Omit<Reading, 'probe'>) =>
  takeReadings(point({ probe: 'p', ...reading }), [probe('p', sensor)], 'check x, point 1')[0];

describe('a reading noted in the signal of its sensor', () => {
  // [NIST-MONO-175], type K, printed to a microvolt: 1.000 mV at 25 °C, 4.096 mV at 100 °C. Two roundings of half of one make 0.025 K.
  test.each([
    { reading: { reading_mV: 3.096, terminals_C: 25 }, sensor: typeK, at_C: 100 },
    { reading: { reading_mV: -1, terminals_C: 25 }, sensor: typeK, at_C: 0 },
    { reading: { reading_mV: 4.096, terminals_C: 0 }, sensor: atFixed, at_C: 100 },
    { reading: { reading_mV: 3.096 }, sensor: atFixed, at_C: 100 },
    // [IEC-60751], printed to a hundredth of an ohm: 138.51 Ω at 100 °C; half of it is 0.013 K.
    { reading: { reading_ohm: 138.51 }, sensor: pt100, at_C: 100 },
    { reading: { reading_ohm: 100 }, sensor: pt100, at_C: 0 },
  ])('$reading is $at_C °C', ({ reading, sensor, at_C }) => {
    expect(Math.abs((taken(sensor, reading)?.reading_C ?? Number.NaN) - at_C)).toBeLessThan(0.026);
  });

  test('is told as it was noted, and one noted as a temperature is taken as it is', () => {
    expect(taken(pt100, { reading_ohm: 138.51, u_K: 0.02 })).toMatchObject({ signal: '138.51 Ω', u_K: 0.02 });
    expect(taken(pt100, { reading_C: 99.9 })).toMatchObject({
      reading_C: 99.9,
      signal: null,
      terminals_u_K: 0,
    });
  });

  test.each([
    { sensor: undefined, reading: { reading_mV: 3.1, terminals_C: 25 }, what: 'does not state what sensor' },
    { sensor: pt100, reading: { reading_mV: 3.1, terminals_C: 25 }, what: 'Pt100, whose signal is in Ω' },
    { sensor: typeK, reading: { reading_ohm: 138 }, what: 'type K thermocouple, whose signal is in mV' },
    { sensor: typeK, reading: { reading_mV: 3.1 }, what: 'how warm those were is not known' },
    { sensor: pt100, reading: { reading_ohm: 1385.1 }, what: 'is no temperature from −60 to 300 °C' },
  ])('$reading is refused where it $what', ({ sensor, reading, what }) => {
    expect(() => taken(sensor, reading)).toThrow(BadInputError);
    expect(() => taken(sensor, reading)).toThrow(what);
    expect(() => taken(sensor, reading)).toThrow('check x, point 1, reading 1');
  });
});

describe('how warm the terminals were', () => {
  const reading = (id: string): Reading => ({ probe: id, reading_mV: -1 });
  const probes = [probe('p', atFixed), probe('q', atFixed), probe('r', pt100)];
  const check: ProbeCheck = {
    id: 'x',
    model: 'offset',
    points: [point(reading('p'), reading('q'), { probe: 'r', reading_ohm: 100 })],
  };
  const bare = correctProbes({ probes, probeChecks: [check] }).map((correction) => ({
    ...correction,
    unknownGain_u: 0,
    coldJunction: null,
  }));
  const [p, q, r] = bare as [(typeof bare)[0], (typeof bare)[0], (typeof bare)[0]];
  // By hand: the bath and the reading 0.05 K each; the terminals 0.5 K times the ratio of the slopes at 25 and 0 °C, which the
  // printed table of type K gives as (1.041 - 0.960) / (0.039 + 0.039) mV over the same 2 K. Its roundings make 2 %.
  const terminals_K = (0.5 * 0.081) / 0.078;

  test('puts its doubt on what the check says of a thermocouple, and not of a resistor', () => {
    expect(Math.abs(correctionU_K(p, 0) / Math.hypot(0.05, 0.05, terminals_K) - 1)).toBeLessThan(0.02);
    expect(correctionU_K(r, 0)).toBeCloseTo(Math.hypot(0.05, 0.05), 9);
  });

  test('is one error in all baths of a check: it shifts a line and does not tilt it', () => {
    const line: ProbeCheck = {
      id: 'x',
      model: 'offset-gain',
      points: [
        point(reading('p')),
        {
          reference: { kind: 'reference', reference_C: 100, u_K: 0.05 },
          readings: [{ probe: 'p', reading_mV: 3.096 }],
        },
      ],
    };
    const [fitted] = correctProbes({ probes, probeChecks: [line] });
    // By hand: half of each point enters at 50 °C, so bath and reading with 0.05 K / √2, the terminals in full; the slope at 100 °C
    // from the printed 4.055 mV at 99 and 4.138 mV at 101 °C. The gain has two errors of 0.05 K at each end, over 100 K, and the
    // difference of the two weights.
    const [at0_K, at100_K] = [(0.5 * 0.081) / 0.078, (0.5 * 0.081) / 0.083];
    const middle_K = Math.hypot(0.05, (at0_K + at100_K) / 2);
    expect(Math.abs(correctionU_K(fitted as typeof p, 50) / middle_K - 1)).toBeLessThan(0.02);
    // The roundings of the table make 0.013 K of that difference of 0.031 K, and 4 % of the whole.
    const gain = Math.hypot(0.1, at0_K - at100_K) / 100;
    expect(Math.abs(gainU(fitted as typeof p) / gain - 1)).toBeLessThan(0.06);
  });

  test('cancels between two thermocouples read at the same terminals, and not against a resistor', () => {
    // Only the readings' own 0.05 K each are left.
    expect(differenceU_K(p, 0, q, 0)).toBeCloseTo(Math.hypot(0.05, 0.05), 9);
    expect(Math.abs(differenceU_K(p, 0, r, 0) / Math.hypot(0.05, 0.05, terminals_K) - 1)).toBeLessThan(0.02);
  });
});
