import { tQuantile } from './distributions.js';
import { checkNumber, checkPositive, checkProbability } from './domain.js';
import { factorLevel, mixOverScale, rangeLevel, risingRoot } from './simultaneous.kernel.js';

const infinite = Number.POSITIVE_INFINITY;
/** More degrees of freedom than this change a probability by less than 1e-9. */
const practicallyInfinite = 1e10;
const mostGroups = 200;
/** A loading nearer to 1 leaves a step too steep for the grid. */
const largestLoading = 0.99999;

/** One-sided asks for the largest of the t variables, two-sided for the largest in size. */
export interface DunnettOptions {
  readonly sides?: 1 | 2;
}

/**
 * Probability that the studentized range of `groups` means lies below the point.
 *
 * The range is divided by the standard deviation of one mean: for a difference of two means with standard
 * uncertainty u, the point is sqrt 2 times |difference| / u. Absolute error below 1e-11.
 *
 * @param point 0 and above; below 0 the probability is 0
 * @param groups number of means compared in all pairs, 2 to 200
 * @param dof degrees of freedom of the standard deviation, above 0; fractions and `Infinity` are allowed
 * @throws RangeError outside those ranges
 * @source [COPENHAVER-HOLLAND-1988]
 */
export function studentizedRangeCdf(point: number, groups: number, dof: number): number {
  checkNumber('point', point);
  return rangeProbability(groups, dof)(point);
}

/**
 * Point below which the studentized range of `groups` means lies with the given probability (Tukey's q).
 *
 * @param probability 0 to 1
 * @param groups number of means compared in all pairs, 2 to 200
 * @param dof degrees of freedom of the standard deviation, above 0; fractions and `Infinity` are allowed
 * @throws RangeError outside those ranges
 */
export function studentizedRangeQuantile(probability: number, groups: number, dof: number): number {
  checkProbability(probability);
  const below = rangeProbability(groups, dof);
  if (probability === 0) return 0;
  if (probability === 1) return infinite;
  const pairs = (groups * (groups - 1)) / 2;
  const least = Math.SQRT2 * tQuantile((1 + probability) / 2, dof);
  const most = -Math.SQRT2 * tQuantile((1 - probability) / (2 * pairs), dof);
  return findPoint(below, probability, least, most, 0);
}

/**
 * Probability that all comparisons with one control stay below the point: each t variable (`sides` 1) or its size
 * (`sides` 2, the default).
 *
 * The comparisons are correlated through the control: rho_ij = b_i b_j. For means of n_i readings against a control
 * of n_0, b_i = sqrt(n_i / (n_0 + n_i)); for known variances, b_i = u_0 / sqrt(u_0² + u_i²). Absolute error below
 * 1e-11. Loadings beyond ±0.99999 are taken as that, which makes a quantile for up to 20 comparisons too large by at
 * most 0.6 %.
 *
 * @param point any number
 * @param loadings b_i, one for each comparison, each within -1 and 1
 * @param dof degrees of freedom of the shared standard deviation, above 0; fractions and `Infinity` are allowed
 * @throws RangeError outside those ranges
 * @source [DUNNETT-1955]; integral over the common factor as in [DUNNETT-SOBEL-1955]
 */
export function dunnettCdf(
  point: number,
  loadings: readonly number[],
  dof: number,
  { sides = 2 }: DunnettOptions = {},
): number {
  checkNumber('point', point);
  return factorProbability(loadings, dof, sides)(point);
}

/**
 * Point that all comparisons with one control stay below with the given probability: Dunnett's critical value.
 *
 * @param probability 0 to 1
 * @param loadings b_i, one for each comparison, as for `dunnettCdf`
 * @param dof degrees of freedom of the shared standard deviation, above 0; fractions and `Infinity` are allowed
 * @throws RangeError outside those ranges
 */
