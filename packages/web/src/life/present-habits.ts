import type { DutyChange } from '@soakbench/core/life';
import { formatNumber } from '@soakbench/core/measure';
import type { DutyYear } from '@soakbench/core/records';

/** What can be dragged: a charge limit as a share, kelvins of the room, a factor of the hours. */
export interface Habits {
  readonly limit: number;
  readonly room_K: number;
  readonly hours: number;
  readonly unplugAtFull: boolean;
}

export function habitsOf(duty: DutyYear, limit: number): Habits {
  return { limit, room_K: 0, hours: 1, unplugAtFull: duty.charging.unplugAtFull === true };
}

/** Closer than a slider's step is the same. */
const same = 1e-6;

export function isSame(one: Habits, other: Habits): boolean {
  return (
    Math.abs(one.limit - other.limit) < same &&
    Math.abs(one.room_K - other.room_K) < same &&
    Math.abs(one.hours - other.hours) < same &&
    one.unplugAtFull === other.unplugAtFull
  );
}

export function habitsChange({ limit, room_K, hours, unplugAtFull }: Habits): DutyChange {
  return { limit, room_K, hours, unplugAtFull };
}

export const habitsWords = {
  room: (room_K: number) =>
    Math.abs(room_K) < same
      ? 'as it is'
      : `${formatNumber(Math.abs(room_K), 1)} K ${room_K < 0 ? 'cooler' : 'warmer'}`,
  hours: (hours: number) => (Math.abs(hours - 1) < same ? 'as they are' : `${formatNumber(hours, 2)} times`),
};
