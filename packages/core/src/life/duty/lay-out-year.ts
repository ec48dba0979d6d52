import { BadInputError, OutOfRangeError } from '../../measure/index.js';
import { type DutyYear, dutyFaults, restingStates } from '../../records/index.js';
import { bedtime_h, type DayPart, isNight, planDay } from './plan-day.js';

/** A stretch of at most an hour in which the device does one thing and the charge changes evenly. */
export interface Stretch {
  /** Days since the year began, at its start. */
  readonly day: number;
  readonly month: number;
  readonly hours: number;
  /** Place in `states` of the year. */
  readonly state: number;
  readonly room_C: number;
  /** Mean state of charge, and that at its end. */
  readonly charge: number;
  readonly endCharge: number;
  /** Current over capacity, 1/h: above 0 discharging, below charging. */
  readonly rate: number;
}

/** What a year of use does to a pack of a given energy, hour by hour. */
export interface YearOfUse {
  /** Ids of the activities, then the resting states: what rises are asked for by. */
  readonly states: readonly string[];
  readonly stretches: readonly Stretch[];
  readonly startCharge: number;
  readonly limit: number;
  readonly drawn_Wh: number;
  /** Hours of the year in which the pack was empty and the device wanted more. */
  readonly short_h: number;
}

const days_per_year = 365;
const monthDays = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;
const monthOfDay = monthDays.flatMap((days, month) => Array.from({ length: days }, () => month));

/** The warmest hour of a day. @assumed common practice, no source: mid-afternoon indoors and out */
const warmest_h = 15;
/** Charge below which a device switches off, where it is not stated. @assumed common practice, no source */
export const usualLowest = 0.05;
/** Charging power over energy, where it is not stated, 1/h. @assumed a usual charger fills a pack in some three hours */
export const usualChargeRate = 0.35;

/**
 * Lays a duty out over a year: which state the device is in, how warm its room is and how full the pack, from hour to hour.
 *
 * The year is one of many alike: it begins full (or from the shelf), and weeks of storage come first. Charge follows energy, without
 * self-discharge or the losses in cells and charger; what those change is small against what the models disagree about. Of a pack that has
 * faded it is laid out with the energy that is left: `layOutWorn`.
 *
 * @param duty hours, habit and seasons
 * @param energy_Wh of the pack, above 0
 * @param limit where charging stops, above the lowest charge, to 1
 * @throws BadInputError where the duty contradicts itself, such as a day of more than 24 hours
 */
export function layOutYear(duty: DutyYear, energy_Wh: number, limit = duty.charging.limit ?? 1): YearOfUse {
  const faults = dutyFaults(duty, 'duty');
  if (faults.length > 0) throw new BadInputError(faults);
  const lowest = duty.charging.lowest ?? usualLowest;
  if (!(energy_Wh > 0)) throw new OutOfRangeError('energy_Wh', energy_Wh, [0, 5000], 'Is it in watt-hours?');
  if (!(limit > lowest && limit <= 1)) {
    throw new OutOfRangeError('limit', limit, [lowest, 1], 'It is a share of a full charge.');
  }
  return new YearLayout(duty, energy_Wh, limit, lowest).run();
}

class YearLayout {
  private readonly states: readonly string[];
  private readonly stretches: Stretch[] = [];
  private readonly plan: readonly DayPart[];
  private readonly chargeRate: number;
  private readonly dailyShare: number;
  private charge: number;
  private drawn = 0;
  private short_h = 0;
  /** Whether tonight is a night on the charger, for one who waits until it is needed. */
  private isChargeNight = false;
  /** Whether it was taken off the charger full and not used since. */
  private isUnplugged = false;

  /** The last day whose night has been decided about. */
  private decided = -1;
  private readonly duty: DutyYear;
  private readonly energy_Wh: number;
  private readonly limit: number;
  private readonly lowest: number;

  constructor(duty: DutyYear, energy_Wh: number, limit: number, lowest: number) {
    this.duty = duty;
    this.energy_Wh = energy_Wh;
    this.limit = limit;
    this.lowest = lowest;
    this.states = [...duty.activities.map(({ id }) => id), ...restingStates];
    this.plan = planDay(duty.activities);
    this.chargeRate = (duty.charging.charge_W ?? usualChargeRate * energy_Wh) / energy_Wh;
    this.dailyShare =
      duty.activities.reduce((sum, { h_per_day, use_W }) => sum + h_per_day * use_W, 0) / energy_Wh;
    this.charge = duty.storage && duty.storage.weeks_per_year > 0 ? duty.storage.charge : limit;
  }

