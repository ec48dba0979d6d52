/** Part of a day, within one hour, and which activity it belongs to; null while the device is not in use. */
export interface DayPart {
  readonly from_h: number;
  readonly to_h: number;
  readonly activity: number | null;
}

/** When a day of use is over and the night on the charger begins, and when it ends. @assumed common practice, no source */
export const bedtime_h = 22;
const morning_h = 7;

export function isNight(hour: number): boolean {
  return hour >= bedtime_h || hour < morning_h;
}

/**
 * The course of a day of use: activities one after the other up to bedtime, the rest before and after.
 *
 * When in the day it is used matters little: over a swing of 8 K in the room it moves a cell by some kelvins for some hours.
 */
export function planDay(activities: readonly { readonly h_per_day: number }[]): readonly DayPart[] {
  const total = activities.reduce((sum, { h_per_day }) => sum + h_per_day, 0);
  let hour = total <= bedtime_h ? bedtime_h - total : 24 - total;
  const parts: DayPart[] = [];
  const add = (from: number, to: number, activity: number | null) => {
    for (let at = from; at < to - 1e-9; ) {
      const next = Math.min(to, Math.floor(at + 1e-9) + 1);
      parts.push({ from_h: at, to_h: next, activity });
      at = next;
    }
  };
  add(0, hour, null);
  for (const [activity, { h_per_day }] of activities.entries()) {
    add(hour, hour + h_per_day, activity);
    hour += h_per_day;
  }
  add(hour, 24, null);
  return parts;
}
