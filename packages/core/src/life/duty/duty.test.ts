import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { DutyYear } from '../../records/index.js';
import { openCircuitOf } from '../open-circuit/open-circuit.js';
import { condenseYear } from './condense-year.js';
import { dutyYearFromDay } from './duty-from-day.js';
import { dutyFromLog } from './duty-from-log.js';
import { dutyPresets } from './duty-presets.js';
import { followYear } from './follow-year.js';
import { layOutYear } from './lay-out-year.js';

const plain: DutyYear = {
  activities: [
    { id: 'play', name: 'playing', h_per_day: 3, use_W: 8 },
    { id: 'read', name: 'reading', h_per_day: 1.5, use_W: 2 },
  ],
  charging: { habit: 'overnight', limit: 0.9, lowest: 0.1 },
  room: { monthly_C: [18, 18, 19, 20, 22, 25, 27, 27, 24, 21, 19, 18], swing_K: 6 },
};
const hoursIn = (year: ReturnType<typeof layOutYear>, state: string) =>
  year.stretches
    .filter((stretch) => year.states[stretch.state] === state)
    .reduce((sum, { hours }) => sum + hours, 0);

describe('a year of use', () => {
  test('has 8760 hours, spends each activity’s own in it, and draws what the activities ask for', () => {
    const year = layOutYear(plain, 40);
    expect(year.stretches.reduce((sum, { hours }) => sum + hours, 0)).toBeCloseTo(8760, 6);
    expect(hoursIn(year, 'play')).toBeCloseTo(3 * 365, 6);
    expect(hoursIn(year, 'read')).toBeCloseTo(1.5 * 365, 6);
    expect(year.drawn_Wh).toBeCloseTo(365 * 27, 3);
    expect(year.short_h).toBe(0);
  });

  // 365 × Wh a day over rated Wh, worked outside: 20 Wh on 38 is 192.10526 full cycles a year; 8 W × 3 h on 38.5 Wh 227.53247.
  test.each([
    { use_W: 20, hours: 1, energy_Wh: 38, cycles: 192.10526 },
    { use_W: 8, hours: 3, energy_Wh: 38.5, cycles: 227.53247 },
    { use_W: 15, hours: 2, energy_Wh: 38.5, cycles: 284.41558 },
    { use_W: 12, hours: 4, energy_Wh: 77, cycles: 227.53247 },
  ])('$use_W W for $hours h on $energy_Wh Wh: $cycles full cycles', ({ use_W, hours, energy_Wh, cycles }) => {
    const duty: DutyYear = {
      ...plain,
      activities: [{ id: 'use', name: 'use', h_per_day: hours, use_W }],
      charging: { habit: 'overnight', lowest: 0.02 },
    };
    const year = condenseYear(layOutYear(duty, energy_Wh), openCircuitOf('LCO'));
    expect(year.fullCycles).toBeCloseTo(cycles, 4);
    const counted = year.cycles.reduce((sum, { depth, count }) => sum + depth * count, 0);
    // Rainflow counts each way up and each way down half; the first morning begins full, hence up to half a day's cycle is missing.
    expect(Math.abs(counted - cycles)).toBeLessThan(0.6);
  });

  test('a docked device is held at its limit; unplugged at full it rests there instead', () => {
    const docked = layOutYear({ ...plain, charging: { habit: 'docked', limit: 0.8 } }, 40);
    expect(Math.max(...docked.stretches.map(({ charge }) => charge))).toBeCloseTo(0.8, 12);
    expect(hoursIn(docked, 'docked')).toBeGreaterThan(365 * 15);
    const off = layOutYear({ ...plain, charging: { habit: 'docked', limit: 0.8, unplugAtFull: true } }, 40);
    expect(hoursIn(off, 'docked')).toBe(0);
    expect(hoursIn(off, 'rest')).toBeGreaterThan(365 * 15);
  });

  test('on the charger during use the pack does not cycle', () => {
    const year = layOutYear({ ...plain, charging: { habit: 'docked', whileInUse: true } }, 40);
    expect(year.drawn_Wh).toBe(0);
    expect(condenseYear(year, openCircuitOf('LCO')).cycles).toHaveLength(0);
  });

  test('one who charges when it is low cycles deeper and less often for the same energy', () => {
    const small = { ...plain, activities: [{ id: 'use', name: 'use', h_per_day: 1, use_W: 4 }] };
    const nightly = condenseYear(layOutYear(small, 40), openCircuitOf('LCO'));
    const seldom = condenseYear(
      layOutYear({ ...small, charging: { ...plain.charging, habit: 'when-low' } }, 40),
      openCircuitOf('LCO'),
    );
    const deepest = (year: typeof nightly) => Math.max(...year.cycles.map(({ depth }) => depth));
    expect(deepest(nightly)).toBeCloseTo(0.1, 6);
    expect(deepest(seldom)).toBeGreaterThan(0.65);
    expect(Math.abs(seldom.fullCycles - nightly.fullCycles)).toBeLessThan(1e-6);
  });

  test('an empty pack draws no more, and the missing hours are counted', () => {
    const year = layOutYear(plain, 20); // 27 Wh a day asked of 0.8 × 20
    expect(year.drawn_Wh).toBeCloseTo(365 * 16, 3);
    expect(year.short_h).toBeGreaterThan(365);
  });

  test('storage comes first, at its charge and in its room', () => {
    const year = layOutYear({ ...plain, storage: { weeks_per_year: 10, charge: 0.5, room_C: 15 } }, 40);
    expect(hoursIn(year, 'stored')).toBeCloseTo(70 * 24, 6);
    expect(year.stretches.slice(0, 24).every(({ charge, room_C }) => charge === 0.5 && room_C === 15)).toBe(
      true,
    );
  });

  test('the cell follows room and rise hour by hour', () => {
    const year = layOutYear(plain, 40);
    const rises = year.states.map((state) => (state === 'play' ? 15 : state === 'read' ? 5 : 0));
    const { room_C, cell_C, charge, rate } = followYear(year, rises);
    const mean = (values: Float64Array) => values.reduce((sum, v) => sum + v, 0) / values.length;
    // 3 h at 15 K and 1.5 h at 5 K a day.
    expect(mean(cell_C) - mean(room_C)).toBeCloseTo((3 * 15 + 1.5 * 5) / 24, 9);
    expect(Math.max(...charge)).toBeLessThanOrEqual(0.9 + 1e-12);
    expect(mean(rate.filter((v) => v > 0)) * rate.filter((v) => v > 0).length).toBeCloseTo(
      (365 * 27) / 40,
      4,
    );
  });

  test('a duty of more than 24 h a day is refused, with every fault at once', () => {
    const wrong: DutyYear = {
      ...plain,
      activities: [
        { id: 'play', name: 'a', h_per_day: 20, use_W: 1 },
        { id: 'docked', name: 'b', h_per_day: 5, use_W: 1 },
      ],
    };
    expect(() => layOutYear(wrong, 40)).toThrow(/25 hours a day[\s\S]*"docked" is taken/);
    expect(() => layOutYear(plain, 40, 0.05)).toThrow(/limit/);
    expect(() => layOutYear(plain, Number.NaN)).toThrow(/energy_Wh/);
  });

  test('whatever the hours and habits, charge stays between empty and full and every hour is counted once', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 14, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.constantFrom('docked' as const, 'overnight' as const, 'when-low' as const),
        fc.double({ min: 0.5, max: 1, noNaN: true }),
        fc.boolean(),
        (first, second, habit, limit, unplugAtFull) => {
          const year = layOutYear(
            {
              activities: [
                { id: 'a', name: 'a', h_per_day: first, use_W: 6 },
                { id: 'b', name: 'b', h_per_day: second, use_W: 1 },
              ],
              charging: { habit, limit, unplugAtFull, lowest: 0.1 },
              room: { monthly_C: [20] },
            },
            30,
          );
          expect(year.stretches.reduce((sum, { hours }) => sum + hours, 0)).toBeCloseTo(8760, 4);
          // One expectation for all: there are ten thousand stretches.
          const lowest = year.stretches.reduce((least, { charge }) => Math.min(least, charge), 1);
          const highest = year.stretches.reduce((most, { endCharge }) => Math.max(most, endCharge), 0);
          expect(lowest).toBeGreaterThanOrEqual(0.1 - 1e-9);
          expect(highest).toBeLessThanOrEqual(limit + 1e-9);
        },
      ),
      { numRuns: 20 },
    );
  });
});

