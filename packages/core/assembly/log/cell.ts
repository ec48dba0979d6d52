import { digitAt, digitsOf, numberOf } from './digits';
import { hasShape, learnShape, lengthOf, moveOf, scaleOf, shapeBytes } from './shape';
import { Task, tenTo } from './task';

// @ts-ignore: decorator
@inline
export function kindOf(task: Task, column: i32): u32 {
  return load<u8>(task.kinds + column);
}

// @ts-ignore: decorator
@inline
export function shapeOf(task: Task, column: i32): usize {
  return task.shapes + (<usize>column) * shapeBytes;
}

/** Past the blanks behind a cell, and past a carriage return if the line feed is next. */
export function skipBlanks(p: usize, lineEnd: u32): usize {
  while (load<u8>(p) === 0x20) p++;
  return load<u8>(p) === 0x0d && lineEnd === 0x0a && load<u8>(p, 1) === 0x0a ? p + 1 : p;
}

/** A cell with a number in it: a reading, or the time. Returns where it ends, or 0 where the row is not plain. */
// @ts-ignore: decorator
@inline
export function takeNumber(task: Task, shape: usize, column: i32, p: usize): usize {
  const slot = load<i32>(task.slots + ((<usize>column) << 2));
  const digits = digitsOf(v128.load(p));
  if (hasShape(shape, digits)) {
    let end = p + lengthOf(shape);
    let c: u32 = load<u8>(end);
    if (c !== task.delimiter && c !== task.lineEnd) {
      end = skipBlanks(end, task.lineEnd);
      c = load<u8>(end);
    }
    if (c === task.delimiter || c === task.lineEnd) {
      keepNumber(task, slot, numberOf(digits, moveOf(shape)) / scaleOf(shape), p, end);
      return end;
    }
  }
  return takeOther(task, shape, slot, p);
}

/** A cell of another shape than the last one, whose shape is remembered if it is a number; or of none. */
function takeOther(task: Task, shape: usize, slot: i32, from: usize): usize {
  let p = from;
  let c: u32 = load<u8>(p);
  const isNegative = c === 0x2d;
  if (isNegative || c === 0x2b) p++;
  const digitsFrom = p;
  let value: f64 = 0;
  let d = digitAt(p);
  while (d <= 9) {
    value = value * 10 + <f64>d;
    d = digitAt(++p);
  }
  let count = <i32>(p - digitsFrom);
  let after = 16;
  let scale: f64 = 1;
  if (<u32>load<u8>(p) === task.mark) {
    const decimalsFrom = ++p;
    d = digitAt(p);
    while (d <= 9) {
      value = value * 10 + <f64>d;
      d = digitAt(++p);
    }
    after = <i32>(p - decimalsFrom);
    count += after;
    if (count <= 15) scale = tenTo(task, after);
  }
  if (isNegative) scale = -scale;
  const length = <i32>(p - from);
  const isNumber = count > 0 && count <= 15;
  if (isNumber && length < 16) learnShape(shape, from, <i32>(digitsFrom - from), length, after, scale);
  p = skipBlanks(p, task.lineEnd);
  c = load<u8>(p);
  if (isNumber && (c === task.delimiter || c === task.lineEnd)) {
    keepNumber(task, slot, value / scale, from, p);
    return p;
  }
  // The time is left to the general reader with its row, a reading by its cell.
  if (slot === task.channels) return 0;
  while (c !== task.delimiter && c !== task.lineEnd) {
    if (c === 0x22 || c >= 0x80 || (c < 0x20 && (c !== 0x0d || load<u8>(p, 1) !== task.lineEnd))) return 0;
    c = load<u8>(++p);
  }
  leaveAlone(task, slot, from, p);
  return p;
}

/** Notes the time, or a reading in °C; a code and what is out of range are left to the general reader. */
// @ts-ignore: decorator
@inline
function keepNumber(task: Task, slot: i32, value: f64, from: usize, to: usize): void {
  if (slot === task.channels) {
    task.time = value;
    return;
  }
  let isPlain = true;
  const end = task.codesAt + ((<usize>task.codes) << 3);
  for (let at = task.codesAt; at < end; at += 8) if (load<f64>(at) === value) isPlain = false;
  const unit: u32 = load<u8>(task.units + slot);
  if (unit !== 0) value = unit === 1 ? (value - 32) / 1.8 : value - 273.15;
  if (isPlain && value >= -60 && value <= 300) {
    store<f64>(task.readings + ((<usize>(slot * task.capacity + task.rows)) << 3), value);
    task.hasReading |= load<u8>(task.counted + slot);
  } else leaveAlone(task, slot, from, to);
}

function leaveAlone(task: Task, slot: i32, from: usize, to: usize): void {
  const place = (<usize>slot) << 2;
  store<u8>(task.isLone + slot, 1);
  store<usize>(task.loneFrom + place, from);
  store<usize>(task.loneTo + place, to);
  task.anyLone = 1;
}