export function dunnettQuantile(
  probability: number,
  loadings: readonly number[],
  dof: number,
  { sides = 2 }: DunnettOptions = {},
): number {
  checkProbability(probability);
  const below = factorProbability(loadings, dof, sides);
  if (probability === 0) return sides === 2 ? 0 : -infinite;
  if (probability === 1) return infinite;
  const least = tQuantile(sides === 2 ? (1 + probability) / 2 : probability, dof);
  const most = -tQuantile((1 - probability) / (sides * loadings.length), dof);
  return findPoint(below, probability, least, most, sides === 2 ? 0 : -infinite);
}

/**
 * A single comparison bounds the point from below, Bonferroni from above. The bracket is opened a little because
 * with one comparison both bounds are the answer, and rounding could shut it out.
 */
function findPoint(
  below: (point: number) => number,
  probability: number,
  least: number,
  most: number,
  floor: number,
): number {
  const low = Math.max(floor, least - 1e-3 * (1 + Math.abs(least)));
  const high = most + 1e-3 * (1 + Math.abs(most));
  return risingRoot((point) => below(point) - probability, low, high);
}

function rangeProbability(groups: number, dof: number): (point: number) => number {
  if (!(Number.isInteger(groups) && groups >= 2 && groups <= mostGroups)) {
    throw new RangeError(`groups must be a whole number from 2 to ${mostGroups}, received ${groups}.`);
  }
  checkPositive('dof', dof);
  const { level, overScale } = remember(rangeCurves, groups, () => {
    const made = rangeLevel(groups);
    return { level: made, overScale: mixOverScale(made, 0, steepness(groups)) };
  });
  const probability = dof < practicallyInfinite ? overScale(dof) : undefined;
  return (point) => {
    if (point <= 0) return 0;
    if (point === infinite) return 1;
    return clip(probability ? probability(Math.log(point)) : level(point));
  };
}

function factorProbability(given: readonly number[], dof: number, sides: 1 | 2): (point: number) => number {
  if (given.length === 0) throw new RangeError('loadings must name at least one comparison, received none.');
  for (const loading of given) {
    if (!(Math.abs(loading) <= 1))
      throw new RangeError(`loadings must lie within -1 and 1, received ${loading}.`);
  }
  checkPositive('dof', dof);
  const { level, atZero, above, under } = remember(factorCurves, `${sides}:${given.join()}`, () => {
    const loadings = given.map((loading) => Math.min(largestLoading, Math.max(-largestLoading, loading)));
    const made = factorLevel(loadings, sides === 2);
    const base = made(0);
    const growth = steepness(loadings.length);
    return {
      level: made,
      atZero: base,
      above: mixOverScale(made, base, growth),
      under: mixOverScale((depth) => made(-depth), base, growth),
    };
  });
  const finite = dof < practicallyInfinite;
  return (point) => {
    if (point === 0 || (point < 0 && sides === 2)) return sides === 2 ? 0 : atZero;
    if (Math.abs(point) === infinite) return point > 0 ? 1 : 0;
    if (!finite) return clip(level(point));
    return clip(point > 0 ? above(dof)(Math.log(point)) : under(dof)(Math.log(-point)));
  };
}

type Mixer = ReturnType<typeof mixOverScale>;

/** Inner curves are kept: a comparison asks for the same family again and again, with other points and degrees of freedom. */
const rangeCurves = new Map<number, { level: (w: number) => number; overScale: Mixer }>();
const factorCurves = new Map<
  string,
  { level: (w: number) => number; atZero: number; above: Mixer; under: Mixer }
>();
const mostCurves = 64;

function remember<Key, Value>(curves: Map<Key, Value>, key: Key, make: () => Value): Value {
  let value = curves.get(key);
  if (value === undefined) {
    if (curves.size >= mostCurves) curves.clear();
    value = make();
    curves.set(key, value);
  }
  return value;
}

/** How fast a level curve of so many comparisons turns, as a term beside the degrees of freedom in the grid's step. */
function steepness(comparisons: number): number {
  return 8 + 6 * Math.log(comparisons + 1);
}

function clip(probability: number): number {
  return Math.min(1, Math.max(0, probability));
}
