/** The duty through a year as a form shows it, and back. */
import type { DutyYear } from '@soakbench/core/records';
import { type FieldGroup, type Rec, readPath } from '../parts/record-spec.js';

const percent = (key: string, label: string, hint: string) =>
  ({ kind: 'number', key, label, unit: '%', min: 0, max: 100, hint }) as const;

export const habitGroups: readonly FieldGroup[] = [
  {
    title: 'Charging',
    specs: [
      {
        kind: 'choice',
        key: 'habit',
        label: 'Habit',
        required: true,
        options: [
          ['docked', 'on the charger whenever not in use'],
          ['overnight', 'every night'],
          ['when-low', 'a night once it is low'],
        ],
      },
      { ...percent('limit', 'Charging stops at', '100 where nothing else is set'), min: 30 },
      { ...percent('lowest', 'Put on the charger at', '5 where nothing else is set'), max: 90 },
      {
        kind: 'choice',
        key: 'unplugAtFull',
        label: 'Taken off when full',
        options: [['yes', 'yes']],
        none: 'no',
      },
      {
        kind: 'choice',
        key: 'whileInUse',
        label: 'On the charger in use',
        options: [['yes', 'yes']],
        none: 'no',
      },
    ],
  },
  {
    title: 'Room and week',
    specs: [
      {
        kind: 'number',
        key: 'room_C',
        label: 'Mean of the year',
        unit: '°C',
        min: -40,
        max: 60,
        required: true,
      },
      {
        kind: 'number',
        key: 'summer_K',
        label: 'July over January',
        unit: 'K',
        min: -40,
        max: 40,
        hint: 'negative in the south',
      },
      { kind: 'number', key: 'swing_K', label: 'Night to afternoon', unit: 'K', min: 0, max: 40 },
      { kind: 'number', key: 'days_per_week', label: 'Days of use a week', min: 0, max: 7, whole: true },
    ],
  },
  {
    title: 'On a shelf, switched off',
    optional: true,
    specs: [
      {
        kind: 'number',
        key: 'stored.weeks',
        label: 'Weeks a year',
        min: 0,
        max: 52,
        required: true,
      },
      { ...percent('stored.charge', 'Stored at', 'charge'), required: true },
      { kind: 'number', key: 'stored.room_C', label: 'Its room', unit: '°C', min: -40, max: 60 },
    ],
  },
];

export const activityGroups: readonly FieldGroup[] = [
  {
    specs: [
      {
        kind: 'text',
        key: 'name',
        label: 'Activity',
        required: true,
        size: 'half',
        maxLength: 120,
        example: 'recording',
      },
      { kind: 'number', key: 'h_per_day', label: 'Hours a day', unit: 'h', min: 0, max: 24, required: true },
      {
        kind: 'number',
        key: 'use_W',
        label: 'Drawn from the pack',
        unit: 'W',
        min: 0,
        max: 1000,
        required: true,
      },
    ],
  },
];

const asPercent = (share: number | undefined) =>
  share === undefined ? undefined : Number((100 * share).toPrecision(6));
const asShare = (value: unknown) => (typeof value === 'number' ? value / 100 : undefined);
const july = 6;

/** Without what is undefined: a field that is empty is absent. */
function compact(record: Record<string, unknown>): Rec {
  return Object.fromEntries(Object.entries(record).filter(([, value]) => value !== undefined));
}

function roomOf({ room: { monthly_C } }: DutyYear) {
  const mean = monthly_C.reduce((sum, value) => sum + value, 0) / monthly_C.length;
  const summer_K = monthly_C.length === 12 ? (monthly_C[july] ?? 0) - (monthly_C[0] ?? 0) : 0;
  return {
    room_C: Number(mean.toFixed(2)),
    summer_K: summer_K === 0 ? undefined : Number(summer_K.toFixed(2)),
  };
}

export function formOfDuty(duty: DutyYear): Rec {
  const { charging, storage } = duty;
  return compact({
    habit: charging.habit,
    limit: asPercent(charging.limit),
    lowest: asPercent(charging.lowest),
    unplugAtFull: charging.unplugAtFull ? 'yes' : undefined,
    whileInUse: charging.whileInUse ? 'yes' : undefined,
    days_per_week: duty.days_per_week,
    ...roomOf(duty),
    swing_K: duty.room.swing_K,
    stored: storage
      ? compact({
          weeks: storage.weeks_per_year,
          charge: asPercent(storage.charge),
          room_C: storage.room_C,
        })
      : undefined,
  });
}

/** Monthly means that swing about the mean of the year, warmest in July (coldest where `summer_K` is negative). */
function monthsOf(room_C: number, summer_K: number): number[] {
  if (summer_K === 0) return [room_C];
  return Array.from({ length: 12 }, (_, month) =>
    Number((room_C + (summer_K / 2) * Math.cos((2 * Math.PI * (month - july)) / 12)).toFixed(2)),
  );
}

/** The duty with what the form changed; months entered one by one stay until the form's own two figures change. */
export function dutyOfForm(form: Rec, before: DutyYear): DutyYear {
  const was = formOfDuty(before);
  const keepsRoom = form['room_C'] === was['room_C'] && form['summer_K'] === was['summer_K'];
  const isNewLimit = form['limit'] !== was['limit'];
  const { limit_V, limit: _, lowest: __, unplugAtFull: ___, whileInUse: ____, ...charging } = before.charging;
  const { days_per_week: _____, storage: ______, origin: _______, ...rest } = before;
  const weeks = readPath(form, 'stored.weeks');
  return {
    ...rest,
    origin: 'entered',
    ...compact({ days_per_week: form['days_per_week'] }),
    charging: {
      ...charging,
      habit: form['habit'] as DutyYear['charging']['habit'],
      ...compact({
        // A limit typed as a share takes the place of one given as a voltage.
        limit_V: isNewLimit ? undefined : limit_V,
        limit: asShare(form['limit']),
        lowest: asShare(form['lowest']),
        unplugAtFull: form['unplugAtFull'] === 'yes' ? true : undefined,
        whileInUse: form['whileInUse'] === 'yes' ? true : undefined,
      }),
    },
    ...(typeof weeks === 'number'
      ? {
          storage: {
            ...before.storage,
            weeks_per_year: weeks,
            charge: asShare(readPath(form, 'stored.charge')) ?? 1,
            ...compact({ room_C: readPath(form, 'stored.room_C') }),
          },
        }
      : {}),
    room: {
      ...compact({ swing_K: form['swing_K'] }),
      monthly_C: keepsRoom
        ? before.room.monthly_C
        : (monthsOf(form['room_C'] as number, (form['summer_K'] as number | undefined) ?? 0) as [number]),
    },
  };
}

/** What the hours come to, in words; past a day it says so. */
export function hoursWords({ activities }: DutyYear): string {
  const hours = activities.reduce((sum, { h_per_day }) => sum + h_per_day, 0);
  const rounded = Number(hours.toFixed(2));
  return hours > 24
    ? `The activities add up to ${rounded} hours, and a day has 24.`
    : `${rounded} of 24 hours in use; the rest it charges or lies about.`;
}
