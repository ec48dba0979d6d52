import type { DutyYear } from '../../records/index.js';

/** A duty to start from, with the temperatures it was thought up with: rises of the pack above the room in each of its states. */
export interface DutyPreset {
  readonly id: string;
  readonly title: string;
  readonly duty: DutyYear;
  readonly rises_K: Readonly<Record<string, number>>;
}

const room = (mean_C: number): DutyYear['room'] => ({ monthly_C: [mean_C], swing_K: 4 });

/** Invented starting points, no statistics of how people use anything: each is meant to be corrected. */
export const dutyPresets: readonly DutyPreset[] = [
  {
    id: 'light-handheld',
    title: 'Light handheld: 2 h a day, docked half the day',
    duty: {
      origin: 'preset',
      preset: 'light-handheld',
      activities: [{ id: 'use', name: 'in use', h_per_day: 2, use_W: 6 }],
      charging: { habit: 'overnight', limit: 1, lowest: 0.1 },
      room: room(23),
    },
    rises_K: { use: 13, charging: 7, docked: 7, rest: 0 },
  },
  {
    id: 'heavy-handheld',
    title: 'Heavy handheld: 3 h a day at full load, docked the rest',
    duty: {
      origin: 'preset',
      preset: 'heavy-handheld',
      activities: [{ id: 'use', name: 'under load', h_per_day: 3, use_W: 15 }],
      charging: { habit: 'docked', limit: 1, lowest: 0.05 },
      room: room(25),
    },
    rises_K: { use: 20, charging: 13, docked: 13, rest: 0 },
  },
  {
    id: 'field-recorder',
    title: 'Field recorder: one long day a week, then off',
    duty: {
      origin: 'preset',
      preset: 'field-recorder',
      activities: [{ id: 'use', name: 'recording', h_per_day: 8, use_W: 4 }],
      days_per_week: 1,
      charging: { habit: 'when-low', limit: 0.9, lowest: 0.1, unplugAtFull: true },
      room: room(20),
    },
    rises_K: { use: 12, charging: 6, docked: 0, rest: 0 },
  },
  {
    id: 'kiosk',
    title: 'Kiosk: always on its dock, full',
    duty: {
      origin: 'preset',
      preset: 'kiosk',
      activities: [],
      charging: { habit: 'docked', limit: 1 },
      room: room(25),
    },
    rises_K: { charging: 17, docked: 17, rest: 17 },
  },
];
