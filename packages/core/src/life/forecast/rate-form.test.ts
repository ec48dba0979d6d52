import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { DutyYear } from '../../records/index.js';
import { condenseYear } from '../duty/condense-year.js';
import { layOutYear } from '../duty/lay-out-year.js';
import {
  type AgeingMechanism,
  arrhenius,
  lossAfter,
  powerLaw,
  type RestState,
} from '../models/ageing-model.js';
import { modelFamily } from '../models/model-family.js';
import { schmalstieg2014 } from '../models/schmalstieg-2014.js';
import { wang2014 } from '../models/wang-2014.js';
import { openCircuitOf } from '../open-circuit/open-circuit.js';
import { ageHourByHour, ageInState } from './age-over-year.js';
import { ageAtRise, foldSurface } from './ageing.kernel.js';
import { tabulateRates } from './rate-table.js';

const at = (t_C: number, cell_V = 3.9, charge = 0.7): RestState => ({ temp_K: t_C + 273.15, charge, cell_V });
function first<T>(items: readonly T[]): T {
  const item = items[0];
  if (item === undefined) throw new Error('empty');
  return item;
}
const published: AgeingMechanism = first(schmalstieg2014.capacity);
const nominal = { more_J_per_mol: 0, pivot_K: 298.15 };

/** Loss after stretches of days at different states, as the room adds them up. */
const through = (state: AgeingMechanism, stretches: readonly (readonly [RestState, number])[]) =>
  state.lossAt(stretches.reduce((age, [rest, days]) => age + days * (state.agePerDay?.(rest) ?? 0), 0));