  run(): YearOfUse {
    const startCharge = this.charge;
    const storedDays = Math.round(7 * (this.duty.storage?.weeks_per_year ?? 0));
    for (let day = 0; day < days_per_year; day++) {
      if (day < storedDays) this.lie(day, 0, 24, 'stored');
      else if (day % 7 < (this.duty.days_per_week ?? 7)) for (const part of this.plan) this.pass(day, part);
      else
        for (let hour = 0; hour < 24; hour++)
          this.pass(day, { from_h: hour, to_h: hour + 1, activity: null });
    }
    return {
      states: this.states,
      stretches: this.stretches,
      startCharge,
      limit: this.limit,
      drawn_Wh: this.drawn * this.energy_Wh,
      short_h: this.short_h,
    };
  }

  private pass(day: number, { from_h, to_h, activity }: DayPart): void {
    if (from_h >= bedtime_h - 1e-6 && this.decided < day) {
      this.isChargeNight = this.charge - this.dailyShare < this.lowest;
      this.decided = day;
    }
    if (activity === null) this.restThrough(day, from_h, to_h);
    else this.useThrough(day, from_h, to_h, activity);
  }

  private useThrough(day: number, from_h: number, to_h: number, activity: number): void {
    const { use_W = 0, id = '' } = this.duty.activities[activity] ?? {};
    this.isUnplugged = false;
    if (this.duty.charging.whileInUse) {
      this.change(day, from_h, to_h, id, this.chargeRate, this.limit);
      return;
    }
    const emptyAt = this.change(day, from_h, to_h, id, -use_W / this.energy_Wh, this.lowest);
    if (use_W > 0) this.short_h += to_h - emptyAt;
  }

  private restThrough(day: number, from_h: number, to_h: number): void {
    const { habit, unplugAtFull } = this.duty.charging;
    const isPlugged =
      !this.isUnplugged &&
      (habit === 'docked' || (isNight(from_h) && (habit === 'overnight' || this.isChargeNight)));
    if (!isPlugged) {
      this.lie(day, from_h, to_h, 'rest');
      return;
    }
    const fullAt = this.charge < this.limit ? this.climb(day, from_h, to_h) : from_h;
    if (fullAt >= to_h) return;
    this.isUnplugged = unplugAtFull === true;
    this.lie(day, fullAt, to_h, this.isUnplugged ? 'rest' : 'docked');
  }

  /** Charges until the limit or the end of the stretch; says when it stopped. */
  private climb(day: number, from_h: number, to_h: number): number {
    const fullAt = Math.min(to_h, from_h + (this.limit - this.charge) / this.chargeRate);
    this.note(day, from_h, fullAt, 'charging', this.chargeRate);
    if (fullAt < to_h) this.charge = this.limit;
    return fullAt;
  }

  /** Lets the charge run towards a level, and holds it there; says when it got there. */
  private change(
    day: number,
    from_h: number,
    to_h: number,
    state: string,
    rate: number,
    until: number,
  ): number {
    const reach_h = rate === 0 ? Number.POSITIVE_INFINITY : Math.max(0, (until - this.charge) / rate);
    const turn = Math.min(to_h, from_h + reach_h);
    this.note(day, from_h, turn, state, rate);
    this.note(day, turn, to_h, state, 0);
    return turn;
  }

  private lie(day: number, from_h: number, to_h: number, state: string): void {
    if (state === 'stored') this.charge = this.duty.storage?.charge ?? this.charge;
    for (let hour = from_h; hour < to_h; hour = Math.floor(hour) + 1)
      this.note(day, hour, Math.min(to_h, Math.floor(hour) + 1), state, 0);
  }

  /** @param rate of the charge, 1/h, above 0 charging */
  private note(day: number, from_h: number, to_h: number, state: string, rate: number): void {
    const hours = to_h - from_h;
    if (!(hours > 1e-9)) return;
    const start = this.charge;
    this.charge = Math.min(1, Math.max(0, start + rate * hours));
    if (rate < 0) this.drawn += start - this.charge;
    this.stretches.push({
      day: day + from_h / 24,
      month: monthOfDay[day] ?? 11,
      hours,
      state: this.states.indexOf(state),
      room_C: this.roomAt(monthOfDay[day] ?? 11, (from_h + to_h) / 2, state),
      charge: (start + this.charge) / 2,
      endCharge: this.charge,
      rate: -rate,
    });
  }

  private roomAt(month: number, hour: number, state: string): number {
    const { monthly_C, swing_K = 0 } = this.duty.room;
    if (state === 'stored' && this.duty.storage?.room_C !== undefined) return this.duty.storage.room_C;
    const mean = monthly_C[month % monthly_C.length] ?? 20;
    return mean + (swing_K / 2) * Math.cos((2 * Math.PI * (hour - warmest_h)) / 24);
  }
}
