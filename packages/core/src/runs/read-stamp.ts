export type DateOrder = 'year-first' | 'day-month' | 'month-day';

export const day_s = 86_400;

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/**
 * Reads dates and times of day in place. Every method reads from `from` and leaves `at` behind what it took;
 * NaN where the text is something else.
 */
export class StampReader {
  /** Where the last reading ended. */
  at = 0;
  /** Seconds ahead of UTC that the last time of day named; 0 where it named none. */
  offset_s = 0;
  /** Whether the last time of day named an offset from UTC, be it none. */
  hasOffset = false;
  /** Parts of the last time of day: 2 for h:m, 3 for h:m:s. */
  parts = 0;
  private width = 0;

  /** A date and a time of day in one cell, as seconds since 1970 in UTC. */
  dateTime_s(text: string, from: number, to: number, order: DateOrder): number {
    const day = this.date_days(text, from, to, order);
    if (Number.isNaN(day) || this.at >= to) return Number.NaN;
    const gap = text.charCodeAt(this.at);
    const isGap = gap === 0x54 || gap === 0x74 || gap === 0x5f || gap === 0x2c || isSpace(gap);
    if (!isGap) return Number.NaN;
    this.at++;
    while (this.at < to && isSpace(text.charCodeAt(this.at))) this.at++;
    const clock_s = this.clock_s(text, this.at, to);
    return this.at === to ? day * day_s + clock_s - this.offset_s : Number.NaN;
  }

  /** A date and a time of day in two cells, as seconds since 1970 in UTC. */
  dateAndTime_s(
    text: string,
    dateFrom: number,
    dateTo: number,
    timeFrom: number,
    timeTo: number,
    order: DateOrder,
  ): number {
    const day = this.date_days(text, dateFrom, dateTo, order);
    if (Number.isNaN(day) || this.at !== dateTo) return Number.NaN;
    const clock_s = this.clock_s(text, timeFrom, timeTo);
    return this.at === timeTo ? day * day_s + clock_s - this.offset_s : Number.NaN;
  }

  /** A date alone, as days since 1970. A four-digit year in front is read as such whatever the order. */
  date_days(text: string, from: number, to: number, order: DateOrder): number {
    const first = this.whole(text, from, to);
    const firstWidth = this.width;
    if (firstWidth === 8)
      return dayNumber(Math.floor(first / 10_000), Math.floor(first / 100) % 100, first % 100);
    if (firstWidth !== 4 && (order === 'year-first' || firstWidth < 1 || firstWidth > 2)) return Number.NaN;
    const separator = this.separator(text, to);
    if (separator < 0) return Number.NaN;

    let named = Number.NaN;
    let second = this.whole(text, this.at, to);
    if (this.width === 0 && firstWidth !== 4) second = named = this.monthName(text, to);
    else if (this.width < 1 || this.width > 2) return Number.NaN;
    if (this.separator(text, to) !== separator) return Number.NaN;
    const third = this.whole(text, this.at, to);

    if (firstWidth === 4)
      return this.width === 1 || this.width === 2 ? dayNumber(first, second, third) : Number.NaN;
    if (this.width !== 4 && this.width !== 2) return Number.NaN;
    const year = this.width === 4 ? third : third + (third < 70 ? 2000 : 1900);
    const dayFirst = order === 'day-month' || !Number.isNaN(named);
    return dayFirst ? dayNumber(year, second, first) : dayNumber(year, first, second);
  }

  /** A time of day as seconds after midnight: h:m, h:m:s, with fractions, AM/PM, and an offset behind it. */
  clock_s(text: string, from: number, to: number): number {
    this.offset_s = 0;
    this.hasOffset = false;
    let time_s = this.hms_s(text, from, to);
    if (Number.isNaN(time_s)) time_s = this.compactClock_s(text, from, to);
    if (Number.isNaN(time_s)) return Number.NaN;
    const half = this.halfOfDay(text, to);
    if (half >= 0) {
      if (time_s < 3600 || time_s >= 13 * 3600) return Number.NaN;
      time_s = (time_s % 43_200) + half;
    }
    if (time_s >= day_s) return Number.NaN;
    this.takeOffset(text, to);
    return time_s;
  }

