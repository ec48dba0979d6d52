import * as z from 'zod';

/**
 * How the device is used through a year: what a forecast in years needs. The short `duty` beside it stays what it is, an ordinary day
 * for the bracket between set-ups.
 */

/** Names that the charger and the shelf go by; no activity may take one. */
export const restingStates = ['charging', 'docked', 'rest', 'stored'] as const;

const share = z.number().min(0).max(1);
const room_C = z.number().min(-40).max(60);

const activity = z.looseObject({
  id: z.string().regex(/^[a-z0-9][a-z0-9-]{0,63}$/, 'must be lower-case letters, digits and hyphens'),
  name: z.string().trim().min(1, 'must not be empty').max(120),
  h_per_day: z.number().min(0).max(24),
  /** Drawn from the pack while it lasts. */
  use_W: z.number().min(0).max(1000),
});

const charging = z.looseObject({
  /**
   * `docked`: on the charger whenever it is not in use; `overnight`: from bedtime to morning, every night; `when-low`: a night on the
   * charger once the charge has come down to `lowest`.
   */
  habit: z.enum(['docked', 'overnight', 'when-low']),
  /** Where charging stops, as a share of a full charge; 1 where it is not stated. */
  limit: share.min(0.3, 'must be a charge limit, 0.3 to 1 of a full charge').optional(),
  /** The same as a voltage, per cell; it counts where both are given. */
  limit_V: z.number().min(2).max(5).optional(),
  /** Charge at which it is put on the charger, or switches off. */
  lowest: share.max(0.9).optional(),
  /** On the charger during use too: then the pack only keeps its charge. */
  whileInUse: z.boolean().optional(),
  /** Taken off the charger as soon as it is full. */
  unplugAtFull: z.boolean().optional(),
  charge_W: z.number().gt(0).max(1000).optional(),
});

export const dutyYear = z.looseObject({
  /** Where it comes from: typed in, one of the presets, or a log. */
  origin: z.enum(['entered', 'preset', 'log']).optional(),
  preset: z.string().max(60).optional(),
  activities: z.array(activity).max(20),
  days_per_week: z.number().int().min(0).max(7).optional(),
  charging,
  /** Weeks in which it lies on a shelf, switched off, at a charge. */
  storage: z
    .looseObject({
      weeks_per_year: z.number().min(0).max(52),
      charge: share,
      room_C: room_C.optional(),
    })
    .optional(),
  room: z.looseObject({
    /** Mean of each month, January first; one number for all of them is enough. */
    monthly_C: z.union([
      z.array(room_C).length(12, 'must hold twelve months, or one number for all of them'),
      z.array(room_C).length(1),
    ]),
    /** From the coldest to the warmest hour of a day. */
    swing_K: z.number().min(0).max(40).optional(),
  }),
  /** How far off the figures above may be, as standard uncertainties: the hours as a share of themselves, the room in kelvins. */
  doubt: z
    .looseObject({ hours: z.number().min(0).max(1).optional(), room_K: z.number().min(0).max(20).optional() })
    .optional(),
  note: z.string().max(4000).optional(),
});

export type DutyYear = z.infer<typeof dutyYear>;

/** What contradicts itself in a duty, beyond the form of its fields. */
export function dutyFaults(duty: DutyYear, where: string): { where: string; what: string; remedy: string }[] {
  const faults: { where: string; what: string; remedy: string }[] = [];
  const hours = duty.activities.reduce((sum, { h_per_day }) => sum + h_per_day, 0);
  if (hours > 24) {
    faults.push({
      where: `${where}.activities`,
      what: `The activities add up to ${Number(hours.toFixed(2))} hours a day.`,
      remedy: 'A day has 24 hours; the rest of it the device is charged or lies about.',
    });
  }
  const ids = new Set<string>(restingStates);
  for (const [i, { id }] of duty.activities.entries()) {
    if (ids.has(id)) {
      faults.push({
        where: `${where}.activities[${i}].id`,
        what: `"${id}" is taken.`,
        remedy: `Give each activity its own id, other than ${restingStates.join(', ')}.`,
      });
    }
    ids.add(id);
  }
  const { limit = 1, limit_V, lowest = 0 } = duty.charging;
  if (limit_V === undefined && limit <= lowest) {
    faults.push({
      where: `${where}.charging`,
      what: `Charging stops at ${limit}, which is not above the lowest charge ${lowest}.`,
      remedy: 'Set the limit above the lowest charge.',
    });
  }
  return faults;
}
