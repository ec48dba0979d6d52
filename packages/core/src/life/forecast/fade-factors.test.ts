import { describe, expect, test } from 'vitest';
import type { DutyYear } from '../../records/index.js';
import { condenseYear } from '../duty/condense-year.js';
import { layOutWorn } from '../duty/lay-out-worn.js';
import { layOutYear } from '../duty/lay-out-year.js';
import { type AgeingMechanism, type CycleState, powerLaw } from '../models/ageing-model.js';
import { naumannCycling } from '../models/naumann.js';
import { schmalstiegCycling } from '../models/schmalstieg-2014.js';
import { wang2011 } from '../models/wang-2011.js';
import { depthStress, xu2018 } from '../models/xu-2018.js';
import { fadeFactors } from './fade-factors.js';

/** Every day the same: four hours of 5 W from a pack of 50 Wh, which takes 0.4 of it when new; charged overnight. */
const duty: DutyYear = {
  activities: [{ id: 'use', name: 'use', h_per_day: 4, use_W: 5 }],
  charging: { habit: 'overnight', lowest: 0.05 },
  room: { monthly_C: [25] },
};
const depth = 0.4;
const flat = { voltageAt: () => 3.7 };
function factorsOf(mechanism: AgeingMechanism, of: DutyYear = duty, energy_Wh = 50) {
  const condensed = condenseYear(layOutYear(of, energy_Wh), flat);
  const worn = layOutWorn(of, energy_Wh, 1, flat);
  const factors = fadeFactors(
    mechanism,
    { condensed, worn },
    condensed.states.map(() => 10),
  );
  return (state: string, loss: number) => {
    const f = factors[condensed.states.indexOf(state)];
    if (!f) return Number.NaN;
    const x = loss / (1 - loss);
    return 1 + x * (f[0] + x * f[1]);
  };
}
const losses = [0, 0.05, 0.1, 0.15, 0.2];

describe('what fade does to wear by cycling', () => {
  // d Ah of a new cell are d/(1-L) of what is left, and d full equivalent cycles of the rated capacity all the same.
  test('a rate that is a straight line of the depth, counted in charge, as in [SCHMALSTIEG-14]', () => {
    const factor = factorsOf(schmalstiegCycling);
    const rate = (d: number) => 7.348e-3 * (3.7 - 3.667) ** 2 + 7.6e-4 + 4.081e-3 * d;
    for (const loss of losses)
      expect(factor('use', loss)).toBeCloseTo((rate(depth / (1 - loss)) / rate(depth)) ** 2, 9);
  });

  test('a cubic of the depth, counted in charge, as in [NAUMANN-20]: the parabola through three points of it', () => {
    const factor = factorsOf(naumannCycling);
    const rate = (d: number) => 4.0253 * (d - 0.6) ** 3 + 1.0923;
    for (const loss of losses) {
      const exact = (rate(depth / (1 - loss)) / rate(depth)) ** 2;
      // Its sixth power is met at 10 and 20 %, and bends little in between.
      expect(Math.abs(factor('use', loss) - exact)).toBeLessThan(
        loss === 0.05 || loss === 0.15 ? 5e-4 : 1e-9,
      );
    }
  });

  test('charge put through counts once, however worn the cell, as in [WANG-11]', () => {
    const [cycling] = wang2011.capacity;
    const factor = factorsOf(cycling as AgeingMechanism);
    for (const loss of losses) expect(factor('use', loss)).toBeCloseTo(1, 9);
  });

  test('cycles counted by their depth alone, as in [XU-18], with the lower charge that goes with it', () => {
    const [both] = xu2018.capacity;
    const cyclesOnly = { ...(both as AgeingMechanism), agePerDay: null };
    const factor = factorsOf(cyclesOnly);
    const stress = (d: number) => depthStress(d) * Math.exp(1.04 * (1 - d / 2 - 0.5));
    for (const loss of [0.1, 0.2])
      expect(factor('use', loss)).toBeCloseTo(stress(depth / (1 - loss)) / stress(depth), 9);
  });

  test('a current is what it was, over the rated capacity', () => {
    const seen: CycleState[] = [];
    factorsOf(
      powerLaw(0.5, {
        perFullCycle: (cycle) => {
          seen.push(cycle);
          return cycle.rate;
        },
        knowsTemperature: false,
      }),
    );
    for (const { rate } of seen) expect(rate).toBeCloseTo(0.1, 9);
    expect(new Set(seen.map(({ left }) => left))).toEqual(new Set([1, 0.9, 0.8]));
  });
});

test('what lies full on a charger ages no faster for having faded', () => {
  const kiosk: DutyYear = { activities: [], charging: { habit: 'docked' }, room: { monthly_C: [25] } };
  const full = powerLaw(0.5, { perDay: ({ charge }) => charge, knowsTemperature: true });
  for (const loss of losses) expect(factorsOf(full, kiosk)('docked', loss)).toBe(1);
});

test('in use it lies lower: the mean charge falls as the depth grows', () => {
  const lower = powerLaw(1, { perDay: ({ charge }) => charge, knowsTemperature: true });
  const factor = factorsOf(lower);
  for (const loss of losses)
    expect(factor('use', loss)).toBeCloseTo((1 - depth / 2 / (1 - loss)) / (1 - depth / 2), 9);
});

test('the charger stays the one it was: the hours of charging do not grow', () => {
  const hours = powerLaw(1, { perDay: () => 1, knowsTemperature: true });
  const factor = factorsOf(hours);
  for (const state of ['use', 'charging', 'docked', 'rest'])
    for (const loss of losses) expect(factor(state, loss)).toBeCloseTo(1, 6);
});

test('a worn pack that runs empty is cycled no deeper than it can be', () => {
  // 0.9 of the pack when new; at 80 % only 0.95 can be drawn, which is 0.76 of the rated capacity.
  const heavy = { ...duty, activities: [{ id: 'use', name: 'use', h_per_day: 9, use_W: 5 }] };
  const through = powerLaw(1, { perFullCycle: () => 1, knowsTemperature: false });
  // The year ends while it charges: the last of 365 cycles is cut off, at another depth in either.
  expect(Math.abs(factorsOf(through, heavy)('use', 0.2) - (0.95 * 0.8) / 0.9)).toBeLessThan(0.2 / 365);
});
