import { tQuantile } from './distributions.js';
import { checkNumber, checkPositive } from './domain.js';
import { normalBelow } from './normal.kernel.js';
import { mixOverScale } from './simultaneous.kernel.js';

/** As in the other integrals over the scale: so many degrees of freedom are as good as all. */
const practicallyInfinite = 1e10;

/**
 * Probability that a noncentral t variable is below the value: of a difference that is truly `shift` standard errors wide,
 * divided by its estimated standard error. What power and numbers of runs are computed from.
 *
 * @param value any number
 * @param dof degrees of freedom above 0; fractions and `Infinity` are allowed
 * @param shift noncentrality, any number
 * @throws RangeError for degrees of freedom that are not positive
 * @source [JOHNSON-KOTZ-95] section 31.2: P(Z + shift < value · s), averaged over s = chi / √dof
 */
export function noncentralTCdf(value: number, dof: number, shift: number): number {
  checkNumber('value', value);
  checkNumber('shift', shift);
  checkPositive('dof', dof);
  if (value < 0) return 1 - noncentralTCdf(-value, dof, -shift);
  if (value === 0) return normalBelow(-shift);
  if (value === Number.POSITIVE_INFINITY) return 1;
  if (dof >= practicallyInfinite) return normalBelow(value - shift);
  const base = normalBelow(-shift);
  const level = (point: number) => normalBelow(point - shift);
  return Math.min(1, Math.max(0, mixOverScale(level, base, 12 + shift * shift)(dof)(Math.log(value))));
}

/**
 * Chance that a two-sided t test shows a difference of so many standard errors. A difference called in the wrong direction
 * does not count.
 *
 * @param shift true difference over its true standard error
 * @param dof degrees of freedom above 0
 * @param point what the test statistic must pass; without it the two-sided 5 % point of t
 */
export function tTestPower(shift: number, dof: number, point = tQuantile(0.975, dof)): number {
  return 1 - noncentralTCdf(point, dof, Math.abs(shift));
}