test('an ordinary day becomes a year of such days', () => {
  const day = { load_h_per_day: 4, idle_h_per_day: 2, ambient_C: 25, rest_C: 22 };
  const { duty, rest_K, assumed } = dutyYearFromDay(day, { load_W: 5, idle_W: 1 });
  const year = layOutYear(duty, 38);
  expect(year.drawn_Wh).toBeCloseTo(365 * 22, 3);
  expect(hoursIn(year, 'load')).toBeCloseTo(4 * 365, 6);
  expect(rest_K).toBe(-3);
  expect(assumed).toHaveLength(3);
  expect(() => dutyYearFromDay(day, { load_W: -5, idle_W: 1 })).toThrow(/load_W/);
});

test('every preset lays out', () => {
  for (const { duty, rises_K } of dutyPresets) {
    const year = layOutYear(duty, 38);
    const used = new Set(year.stretches.map(({ state }) => year.states[state] ?? ''));
    for (const state of used) expect(rises_K, state).toHaveProperty(state);
  }
});

describe('a duty from a log', () => {
  const days = 7;
  const step_s = 300;
  const log = (() => {
    const year = layOutYear({ ...plain, activities: plain.activities.slice(0, 1) }, 40);
    const after_s: number[] = [];
    const charge: number[] = [];
    for (let i = 0; i <= (days * 86_400) / step_s; i++) {
      const day = (i * step_s) / 86_400;
      const stretch = year.stretches.findLast((each) => each.day <= day + 1e-9);
      if (!stretch) continue;
      const into = 24 * (day - stretch.day);
      after_s.push(i * step_s);
      charge.push(stretch.endCharge + stretch.rate * (stretch.hours - into));
    }
    return { after_s, charge };
  })();

  test('gives back the duty that it was made from', () => {
    const result = dutyFromLog(log, 40, plain.room, 0);
    if (!result.ok) throw new Error(result.reason.kind);
    const [use] = result.value.duty.activities;
    // A step of 5 minutes is missed at either end of a day's use.
    expect(Math.abs((use?.h_per_day ?? 0) - 3)).toBeLessThan(0.2);
    expect(Math.abs((use?.use_W ?? 0) - 8)).toBeLessThan(0.2);
    expect(result.value.duty.charging.limit).toBeCloseTo(0.9, 2);
    expect(result.value.duty.charging.lowest).toBeCloseTo(0.3, 2);
  });

  test('half a day is too short, and a log without power and charge is none', () => {
    const short = dutyFromLog({ after_s: log.after_s.slice(0, 100), charge: log.charge }, 40, plain.room);
    expect(short.ok ? '' : short.reason.kind).toBe('too-short');
    const none = dutyFromLog({ after_s: log.after_s }, 40, plain.room);
    expect(none.ok ? '' : none.reason.kind).toBe('no-column');
  });
});
