import { skipBlanks } from './cell';
import { digitAt, digitsOf, numberOf } from './digits';
import { hasShape, learnShape, lengthOf, moveOf, scaleOf } from './shape';
import { Task, tenTo } from './task';

/** A date, a time of day or both, as the plan says what stays the same in them. Returns where the cell ends, or 0 where the row is not plain. */
// @ts-ignore: decorator
@inline
export function takeStamp(task: Task, shape: usize, kind: u32, p: usize): usize {
  if (kind === 2 && task.isHeadKnown && isHead(task, p)) p += task.prefixLength + 5;
  else p = takeHead(task, kind, p);
  if (p === 0) return 0;
  if (kind !== 3) {
    const digits = digitsOf(v128.load(p));
    if (hasShape(shape, digits)) {
      // A colon, two digits, and a fraction where there is one.
      const tens: u32 = i8x16.extract_lane_u(digits, 1);
      if (tens > 5) return 0;
      const s = <f64>(tens * 10 + i8x16.extract_lane_u(digits, 2));
      task.time = task.minute_s + (s + numberOf(digits, moveOf(shape)) / scaleOf(shape));
      p += lengthOf(shape);
    } else {
      p = takeSeconds(task, shape, p);
      if (p === 0) return 0;
    }
    if (task.suffixLength > 0) {
      const differing = v128.xor(v128.load(p), v128.load(task.suffix));
      if (v128.any_true(v128.and(differing, v128.load(task.suffixMask)))) return 0;
      p += task.suffixLength;
    }
  }
  const c: u32 = load<u8>(p);
  if (c === task.delimiter || c === task.lineEnd) return p;
  p = skipBlanks(p, task.lineEnd);
  const d: u32 = load<u8>(p);
  return d === task.delimiter || d === task.lineEnd ? p : 0;
}

/** Whether date, hours and minutes are those of the row before, byte by byte. */
// @ts-ignore: decorator
@inline
function isHead(task: Task, p: usize): bool {
  const first = v128.and(v128.xor(v128.load(p), v128.load(task.head)), v128.load(task.headMask));
  const second = v128.and(v128.xor(v128.load(p, 16), v128.load(task.head, 16)), v128.load(task.headMask, 16));
  return !v128.any_true(v128.or(first, second));
}

/** The date, which must be the one the plan knows, and hours and minutes, h:mm or hh:mm. Returns where they end, or 0. */
function takeHead(task: Task, kind: u32, p: usize): usize {
  const from = p;
  if (kind !== 4) {
    for (let k = 0; k < task.prefixLength; k++) if (load<u8>(p + k) !== load<u8>(task.prefix + k)) return 0;
    p += task.prefixLength;
    if (kind === 3) return p;
  }
  let h = digitAt(p);
  if (h > 9) return 0;
  if (load<u8>(++p) !== 0x3a) {
    const d = digitAt(p);
    if (d > 9) return 0;
    h = h * 10 + d;
    if (load<u8>(++p) !== 0x3a || h > 23) return 0;
  }
  const m1 = digitAt(p + 1);
  const m2 = digitAt(p + 2);
  if (m1 > 5 || m2 > 9) return 0;
  p += 3;
  task.minute_s = <f64>(h * 3600 + (m1 * 10 + m2) * 60);
  task.isHeadKnown = p - from === task.prefixLength + 5;
  v128.store(task.head, v128.load(from));
  v128.store(task.head, v128.load(from, 16), 16);
  return p;
}

/** Seconds, where the stamp has any, with a fraction of up to nine digits or none; their shape is remembered. Returns where they end, or 0. */
function takeSeconds(task: Task, shape: usize, from: usize): usize {
  let p = from;
  task.time = task.minute_s;
  if (load<u8>(p) !== 0x3a) return p;
  const s1 = digitAt(p + 1);
  const s2 = digitAt(p + 2);
  if (s1 > 5 || s2 > 9) return 0;
  p += 3;
  let fraction: f64 = 0;
  let scale: f64 = 1;
  const c: u32 = load<u8>(p);
  if (c === 0x2e || (c === 0x2c && task.delimiter !== 0x2c)) {
    const digitsFrom = ++p;
    let d = digitAt(p);
    while (d <= 9) {
      fraction = fraction * 10 + <f64>d;
      d = digitAt(++p);
    }
    const count = <i32>(p - digitsFrom);
    if (count === 0 || count > 9) return 0;
    scale = tenTo(task, count);
  }
  // Only what stands behind the mark goes into the number.
  learnShape(shape, from, 4, <i32>(p - from), 16, scale);
  task.time = task.minute_s + (<f64>(s1 * 10 + s2) + fraction / scale);
  return p;
}
