import { buildSchema } from '@soakbench/core/records';
import { describe, expect, test } from 'vitest';
import { missingFields, type Rec, writePath } from '../parts/record-spec.js';
import { adjustProbe, probeGroups } from './probe-specs.js';

const start: Rec = { id: 'c1', name: 'C1', place: 'cell' };
const probe = buildSchema.shape.probes.element;

/** Fills the form as the page does, field by field. */
function fill(form: Rec, ...entries: readonly (readonly [string, unknown])[]): Rec {
  return entries.reduce((one, [key, value]) => adjustProbe(writePath(one, key, value), key), form);
}
const missing = (form: Rec) => missingFields(probeGroups([], form), form);

describe('the sensor of a probe', () => {
  test('asks for what its kind needs, and is a record once that is there', () => {
    const begun = fill(start, ['sensor.kind', 'thermocouple']);
    expect(missing(begun)).toEqual(['type']);
    const whole = fill(begun, ['sensor.type', 'K'], ['sensor.coldJunction.kind', 'fixed']);
    expect(missing(whole)).toEqual(['terminals at']);
    const kept = fill(whole, ['sensor.coldJunction.fixed_C', 23.5]);
    expect(missing(kept)).toEqual([]);
    expect(probe.parse(kept).sensor).toEqual({
      kind: 'thermocouple',
      type: 'K',
      coldJunction: { kind: 'fixed', fixed_C: 23.5 },
    });
  });

  test.each([
    [
      ['sensor.kind', 'platinum'],
      ['sensor.element', 'Pt100'],
      ['sensor.lead_ohm', 0.8],
    ],
    [
      ['sensor.kind', 'ntc-beta'],
      ['sensor.r25_ohm', 10_000],
      ['sensor.beta_K', 3435],
    ],
    [
      ['sensor.kind', 'ntc-coefficients'],
      ['sensor.k0_per_K', 8.8e-4],
      ['sensor.k1_per_K', 2.5e-4],
    ],
    [
      ['sensor.kind', 'ntc-table'],
      [
        'sensor.rows',
        [
          { at_C: 25, resistance_ohm: 10_000 },
          { at_C: 60, resistance_ohm: 3020 },
        ],
      ],
    ],
  ] as const)('of %j fits the schema', (...entries) => {
    const kept = fill(start, ...entries);
    expect(missing(kept)).toEqual([]);
    expect(probe.safeParse(kept).error).toBeUndefined();
  });

  test('of another kind begins without the facts of the one before, and none leaves none', () => {
    const k = fill(start, ['sensor.kind', 'thermocouple'], ['sensor.type', 'K']);
    expect(fill(k, ['sensor.kind', 'platinum'])['sensor']).toEqual({ kind: 'platinum' });
    expect(fill(k, ['sensor.kind', undefined])).toEqual(start);
    const fixed = fill(k, ['sensor.coldJunction.kind', 'fixed'], ['sensor.coldJunction.fixed_C', 20]);
    expect(fill(fixed, ['sensor.coldJunction.kind', 'logged'])['sensor']).toEqual({
      kind: 'thermocouple',
      type: 'K',
      coldJunction: { kind: 'logged' },
    });
    expect(fill(fixed, ['sensor.coldJunction.kind', undefined])['sensor']).toEqual({
      kind: 'thermocouple',
      type: 'K',
    });
  });
});