  /** Hours, minutes and seconds since a start; the hours may pass 24. */
  hms_s(text: string, from: number, to: number): number {
    const hours = this.whole(text, from, to);
    if (this.width < 1 || this.width > 4 || text.charCodeAt(this.at) !== 0x3a) return Number.NaN;
    const minutes = this.whole(text, this.at + 1, to);
    if (this.width !== 2 || minutes > 59) return Number.NaN;
    this.parts = 2;
    let seconds = 0;
    if (this.at < to && text.charCodeAt(this.at) === 0x3a) {
      seconds = this.whole(text, this.at + 1, to);
      if (this.width !== 2 || seconds > 60) return Number.NaN;
      this.parts = 3;
      seconds += this.fraction(text, to);
    }
    return hours * 3600 + minutes * 60 + seconds;
  }

  /** `104530` as it follows a T in the basic form of ISO 8601. */
  private compactClock_s(text: string, from: number, to: number): number {
    const value = this.whole(text, from, to);
    if (this.width !== 6 && this.width !== 4) return Number.NaN;
    const hms = this.width === 6 ? value : value * 100;
    const minutes = Math.floor(hms / 100) % 100;
    const seconds = hms % 100;
    if (minutes > 59 || seconds > 60) return Number.NaN;
    this.parts = 3;
    return Math.floor(hms / 10_000) * 3600 + minutes * 60 + seconds + this.fraction(text, to);
  }

  private whole(text: string, from: number, to: number): number {
    let at = from;
    let value = 0;
    for (; at < to; at++) {
      const digit = text.charCodeAt(at) - 0x30;
      if (digit < 0 || digit > 9) break;
      value = value * 10 + digit;
    }
    this.at = at;
    this.width = at - from;
    return value;
  }

  /** `.25`, `,25`, or `:250` as some loggers write milliseconds. */
  private fraction(text: string, to: number): number {
    const mark = text.charCodeAt(this.at);
    if (this.at >= to || (mark !== 0x2e && mark !== 0x2c && mark !== 0x3a)) return 0;
    const from = this.at;
    const digits = this.whole(text, from + 1, to);
    if (this.width === 0 || (mark === 0x3a && this.width !== 3)) {
      this.at = from;
      return 0;
    }
    return digits / 10 ** this.width;
  }

  private separator(text: string, to: number): number {
    const code = this.at < to ? text.charCodeAt(this.at) : -1;
    if (code !== 0x2d && code !== 0x2f && code !== 0x2e && code !== 0x20) return -1;
    this.at++;
    return code;
  }

  private monthName(text: string, to: number): number {
    const from = this.at;
    while (this.at < to && isLetter(text.charCodeAt(this.at))) this.at++;
    if (this.at - from < 3) return Number.NaN;
    const index = months.indexOf(text.slice(from, from + 3).toLowerCase());
    return index < 0 ? Number.NaN : index + 1;
  }

  /** 0 for AM, half a day for PM, -1 where neither is named. */
  private halfOfDay(text: string, to: number): number {
    let at = this.at;
    while (at < to && isSpace(text.charCodeAt(at))) at++;
    const letter = text.charCodeAt(at) | 0x20;
    if (at >= to || (letter !== 0x61 && letter !== 0x70)) return -1;
    const match = /^[ap]\.?m\.?/i.exec(text.slice(at, Math.min(to, at + 4)));
    if (!match) return -1;
    this.at = at + match[0].length;
    return letter === 0x70 ? 43_200 : 0;
  }

  private takeOffset(text: string, to: number): void {
    if (this.at >= to) return;
    const match = /^\s*(?:Z|UTC|GMT)?(?:([+-])(\d{2}):?(\d{2})?)?$/i.exec(text.slice(this.at, to));
    if (!match) return;
    this.at = to;
    this.hasOffset = true;
    if (match[1])
      this.offset_s = (match[1] === '-' ? -1 : 1) * (Number(match[2]) * 3600 + Number(match[3] ?? 0) * 60);
  }
}

function isSpace(code: number): boolean {
  return code === 0x20 || code === 0xa0 || code === 0x09 || code === 0x202f;
}

function isLetter(code: number): boolean {
  return (code | 0x20) >= 0x61 && (code | 0x20) <= 0x7a;
}

/** Days since 1970 of a date that exists; NaN for the 31st of April and its like. */
function dayNumber(year: number, month: number, day: number): number {
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const length =
    month === 2 ? (isLeap ? 29 : 28) : month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
  if (!(month >= 1 && month <= 12 && day >= 1 && day <= length && year >= 1900 && year <= 2999))
    return Number.NaN;
  return Date.UTC(year, month - 1, day) / 86_400_000;
}
