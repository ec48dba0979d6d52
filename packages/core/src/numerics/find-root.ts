/** Steps are enough when they no longer change the root: this is some hundred times the rounding of one number. */
const step = 1e-13;
/** Halving a range of any size to a double's last digit takes fewer. */
const mostSteps = 200;

/**
 * The root of a strictly monotone function, by Newton's steps from a guess, halving the range where a step leaves it.
 *
 * The range must hold the root; where it does not, the answer is the end of the range nearest to it.
 *
 * @param valueAt rising or falling throughout the range
 * @param slopeAt its derivative, never 0
 * @source [PRESS-07] section 9.4, Newton's method with bisection as its safeguard
 */
export function findRoot(
  valueAt: (x: number) => number,
  slopeAt: (x: number) => number,
  guess: number,
  range: readonly [number, number],
): number {
  let [low, high] = range;
  let x = Math.min(high, Math.max(low, guess));
  for (let steps = 0; steps < mostSteps; steps++) {
    const value = valueAt(x);
    if (value === 0) return x;
    const slope = slopeAt(x);
    if (value > 0 === slope > 0) high = x;
    else low = x;
    const newton = x - value / slope;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - x) <= step * Math.max(1, Math.abs(x))) return next;
    x = next;
  }
  return x;
}
