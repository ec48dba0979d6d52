import type { DutyYear } from '../../records/index.js';

/** One change of habits as a person sets it; what is absent stays as it is. */
export interface DutyChange {
  /** Where charging stops, as a share of a full charge. */
  readonly limit?: number;
  readonly unplugAtFull?: boolean;
  /** Warmer room, K; cooler where negative. */
  readonly room_K?: number;
  /** Factor of the hours of use, as far as the day has them. */
  readonly hours?: number;
}

/** A duty with other habits: hours stretched no further than the day has them, the room no colder or warmer than rooms are. */
export function changeDuty(duty: DutyYear, { limit, unplugAtFull, room_K, hours }: DutyChange): DutyYear {
  const { limit_V, ...charging } = duty.charging;
  const total = duty.activities.reduce((sum, { h_per_day }) => sum + h_per_day, 0);
  const factor = Math.min(hours ?? 1, total > 0 ? 24 / total : 1);
  const shift = (mean_C: number) => Math.min(60, Math.max(-40, mean_C + (room_K ?? 0)));
  return {
    ...duty,
    activities: duty.activities.map((each) => ({ ...each, h_per_day: each.h_per_day * factor })),
    charging: {
      ...charging,
      ...(limit === undefined ? (limit_V === undefined ? {} : { limit_V }) : { limit }),
      ...(unplugAtFull === undefined ? {} : { unplugAtFull }),
    },
    room: { ...duty.room, monthly_C: duty.room.monthly_C.map(shift) as [number] },
  };
}
