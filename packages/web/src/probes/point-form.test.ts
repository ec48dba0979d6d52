import { describe, expect, test } from 'vitest';
import { writePath } from '../parts/record-spec.js';
import { adjustPoint, formOfPoint, missingReading, pointGroups, pointOfForm } from './point-form.js';

const probes = [{ id: 'c1', name: 'C1', place: 'cell' as const }];
const keysOf = (form: Record<string, unknown>) =>
  pointGroups(probes, form).flatMap((group) => group.specs.map((spec) => spec.key));

describe('a check point as a form', () => {
  test.each([
    [{ kind: 'ice' as const }],
    [{ kind: 'boiling' as const, station_hPa: 968.2 }],
    [{ kind: 'boiling' as const, seaLevel_hPa: 1018, altitude_m: 430 }],
    [{ kind: 'boiling' as const, altitude_m: 430, u_K: 0.3 }],
    [{ kind: 'reference' as const, reference_C: 40.1, u_K: 0.05 }],
  ])('%j comes back as it was, with what the form does not show', (reference) => {
    const point = {
      reference,
      readings: [{ probe: 'c1', reading_C: 0.4, u_K: 0.03, later: 'kept' }],
      note: 'kept',
    };
    expect(pointOfForm(formOfPoint(point), point)).toEqual(point);
  });

  const twice = {
    reference: { kind: 'ice' as const },
    readings: [
      { probe: 'c1', reading_C: 0.4 },
      { probe: 'a', reading_C: 0.1, u_K: 0.02 },
      { probe: 'c1', reading_C: 0.5, u_K: 0.03 },
      { probe: 'a', reading_C: 0.2 },
    ],
  };
  const after = (key: string, value: unknown) =>
    pointOfForm(writePath(formOfPoint(twice), key, value), twice);

  test('every reading of a probe outlives an edit of the bath, in its order', () => {
    expect(after('u_K', 0.1)).toEqual({ ...twice, reference: { kind: 'ice', u_K: 0.1 } });
  });

  test('each reading is edited, taken out and added by itself', () => {
    const [c1, a, c1Again, aAgain] = twice.readings;
    expect(after('readings.c1.1.reading_C', 0.6).readings).toEqual([
      c1,
      a,
      { ...c1Again, reading_C: 0.6 },
      aAgain,
    ]);
    expect(after('readings.c1.0.reading_C', undefined).readings).toEqual([a, c1Again, aAgain]);
    expect(after('readings.a', undefined).readings).toEqual([c1, c1Again]);
    expect(after('readings.a.2.reading_C', 0.3).readings).toEqual([
      ...twice.readings,
      { probe: 'a', reading_C: 0.3 },
    ]);
  });

  test('there is always one more round to fill, of every probe', () => {
    const rounds = (form: Record<string, unknown>) =>
      keysOf(form).filter((key) => key.startsWith('readings'));
    expect(rounds({ kind: 'ice' })).toEqual(['readings.c1.0.reading_C', 'readings.c1.1.reading_C']);
    expect(rounds(formOfPoint(twice))).toEqual([
      'readings.c1.0.reading_C',
      'readings.c1.1.reading_C',
      'readings.c1.2.reading_C',
    ]);
    expect(pointGroups(probes, formOfPoint(twice)).map(({ folded }) => folded ?? false)).toEqual([
      false,
      false,
      true,
      true,
    ]);
  });

  const thermocouple = {
    id: 'c1',
    name: 'C1',
    place: 'cell' as const,
    sensor: { kind: 'thermocouple' as const, type: 'K' as const },
  };
  const raw = {
    reference: { kind: 'ice' as const },
    readings: [{ probe: 'c1', reading_mV: -1, terminals_C: 25, u_K: 0.1, later: 'kept' }],
  };

  test('a probe that states its sensor is asked for its signal too', () => {
    expect(pointGroups([thermocouple], { kind: 'ice' })[1]?.specs.map(({ key }) => key)).toEqual([
      'readings.c1.0.reading_C',
      'readings.c1.0.reading_mV',
      'readings.c1.0.terminals_C',
    ]);
    const pt100 = { ...thermocouple, sensor: { kind: 'platinum' as const, element: 'Pt100' as const } };
    expect(pointGroups([pt100], { kind: 'ice' })[1]?.specs.map(({ key }) => key)).toEqual([
      'readings.c1.0.reading_C',
      'readings.c1.0.reading_ohm',
    ]);
    // A signal that was noted stays in view, also where the probe does not state its sensor any more.
    expect(keysOf(formOfPoint(raw))).toContain('readings.c1.0.reading_mV');
  });

  test('a reading goes over from its signal to a temperature and keeps what the form does not show', () => {
    expect(pointOfForm(formOfPoint(raw), raw)).toEqual(raw);
    const both = writePath(formOfPoint(raw), 'readings.c1.0.reading_C', 0.1);
    expect(missingReading([thermocouple], both)).toEqual(['each reading in one unit only']);
    const one = writePath(both, 'readings.c1.0.reading_mV', undefined);
    const alone = writePath(one, 'readings.c1.0.terminals_C', undefined);
    expect(missingReading([thermocouple], alone)).toEqual([]);
    expect(pointOfForm(alone, raw).readings).toEqual([
      { probe: 'c1', reading_C: 0.1, u_K: 0.1, later: 'kept' },
    ]);
    expect(
      missingReading([thermocouple], writePath({ kind: 'ice' }, 'readings.c1.0.terminals_C', 25)),
    ).toEqual(['the reading in mV beside its terminals']);
    const unknown = writePath({ kind: 'ice' }, 'readings.c1.0.reading_mV', -1);
    expect(missingReading([thermocouple], unknown)).toEqual(['how warm the terminals were']);
    const fixed = { kind: 'fixed' as const, fixed_C: 25 };
    const stated = { ...thermocouple, sensor: { ...thermocouple.sensor, coldJunction: fixed } };
    expect(missingReading([stated], unknown)).toEqual([]);
  });

  test('it asks for the pressure in the way it was chosen, and for nothing of another way', () => {
    expect(keysOf({ kind: 'boiling', by: 'station' })).toContain('station_hPa');
    expect(keysOf({ kind: 'boiling', by: 'station' })).not.toContain('altitude_m');
    expect(keysOf({ kind: 'boiling', by: 'seaLevel' })).toEqual(
      expect.arrayContaining(['seaLevel_hPa', 'altitude_m']),
    );
    expect(keysOf({ kind: 'ice' })).not.toContain('by');
  });

  test('a station pressure does not survive as a sea-level one', () => {
    expect(adjustPoint({ kind: 'boiling', by: 'altitude', station_hPa: 968 }, 'by')).toEqual({
      kind: 'boiling',
      by: 'altitude',
    });
    expect(adjustPoint({ kind: 'ice', by: 'station', station_hPa: 968, u_K: 0.1 }, 'kind')).toEqual({
      kind: 'ice',
      u_K: 0.1,
    });
  });

  test('a bath without a reading is no check point', () => {
    expect(missingReading(probes, { kind: 'ice' })).toEqual(['one reading']);
    expect(missingReading(probes, { kind: 'ice', readings: { c1: { 0: { reading_C: 0 } } } })).toEqual([]);
  });
});