describe('ageing under conditions that change', () => {
  // The law dq/dt = z k^(1/z) q^(1-1/z), stepped by virtual age in Python with R = 8.314; both orders end alike.
  test('40 °C for 100 days and 25 °C for 265, in either order', () => {
    const state = first(wang2014.capacity);
    const warm = [at(40), 100] as const;
    const cool = [at(25), 265] as const;
    expect(100 * through(state, [warm])).toBeCloseTo(12.1798831, 6);
    expect(100 * through(state, [cool])).toBeCloseTo(12.34968772, 6);
    expect(100 * through(state, [warm, cool])).toBeCloseTo(17.34544145, 6);
    expect(100 * through(state, [cool, warm])).toBeCloseTo(17.34544145, 6);
    // What it must not be: losses added, a mean temperature, a mean of k.
    for (const wrong of [24.52957, 16.57832, 16.89807])
      expect(Math.abs(100 * through(state, [warm, cool]) - wrong)).toBeGreaterThan(0.4);
    // The temperature that would have done the same all year is above the mean one, 29.11 °C.
    expect(100 * lossAfter(state, at(30.51852), 365)).toBeCloseTo(17.34544, 4);
    expect(
      through(published, [
        [at(40, 3.9), 100],
        [at(25, 3.9), 265],
      ]),
    ).toBeCloseTo(0.0537882, 7);
  });

  test('agrees to 1e-6 with the rate law integrated in time, and with the closed form', () => {
    const days = 400;
    const k = (day: number) => published.agePerDay?.(at(25 + 15 * Math.sin(day / 20), 4)) ?? 0;
    // dq/dt with z = 0.75, from the exact start of a short first stretch, by fourth-order Runge-Kutta.
    const z = 0.75;
    const slope = (day: number, q: number) => z * k(day) * q ** (1 - 1 / z);
    const step = 0.05;
    let q = published.lossAt(0.5 * (k(0) + k(0.5)) * 0.5);
    for (let day = 0.5; day < days - 1e-9; day += step) {
      const a = slope(day, q);
      const b = slope(day + step / 2, q + (step / 2) * a);
      const c = slope(day + step / 2, q + (step / 2) * b);
      const d = slope(day + step, q + step * c);
      q += (step / 6) * (a + 2 * b + 2 * c + d);
    }
    let age = 0.5 * (k(0) + k(0.5)) * 0.5;
    for (let day = 0.5; day < days - 1e-9; day += step)
      age += (step / 6) * (k(day) + 4 * k(day + step / 2) + k(day + step));
    expect(Math.abs(published.lossAt(age) / q - 1)).toBeLessThan(1e-6);
    const constant = (published.agePerDay?.(at(35, 4)) ?? 0) ** z * days ** z;
    expect(Math.abs(lossAfter(published, at(35, 4), days) / constant - 1)).toBeLessThan(1e-12);
  });

  test('splitting a stretch, and the order of stretches, change nothing', () => {
    const stretch = fc.tuple(
      fc.double({ min: 0, max: 60, noNaN: true }),
      fc.double({ min: 0.01, max: 100, noNaN: true }),
    );
    fc.assert(
      fc.property(
        fc.array(stretch, { minLength: 1, maxLength: 8 }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        (stretches, part) => {
          const whole = stretches.map(([t_C, days]) => [at(t_C), days] as const);
          const split = whole.flatMap(([rest, days]) => [
            [rest, part * days] as const,
            [rest, (1 - part) * days] as const,
          ]);
          const loss = through(published, whole);
          // Sums of a few doubles in another order.
          expect(Math.abs(through(published, split) / loss - 1)).toBeLessThan(1e-12);
          expect(Math.abs(through(published, [...whole].reverse()) / loss - 1)).toBeLessThan(1e-12);
        },
      ),
    );
  });

  // Two years at rest at 4.0 V and 0.6 full cycles a day about 3.85 V to depth 0.6, of 2.05 Ah, worked out outside in daily steps.
  test.each([
    { t_C: 45, calendar: 0.270701, left: 0.582901 },
    { t_C: 35, calendar: 0.132881, left: 0.720721 },
    { t_C: 25, calendar: 0.062188, left: 0.791414 },
  ])('calendar and cycle losses add up as states of their own, at $t_C °C', ({ t_C, calendar, left }) => {
    const [rest, cycling] = schmalstieg2014.capacity;
    const cycle = { ...at(t_C, 3.85), depth: 0.6, rate: 1 };
    const resting = rest ? lossAfter(rest, at(t_C, 4), 730) : 0;
    const cycled = cycling ? cycling.lossAt(730 * (cycling.agePerCycle?.(cycle) ?? 0)) : 0;
    expect(resting).toBeCloseTo(calendar, 6);
    expect(cycled).toBeCloseTo(0.146398, 6);
    expect(1 - resting - cycled).toBeCloseTo(left, 6);
  });

  // A year at 4.0 V with 200 full cycles to depth 0.8 about 3.75 V: SOH and resistance, closed form, worked out outside.
  test('and so do their gains of resistance', () => {
    for (const [t_C, soh, resistance] of [
      [40, 0.76988265, 1.36961201],
      [30, 0.82890621, 1.2768073],
    ] as const) {
      const cycle = { ...at(t_C, 3.75), depth: 0.8, rate: 1 };
      const total = (states: readonly AgeingMechanism[]) =>
        states.reduce(
          (sum, state) =>
            sum +
            lossAfter(state, at(t_C, 4), 365) +
            (state.agePerCycle ? state.lossAt((200 / 0.8) * state.agePerCycle(cycle)) : 0),
          0,
        );
      expect(1 - total(schmalstieg2014.capacity)).toBeCloseTo(soh, 7);
      expect(1 + total(schmalstieg2014.resistance)).toBeCloseTo(resistance, 7);
    }
  });
});

test('doubt about the energy moves an age by the Arrhenius factor about its pivot, and leaves it there', () => {
  const year = condenseYear(
    layOutYear(
      {
        activities: [{ id: 'use', name: 'use', h_per_day: 24, use_W: 0 }],
        charging: { habit: 'docked' },
        room: { monthly_C: [25] },
      },
      100,
    ),
    openCircuitOf('LCO'),
  );
  const use = year.states.indexOf('use');
  const of = (more_J_per_mol: number, rise_K: number) =>
    ageInState(published, year, use, rise_K, { more_J_per_mol, pivot_K: 308.15 });
  // exp(-E/R (1/318.15 - 1/308.15)) for 8 kJ/mol and R = 8.314: 1.10313; worked out outside.
  expect(of(8000, 20) / of(0, 20)).toBeCloseTo(1.10313, 5);
  expect(of(8000, 10) / of(0, 10)).toBeCloseTo(1, 12);
});

const duty = (hours: number, room: DutyYear['room']): DutyYear => ({
  activities: [{ id: 'use', name: 'use', h_per_day: hours, use_W: 3 }],
  charging: { habit: 'overnight', lowest: 0.05 },
  room,
});

describe('a cooler pack, hot only part of the day', () => {
  // The law of [WANG-14] with 8 h a day hot and 16 h at 25 °C, k² averaged over the day, worked out outside.
  test.each([
    { hot_C: 45, loss: 19.561651, days: 381.542 },
    { hot_C: 40, loss: 17.903547, days: 455.486 },
    { hot_C: 35, loss: 16.523899, days: 534.722 },
    { hot_C: 30, loss: 15.396709, days: 615.881 },
  ])('8 h a day at $hot_C °C: $loss % after a year, a fifth after $days days', ({ hot_C, loss, days }) => {
    const state = first(wang2014.capacity);
    const day = (count: number) =>
      through(state, [
        [at(hot_C), count / 3],
        [at(25), (2 * count) / 3],
      ]);
    expect(100 * day(365)).toBeCloseTo(loss, 6);
    expect(100 * day(days)).toBeCloseTo(20, 4);
  });

  // G = (h A(25→45) + 24 - h) / (h A(25→35) + 24 - h), A with the energy of life, worked out outside with R = 8.314.
  test.each([
    { kJ: 35, hours: 1, gain: 1.0345 },
    { kJ: 50, hours: 4, gain: 1.23532 },
    { kJ: 50, hours: 8, gain: 1.41522 },
    { kJ: 60, hours: 12, gain: 1.74718 },
    { kJ: 80, hours: 2, gain: 1.34333 },
    { kJ: 50, hours: 24, gain: 1.84676 },
  ])('$kJ kJ/mol, hot for $hours h: 10 K buy × $gain', ({ kJ, hours, gain }) => {
    const law = powerLaw(0.5, {
      perDay: ({ temp_K }) => 0.003 * arrhenius(500 * kJ, temp_K, 298.15),
      knowsTemperature: true,
    });
    const year = condenseYear(layOutYear(duty(hours, { monthly_C: [25] }), 100), openCircuitOf('LCO'));
    const ageWith = (use_K: number) =>
      year.states.reduce(
        (sum, state, i) => sum + ageInState(law, year, i, state === 'use' ? use_K : 0, nominal),
        0,
      );
    // Life is one over the age of a year; the table has six digits.
    expect(Math.abs(ageWith(20) / ageWith(10) / gain - 1)).toBeLessThan(1e-5);
  });
});

describe('the quick ways against the plain sum over hours', () => {
  const year = layOutYear(
    {
      ...duty(4.3, {
        monthly_C: [3, 5, 9, 13, 18, 23, 26, 25, 20, 14, 8, 4],
        swing_K: 9,
      }),
      charging: { habit: 'when-low', limit: 0.9, lowest: 0.15 },
    },
    38,
  );
  const curve = openCircuitOf('LCO');
  const condensed = condenseYear(year, curve);
  const rises_K = year.states.map((state) => ({ use: 22.4, charging: 7, docked: 3 })[state] ?? 0);
  const members = [...modelFamily('LCO', 1), ...modelFamily('LFP', 1)];

  test('hours and cycles put together where they are alike: an age within 1e-4', () => {
    for (const { model, capacity } of members) {
      for (const mechanism of capacity) {
        const plain = ageHourByHour(mechanism, year, curve, rises_K);
        const quick = rises_K.reduce(
          (sum, rise_K, state) => sum + ageInState(mechanism, condensed, state, rise_K, nominal),
          0,
        );
        expect(Math.abs(quick / plain - 1), model.id).toBeLessThan(1e-4);
      }
    }
  });

  test('the table over rise and energy: within 1e-6 over 60 K and 4 standard deviations', () => {
    const box = { rise_K: [-10, 50], shift_J_per_mol: 20_000 } as const;
    const use = year.states.indexOf('use');
    for (const member of members) {
      const { surfaces } = tabulateRates(member, condensed, box);
      for (const [m, mechanism] of member.capacity.entries()) {
        const surface = surfaces[m]?.[use];
        if (!surface) throw new Error(member.model.id);
        for (const u of [-0.97, -0.31, 0.2, 0.88]) {
          for (const v of [-0.9, 0, 0.45]) {
            const folded = new Float64Array(16);
            foldSurface(surface.coefficients, surface.nu, surface.nv, v, folded, 0);
            const plain = ageInState(mechanism, condensed, use, 20 + 30 * u, {
              more_J_per_mol: 20_000 * v,
              pivot_K: member.model.pivot_C + 273.15,
            });
            expect(Math.abs(ageAtRise(folded, 0, surface.nu, u) / plain - 1), member.model.id).toBeLessThan(
              1e-6,
            );
          }
        }
      }
    }
  });
});
