import { dutyPresets } from '@soakbench/core/life';
import type { DutyYear } from '@soakbench/core/records';
import { describe, expect, test } from 'vitest';
import { dutyOfForm, formOfDuty, hoursWords } from './present-duty.js';
import { habitsChange, habitsOf, habitsWords, isSame } from './present-habits.js';

const full: DutyYear = {
  origin: 'entered',
  activities: [{ id: 'load', name: 'recording', h_per_day: 4, use_W: 3.9 }],
  days_per_week: 5,
  charging: { habit: 'docked', limit: 0.9, lowest: 0.1, unplugAtFull: true, whileInUse: true, charge_W: 10 },
  storage: { weeks_per_year: 6, charge: 0.5, room_C: 15 },
  room: { monthly_C: [18, 18, 19, 20, 22, 25, 27, 27, 24, 21, 19, 18], swing_K: 6 },
  note: 'mine',
};

describe('a duty as a form', () => {
  test.each([
    ['one with everything', full],
    ...dutyPresets.map(({ id, duty }) => [id, duty] as const),
  ] as const)('%s comes back as it was when nothing was changed', (_, duty) => {
    const { origin: __, ...same } = dutyOfForm(formOfDuty(duty), duty);
    const { origin: ___, ...was } = duty;
    expect(same).toEqual(was);
  });

  test('keeps months entered one by one until its own figures of the room change', () => {
    const form = formOfDuty(full);
    expect(form['summer_K']).toBe(9);
    expect(dutyOfForm({ ...form, habit: 'overnight' }, full).room.monthly_C).toBe(full.room.monthly_C);
    const { monthly_C } = dutyOfForm({ ...form, room_C: 20, summer_K: 10 }, full).room;
    // Warmest in July and coldest in January, ten kelvins apart, about the mean of the year.
    expect(monthly_C).toHaveLength(12);
    expect((monthly_C[6] ?? 0) - (monthly_C[0] ?? 0)).toBeCloseTo(10, 9);
    expect(monthly_C.reduce((sum, value) => sum + value, 0) / 12).toBeCloseTo(20, 2);
    expect(dutyOfForm({ ...form, room_C: 20, summer_K: undefined }, full).room.monthly_C).toEqual([20]);
  });

  test('a limit in per cent takes the place of one in volts, and only then', () => {
    const byVoltage: DutyYear = { ...full, charging: { habit: 'docked', limit_V: 4.1 } };
    const form = formOfDuty(byVoltage);
    expect(dutyOfForm(form, byVoltage).charging).toEqual({ habit: 'docked', limit_V: 4.1 });
    expect(dutyOfForm({ ...form, limit: 80 }, byVoltage).charging).toEqual({ habit: 'docked', limit: 0.8 });
  });

  test('a shelf is left out again', () => {
    const { stored: _, ...form } = formOfDuty(full);
    expect(dutyOfForm(form, full).storage).toBeUndefined();
  });

  test('says what the hours come to', () => {
    expect(hoursWords(full)).toMatch(/^4 of 24 hours/);
    const [activity] = full.activities;
    if (!activity) throw new Error('There is no activity.');
    expect(hoursWords({ ...full, activities: [{ ...activity, h_per_day: 24 }, activity] })).toMatch(
      /28 hours/,
    );
  });
});

describe('habits to drag', () => {
  test('begin as it is, and are told apart from it', () => {
    const asItIs = habitsOf(full, 0.9);
    expect(asItIs).toEqual({ limit: 0.9, room_K: 0, hours: 1, unplugAtFull: true });
    expect(isSame(asItIs, { ...asItIs })).toBe(true);
    for (const other of [{ limit: 0.8 }, { room_K: -5 }, { hours: 0.5 }, { unplugAtFull: false }])
      expect(isSame(asItIs, { ...asItIs, ...other })).toBe(false);
    expect(habitsChange({ ...asItIs, hours: 0.5 })).toMatchObject({ hours: 0.5, limit: 0.9 });
  });

  test('speak of kelvins and factors', () => {
    expect(habitsWords.room(-5)).toBe('5.0 K cooler');
    expect(habitsWords.room(2.5)).toBe('2.5 K warmer');
    expect([habitsWords.room(0), habitsWords.hours(1)]).toEqual(['as it is', 'as they are']);
    expect(habitsWords.hours(0.5)).toBe('0.50 times');
  });
});
