import { describe, expect, test } from 'vitest';
import type { Build, Pack } from '../../records/index.js';
import { findPackPowers, heatOf } from './pack-power.js';

const pack: Pack = {
  name: 'pack',
  chemistry: 'lithium cobalt oxide',
  series: 2,
  parallel: 2,
  nominal_V: 7.4,
  energy_Wh: 40,
  resistance_mohm: 60,
};
const build = (change: Partial<Pack> = {}, charge_W?: number): Pick<Build, 'newPack' | 'dutyYear'> => ({
  newPack: { ...pack, ...change },
  ...(charge_W === undefined
    ? {}
    : {
        dutyYear: {
          activities: [],
          charging: { habit: 'overnight', charge_W },
          room: { monthly_C: [20] },
        },
      }),
});
const charged = [
  { charging: true, pack_A: 2 },
  { charging: false, pack_A: null },
];

describe('heat of the pack’s own current', () => {
  test('on charge is current squared times resistance less what the reactions take up', () => {
    const { charge, discharge, notes } = findPackPowers(build(), charged);
    // By hand: 2² x 0.06 = 0.24 W. Between 20 and 90 % the mean of [AI-20]'s entropy is -0.2635 mV/K: 2 cells x 2 A x 308.15 K x it = -0.3248 W.
    expect(charge?.value_W).toBeCloseTo(0.24 - 0.3248, 3);
    // Spread of that entropy over the charge 0.1177, of another cell 0.2 mV/K: 0.2860 W of doubt; the resistance 0.072, the current (0.48 - 0.3248) x 0.1.
    expect(charge?.unknown.spread).toBeCloseTo(Math.hypot(0.072, 0.0155, 0.286), 2);
    expect(discharge).toBeNull();
    expect(notes.join(' ')).toContain('by the pack’s resistance at 2.0 A');
  });

  test('may be below zero, and its factor adds to it instead of scaling it', () => {
    const { charge } = findPackPowers(build(), charged);
    if (charge === null) throw new Error('no charge');
    expect(charge.value_W).toBeLessThan(0);
    expect(heatOf(charge, 1)).toBe(charge.value_W);
    expect(heatOf(charge, Math.exp(0.3))).toBeCloseTo(charge.value_W + 0.3, 12);
  });

  test('on discharge both parts warm, and only where the current was noted', () => {
    const { discharge } = findPackPowers(build(), [{ charging: false, pack_A: 2 }]);
    expect(discharge?.value_W).toBeCloseTo(0.24 + 0.3248, 3);
    const without = findPackPowers(build({ resistance_mohm: undefined }), [{ charging: false, pack_A: 2 }]);
    expect(without.discharge).toBeNull();
    expect(without.notes.join(' ')).toContain('its resistance is not');
  });

  test('of a charge nobody soaked comes from the charger’s power, wider, and says that nothing measured stands behind it', () => {
    const { charge, notes } = findPackPowers(build({}, 14.8), []);
    const noted = findPackPowers(build(), charged).charge;
    expect(charge?.value_W).toBeCloseTo(noted?.value_W ?? Number.NaN, 9);
    expect(charge?.unknown.spread).toBeGreaterThan(noted?.unknown.spread ?? Number.NaN);
    expect(notes.join(' ')).toContain('no run was charged');
  });

  test('of a chemistry whose entropy is not known is the resistance’s alone, with the reactions as doubt', () => {
    for (const chemistry of ['LFP', undefined, 'lithium nickel manganese cobalt oxide']) {
      const { charge } = findPackPowers(build({ chemistry }), charged);
      expect(charge?.value_W).toBeCloseTo(0.24, 12);
      // 2 cells x 2 A x 308.15 K x 0.3 mV/K = 0.3698 W.
      expect(charge?.unknown.spread).toBeCloseTo(Math.hypot(0.3698, 0.072, 0.048), 3);
    }
  });

  test('without a resistance is a usual share of a usual charge, known to a factor of two; without a charge it is none', () => {
    const bare = build({ resistance_mohm: undefined });
    const { charge, notes } = findPackPowers(bare, [{ charging: true, pack_A: null }]);
    expect(charge?.value_W).toBeCloseTo(0.03 * 0.5 * 40, 12);
    expect(charge?.unknown.adds).toBeUndefined();
    expect(heatOf(charge as NonNullable<typeof charge>, 2)).toBeCloseTo(1.2, 12);
    expect(notes.join(' ')).toContain('usual share');
    expect(findPackPowers(bare, []).charge).toBeNull();
  });
});
