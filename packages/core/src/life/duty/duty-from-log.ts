import { found, type Result, refused } from '../../measure/index.js';
import type { DutyYear } from '../../records/index.js';

/** Readings of a device that logs its own power or charge. Gaps are allowed; times only rise. */
export interface UseLog {
  readonly after_s: ArrayLike<number>;
  /** Drawn by the device, W; NaN where not read. */
  readonly power_W?: ArrayLike<number>;
  /** State of charge, 0 to 1; NaN where not read. */
  readonly charge?: ArrayLike<number>;
}

export type NoDuty =
  | { readonly kind: 'too-short'; readonly have_h: number; readonly need_h: number; readonly remedy: string }
  | { readonly kind: 'no-column'; readonly remedy: string };

export interface MeasuredDuty {
  readonly duty: DutyYear;
  /** Hours the log covers, without its gaps, and what was concluded, for the person to correct. */
  readonly covered_h: number;
  readonly findings: readonly string[];
}

const least_h = 24;
/** A step longer than this is a gap: nobody knows what happened in it. @assumed loggers write at least every quarter of an hour */
const longest_s = 1800;
/** Charge that falls slower than this is a device that lies about, 1/h. @assumed a per cent an hour, standby */
const idleRate = 0.01;
/** Within this of the highest charge the pack counts as held full. */
const nearFull = 0.02;
/** Charge that falls by more than this in so long is held by no charger. @assumed what lies about loses some tenths of a per cent an hour */
const fallen = 0.003;
const watched_s = 2 * 3600;

interface Tally {
  use_h: number;
  used_Wh: number;
  held_h: number;
  risen_h: number;
  nightRise_h: number;
  covered_h: number;
  highest: number;
  lowest: number;
}

/**
 * A typical day from a log of power or charge: hours in use, power, charging habit and window.
 *
 * A log of a few days is not a year: it says nothing of seasons or holidays, and a week at home looks like a life at home. The room is
 * passed in for that reason. Without a power column the power follows from the falling charge and the pack's rated energy.
 *
 * @param energy_Wh rated energy of the pack that was in when it was logged
 * @param room the room through the year, which no such log knows
 * @param startsAt_h hour of the day at which the log begins, where it is known: tells a night from a day
 */
export function dutyFromLog(
  log: UseLog,
  energy_Wh: number,
  room: DutyYear['room'],
  startsAt_h?: number,
): Result<MeasuredDuty, NoDuty> {
  if (!log.power_W && !log.charge) {
    return refused({
      kind: 'no-column',
      remedy: 'The log needs a column with power or with the state of charge.',
    });
  }
  const tally = tallyLog(log, energy_Wh, startsAt_h);
  const { covered_h } = tally;
  if (covered_h < least_h) {
    return refused({
      kind: 'too-short',
      have_h: covered_h,
      need_h: least_h,
      remedy: 'Log at least a day, better a week with a weekend in it.',
    });
  }
  const perDay = 24 / covered_h;
  const use_h = round(Math.min(24, tally.use_h * perDay));
  const limit = log.charge ? Math.min(1, Math.max(0.3, tally.highest)) : 1;
  const lowest = log.charge ? Math.max(0, Math.min(tally.lowest, limit - 0.05, 0.9)) : undefined;
  const isDocked = tally.held_h * perDay > 0.4 * (24 - use_h);
  const isNightly = startsAt_h === undefined || tally.nightRise_h > 0.5 * tally.risen_h;
  const habit = isDocked ? 'docked' : isNightly ? 'overnight' : 'when-low';
  return found({
    covered_h,
    duty: {
      origin: 'log',
      activities: [
        {
          id: 'use',
          name: 'in use, as logged',
          h_per_day: use_h,
          use_W: tally.use_h > 0 ? round(tally.used_Wh / tally.use_h) : 0,
        },
      ],
      charging: { habit, limit: round(limit), ...(lowest === undefined ? {} : { lowest: round(lowest) }) },
      room,
    },
    findings: [
      `${(covered_h / 24).toFixed(1)} days were read.`,
      log.charge
        ? `The charge ran between ${(100 * tally.lowest).toFixed(0)} and ${(100 * tally.highest).toFixed(0)} %.`
        : 'There is no column with the charge: the charging habit is a guess.',
      ...(isDocked
        ? ['It lies full for much of the day and loses no charge: it is taken to be on its charger then.']
        : []),
      log.power_W ? 'Power was read.' : 'Power was worked out from the falling charge and the rated energy.',
    ],
  });
}

/** To what a form shows and a person would type. */
function round(value: number): number {
  return Number(value.toFixed(2));
}

/** Adds up what happened between each two readings. */
function tallyLog(log: UseLog, energy_Wh: number, startsAt_h: number | undefined): Tally {
  const tally: Tally = {
    use_h: 0,
    used_Wh: 0,
    held_h: 0,
    risen_h: 0,
    nightRise_h: 0,
    covered_h: 0,
    highest: 0,
    lowest: 1,
  };
  const charges = Array.from(log.charge ?? []).filter(Number.isFinite);
  for (const charge of charges) {
    tally.highest = Math.max(tally.highest, charge);
    tally.lowest = Math.min(tally.lowest, charge);
  }
  let ahead = 0;
  for (let i = 1; i < log.after_s.length; i++) {
    const [from_s, to_s] = [log.after_s[i - 1] as number, log.after_s[i] as number];
    if (!(to_s > from_s) || to_s - from_s > longest_s) continue;
    const hours = (to_s - from_s) / 3600;
    tally.covered_h += hours;
    while (ahead + 1 < log.after_s.length && (log.after_s[ahead] as number) - to_s < watched_s) ahead++;
    const falls = (log.charge?.[ahead] ?? Number.NaN) < (log.charge?.[i] ?? Number.NaN) - fallen;
    const climb = ((log.charge?.[i] ?? Number.NaN) - (log.charge?.[i - 1] ?? Number.NaN)) / hours;
    const drawn_W = log.power_W ? (log.power_W[i] as number) : Math.max(0, -climb) * energy_Wh;
    if (climb > idleRate) {
      tally.risen_h += hours;
      const clock = ((startsAt_h ?? 0) + from_s / 3600) % 24;
      if (clock >= 21 || clock < 7) tally.nightRise_h += hours;
    } else if (drawn_W > idleRate * energy_Wh) {
      tally.use_h += hours;
      tally.used_Wh += hours * drawn_W;
    } else if ((log.charge?.[i] ?? 0) >= tally.highest - nearFull && !falls) tally.held_h += hours;
  }
  return tally;
}
