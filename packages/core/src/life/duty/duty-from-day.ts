import { OutOfRangeError } from '../../measure/index.js';
import type { Duty, DutyYear } from '../../records/index.js';

/** A year made of one ordinary day, and what had to be taken for granted. */
export interface DayAsYear {
  readonly duty: DutyYear;
  /** How much warmer (or cooler) than the room in use it is where the device lies switched off: the rise "rest" is to be given. */
  readonly rest_K: number;
  readonly assumed: readonly string[];
}

/**
 * A year of the ordinary day that a build states for its bracket: a first duty for a forecast, to be corrected.
 *
 * That day knows no power, charging habit or season. Powers are passed in; it is charged overnight to the full, and every day is alike.
 *
 * @param use drawn from the pack under load and idle, W, as measured at the bench
 */
export function dutyYearFromDay(
  day: Duty,
  use: { readonly load_W: number; readonly idle_W: number },
): DayAsYear {
  for (const [name, power_W] of Object.entries(use)) {
    if (!(power_W >= 0 && power_W <= 1000))
      throw new OutOfRangeError(name, power_W, [0, 1000], 'Is it in watts?');
  }
  return {
    duty: {
      origin: 'entered',
      activities: [
        { id: 'load', name: 'under load', h_per_day: day.load_h_per_day, use_W: use.load_W },
        { id: 'idle', name: 'idle', h_per_day: day.idle_h_per_day, use_W: use.idle_W },
      ],
      charging: { habit: 'overnight' },
      room: { monthly_C: [day.ambient_C] },
    },
    rest_K: day.rest_C - day.ambient_C,
    assumed: [
      'It is charged every night, to the full.',
      `Every day of the year is alike, in a room at ${day.ambient_C} °C.`,
      'While it charges, and lies full on the charger, it is in the room it is used in.',
    ],
  };
}
