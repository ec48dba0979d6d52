/** Constants, held in memory: to load one takes an instruction, to write one down in the code takes several. */
const zeros: usize = memory.data<u8>([48, 48, 48, 48, 48, 48, 48, 48, 48, 48, 48, 48, 48, 48, 48, 48], 16);
const nines: usize = memory.data<u8>([9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9], 16);
const tens: usize = memory.data<u16>([10, 10, 10, 10, 10, 10, 10, 10], 16);
const lowBytes: usize = memory.data<u16>([255, 255, 255, 255, 255, 255, 255, 255], 16);
const hundreds: usize = memory.data<u16>([100, 1, 100, 1, 100, 1, 100, 1], 16);
const tenThousands: usize = memory.data<u16>([10000, 1, 10000, 1, 10000, 1, 10000, 1], 16);

/** The digit at `p`; more than 9 where there is none. */
// @ts-ignore: decorator
@inline
export function digitAt(p: usize): u32 {
  return <u32>load<u8>(p) - 0x30;
}

/** Sixteen bytes less '0', so that digits are 0 to 9 and all else is more. */
// @ts-ignore: decorator
@inline
export function digitsOf(text: v128): v128 {
  return i8x16.sub(text, v128.load(zeros));
}

/** All bits of a byte set where it is a digit. */
// @ts-ignore: decorator
@inline
export function areDigits(digits: v128): v128 {
  return i8x16.le_u(digits, v128.load(nines));
}

/**
 * The whole number that some of sixteen digits make, at most fifteen of them. `move` tells from which place each comes, below
 * nothing for a zero; then they are joined two by two, four by four and eight by eight.
 */
// @ts-ignore: decorator
@inline
export function numberOf(digits: v128, move: v128): f64 {
  const moved = i8x16.swizzle(digits, move);
  const twos = v128.and(i16x8.add(i16x8.mul(moved, v128.load(tens)), i16x8.shr_u(moved, 8)), v128.load(lowBytes));
  const fours = i32x4.dot_i16x8_s(twos, v128.load(hundreds));
  const eights = i32x4.dot_i16x8_s(i16x8.narrow_i32x4_s(fours, fours), v128.load(tenThousands));
  const halves = f64x2.convert_low_i32x4_s(eights);
  return f64x2.extract_lane(halves, 0) * 1e8 + f64x2.extract_lane(halves, 1);
}
