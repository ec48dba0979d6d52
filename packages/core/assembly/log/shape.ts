import { areDigits, digitsOf } from './digits';

/**
 * What a column's last number looked like: where its digits stood, and which other bytes between and behind them. The next
 * one mostly looks the same. Then it is read without asking where it ends, and the processor need not wait for the
 * answer before it goes on with the next cell.
 *
 * Sixteen bytes each: the text less '0', and 0 for every digit; which of its bytes matter; where each digit goes, see digits.ts. Then a
 * double, what the whole number of the digits is divided by, below nothing for a minus; and four bytes, the length.
 */
export const shapeBytes: usize = 64;
const maskAt = 16;
const moveAt = 32;
const scaleAt = 48;
const lengthAt = 56;

/** Shapes that no text has: less '0', a byte that is no digit is more than 9. */
export function forgetShapes(from: usize, count: i32): void {
  const end = from + (<usize>count) * shapeBytes;
  for (let shape = from; shape < end; shape += shapeBytes) {
    v128.store(shape, i8x16.splat(1));
    v128.store(shape, i8x16.splat(-1), maskAt);
  }
}

/** Whether a text has a shape; `digits` is the text less '0', where only a digit can become 0. */
// @ts-ignore: decorator
@inline
export function hasShape(shape: usize, digits: v128): bool {
  const differing = v128.xor(v128.andnot(digits, areDigits(digits)), v128.load(shape));
  return !v128.any_true(v128.and(differing, v128.load(shape, maskAt)));
}

// @ts-ignore: decorator
@inline
export function moveOf(shape: usize): v128 {
  return v128.load(shape, moveAt);
}

// @ts-ignore: decorator
@inline
export function scaleOf(shape: usize): f64 {
  return load<f64>(shape, scaleAt);
}

// @ts-ignore: decorator
@inline
export function lengthOf(shape: usize): usize {
  return load<usize>(shape, lengthAt);
}

/**
 * Remembers the shape of the text at `p`: `length` bytes, at most fifteen, and the one behind them. Its number is that of the
 * digits from `from` to `length`; one byte there is a mark that `after` digits follow, 16 if there is none.
 */
export function learnShape(shape: usize, p: usize, from: i32, length: i32, after: i32, scale: f64): void {
  const digits = digitsOf(v128.load(p));
  const place = i8x16(0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15);
  v128.store(shape, v128.andnot(digits, areDigits(digits)));
  v128.store(shape, i8x16.le_s(place, i8x16.splat(<i8>length)), maskAt);
  // Digits go to the end; those before the mark come from one place further up, and from outside the number none come.
  const beforeMark = i8x16.lt_s(place, i8x16.splat(<i8>(16 - after)));
  const move = i8x16.add(i8x16.add(place, i8x16.splat(<i8>(length - 16))), beforeMark);
  v128.store(shape, v128.or(move, i8x16.lt_s(move, i8x16.splat(<i8>from))), moveAt);
  store<f64>(shape, scale, scaleAt);
  store<i32>(shape, length, lengthAt);
}
