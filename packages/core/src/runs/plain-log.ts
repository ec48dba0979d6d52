import type { Recipe } from '../records/index.js';
import { type DateOrder, day_s, StampReader } from './read-stamp.js';
import { RowCells } from './split-row.js';

/** What a column holds: `stamp` is date and time of day in one cell, `date` and `clock` are the two in cells of their own. */
const columnKind = { unused: 0, number: 1, stamp: 2, date: 3, clock: 4 } as const;

/** How the kernel reads the rows of one log. Bytes are those of ASCII; `slot` tells where a column's number goes. */
export interface PlainPlan {
  /** 0 unused, 1 number, 2 date and time of day, 3 date, 4 time of day; up to the last column in use. */
  readonly kinds: Uint8Array;
  readonly slots: Int32Array;
  readonly delimiter: number;
  /** No byte at all where the delimiter is the decimal mark: then no number in the log has decimals. */
  readonly mark: number;
  readonly lineEnd: number;
  /** Cells most rows have. A row with more may be shifted. */
  readonly width: number;
  /** From a number in the time column to seconds; 0 where the time is a stamp. In milliseconds the number is divided. */
  readonly unit_s: number;
  /** Of each channel: 0 for °C, 1 for °F, 2 for K. */
  readonly units: Uint8Array;
  readonly codes: Float64Array;
  /** Of the row at hand: the channels whose cells are no plain readings, and where those cells stand. */
  readonly isLone: Uint8Array;
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly stamp: StampLayout;
}

const elapsedUnits_s = { ms: 1e-3, s: 1, min: 60, h: 3600 } as const;

/** Units the kernel turns into °C; a log with another is left to the general reader. */
const plainUnits = ['C', 'F', 'K'];

/** The plan for a log whose rows can be plain at all; null where blanks part the cells, the time is a time of day or counted by rows. */
export function planPlainRows(
  recipe: Recipe,
  width: number,
  lineEnd: '\n' | '\r',
  codes: readonly number[],
): PlainPlan | null {
  const { time, channels } = recipe;
  // Another layout, grouped digits, parts of a degree and joined restarts are rare; the general reader knows them.
  if (recipe.layout !== undefined || recipe.thousands !== undefined) return null;
  if (!channels.every(({ unit, scale }) => plainUnits.includes(unit) && scale === undefined)) return null;
  if (time.style === 'elapsed' && time.restart !== undefined) return null;
  const columns = channels.map(({ column }) => column);
  const isStamp = time.style === 'iso' || time.style === 'date';
  const isNumber = time.style === 'epoch' || (time.style === 'elapsed' && time.unit !== 'h:m:s');
  if ((!isStamp && !isNumber) || time.columns.length > 2) return null;
  const used = [...time.columns, ...columns];
  if (recipe.delimiter === ' ' || new Set(used).size < used.length || Math.max(...used) >= 250) return null;

  const kinds = new Uint8Array(1 + Math.max(...used));
  const slots = new Int32Array(kinds.length).fill(-1);
  for (const [index, column] of columns.entries()) {
    kinds[column] = columnKind.number;
    slots[column] = index;
  }
  const [first, second] = time.columns as [number, number | undefined];
  if (isNumber) {
    kinds[first] = columnKind.number;
    slots[first] = columns.length;
  } else if (second === undefined) kinds[first] = columnKind.stamp;
  else {
    kinds[first] = columnKind.date;
    kinds[second] = columnKind.clock;
  }
  const mark = recipe.decimal.charCodeAt(0);
  const delimiter = recipe.delimiter.charCodeAt(0);
  return {
    kinds,
    slots,
    delimiter,
    mark: mark === delimiter ? 256 : mark,
    lineEnd: lineEnd.charCodeAt(0),
    width,
    unit_s: isNumber ? elapsedUnits_s[time.unit as keyof typeof elapsedUnits_s] : 0,
    units: Uint8Array.from(channels, ({ unit }) => plainUnits.indexOf(unit)),
    codes: Float64Array.from(codes),
    isLone: new Uint8Array(columns.length),
    from: new Int32Array(columns.length),
    to: new Int32Array(columns.length),
    stamp: new StampLayout(recipe),
  };
}

/** What an offset may look like behind a plain time of day. */
const plainOffset = /^ ?(?:Z|UTC|GMT)?(?:[+-]\d{2}(?::?\d{2})?)?$/i;
const plainClock = /^\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d{1,9})?)?/;
const asciiOnly = /^[\x20-\x7e]*$/;

/**
 * What stays the same from stamp to stamp: the date in front of the time of day and the offset behind it.
 *
 * The date and the offset are read once, by `StampReader`. As long as the bytes stay the same they mean the same, and only
 * hours, minutes and seconds are left to read. A row in which they differ goes to the general reader, and the new ones
 * are learnt from it.
 */
export class StampLayout {
  /** The bytes up to the hours: the date and its gap in one cell, or the date's own cell. */
  prefix = new Uint8Array(0);
  suffix = new Uint8Array(0);
  date_s = 0;
  offset_s = 0;
  isKnown = false;
  private readonly stamps = new StampReader();
  private readonly order: DateOrder;
  private readonly columns: readonly number[];
  /** What the log's clock is ahead of UTC where a stamp does not say. */
  private readonly ahead_s: number;
  private readonly cells: RowCells;

  constructor({ time, delimiter }: Recipe) {
    this.ahead_s = time.style === 'iso' || time.style === 'date' ? 60 * (time.utcOffset_min ?? 0) : 0;
    this.columns = time.style === 'interval' ? [] : time.columns;
    this.order = time.style === 'date' ? time.order : 'year-first';
    this.cells = new RowCells(delimiter);
  }

  /** Learns from a row that the general reader kept. */
  learn(row: string): void {
    const { cells, stamps, order } = this;
    cells.split(row, 0, row.length);
    const [first = 0, second] = this.columns;
    const stamp = cells.cell(row, first);
    const hourFrom = second === undefined ? stamp.search(/\d{1,2}:\d{2}/) : stamp.length;
    this.isKnown = false;
    if (hourFrom < 0) return;
    const clock = second === undefined ? stamp.slice(hourFrom) : cells.cell(row, second);
    const prefix = stamp.slice(0, hourFrom);
    const suffix = clock.slice(plainClock.exec(clock)?.[0].length ?? 0);
    if (!plainClock.test(clock) || !plainOffset.test(suffix) || !asciiOnly.test(prefix)) return;
    const date_s = stamps.date_days(prefix, 0, prefix.length, order) * day_s;
    // In a cell of its own the date is all there is; before a time of day it ends with the gap that parts the two.
    const isWhole =
      second === undefined ? /^[Tt_, ] *$/.test(prefix.slice(stamps.at)) : stamps.at === prefix.length;
    if (Number.isNaN(date_s) || !isWhole) return;
    const clock_s = stamps.clock_s(clock, 0, clock.length);
    if (Number.isNaN(clock_s) || stamps.at !== clock.length) return;
    this.prefix = bytesOf(prefix);
    this.suffix = bytesOf(suffix);
    this.date_s = date_s;
    this.offset_s = stamps.hasOffset ? stamps.offset_s : this.ahead_s;
    this.isKnown = true;
  }
}

function bytesOf(ascii: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(ascii, (letter) => letter.charCodeAt(0));
}
