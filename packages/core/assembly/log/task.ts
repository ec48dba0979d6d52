/**
 * What there is to read and how, as packages/core/src/runs/wasm/log-task.ts writes it into memory: numbers of four bytes, then
 * of eight, in this order. The plan is that of the TypeScript kernel, packages/core/src/runs/plain-log.ts says what it means.
 */
@unmanaged
export class Task {
  /** Columns up to the last in use, and channels. */
  columns: i32;
  channels: i32;
  delimiter: u32;
  mark: u32;
  lineEnd: u32;
  width: i32;
  codes: i32;
  prefixLength: i32;
  suffixLength: i32;
  /** Lone cells there is room for. */
  loneCapacity: i32;
  /** Bytes: a kind for each column, a unit for each channel and whether its readings count. */
  kinds: usize;
  units: usize;
  counted: usize;
  /** Four bytes: the slot of each column; that of the time is the number of channels. */
  slots: usize;
  /** Doubles: codes for faults, and the powers of ten that are exact. */
  codesAt: usize;
  tens: usize;
  /** Thirty-two bytes; the mask has all bits set where a byte counts. */
  prefix: usize;
  head: usize;
  headMask: usize;
  /** Sixteen bytes. */
  suffix: usize;
  suffixMask: usize;
  /** See shape.ts: one for each column. */
  shapes: usize;
  /** Of the row at hand, for each channel: whether its cell is left to the general reader, and from where to where it goes. */
  isLone: usize;
  loneFrom: usize;
  loneTo: usize;
  /** What is found: lone cells as row, channel, from and to; times; readings, channel after channel, with room for so many rows. */
  lone: usize;
  times: usize;
  readings: usize;
  capacity: i32;
  /** How much was found. */
  rows: i32;
  lones: i32;
  anyReading: i32;
  /** Of the row at hand. */
  anyLone: i32;
  hasReading: i32;
  /** Whether `head` holds date, hours and minutes of an earlier row. */
  isHeadKnown: i32;
  /** Keeps the doubles on a boundary of eight bytes. */
  spare: i32;
  unit_s: f64;
  date_s: f64;
  offset_s: f64;
  start_s: f64;
  last_s: f64;
  /** What `head` comes to. */
  minute_s: f64;
  /** Of the row at hand: a number, or seconds since midnight. */
  time: f64;
}

// @ts-ignore: decorator
@inline
export function tenTo(task: Task, exponent: i32): f64 {
  return load<f64>(task.tens + ((<usize>exponent) << 3));
}
