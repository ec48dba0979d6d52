import { checkNumber, checkPositive, checkProbability } from './domain.js';
import { betaPoint, gammaPoint, logBetaTail, logGammaTail } from './gamma-beta.kernel.js';
import { normalBelow, normalDensity, normalPoint } from './normal.kernel.js';

const infinite = Number.POSITIVE_INFINITY;
const largest = Number.MAX_VALUE;

/** Density of the standard normal distribution. */
export function normalPdf(value: number): number {
  checkNumber('value', value);
  return normalDensity(value);
}

/**
 * Probability that a standard normal variable is below the value. For an upper tail pass the negative value:
 * 1 - cdf loses the digits of a small one.
 *
 * @source [CODY-1969]
 */
export function normalCdf(value: number): number {
  checkNumber('value', value);
  return normalBelow(value);
}

/**
 * Value below which a standard normal variable lies with the given probability.
 *
 * @param probability 0 to 1; the ends give minus and plus infinity
 * @throws RangeError outside that range
 * @source [WICHURA-1988]
 */
export function normalQuantile(probability: number): number {
  checkProbability(probability);
  if (probability === 0) return -infinite;
  if (probability === 1) return infinite;
  return normalPoint(probability);
}

/**
 * Probability that a Student t variable is below the value.
 *
 * For a p-value from above, pass the negative value: the lower tail keeps its digits.
 *
 * @param value any number
 * @param dof degrees of freedom above 0; fractions as from Welch-Satterthwaite and `Infinity` (normal) are allowed
 * @throws RangeError for degrees of freedom that are not positive
 * @source [DLMF] 8.17.2 with I_x(dof/2, 1/2), x = dof / (dof + value²)
 */
export function tCdf(value: number, dof: number): number {
  checkNumber('value', value);
  checkPositive('dof', dof);
  if (dof === infinite) return normalBelow(value);
  const ratio = (value / Math.sqrt(dof)) ** 2;
  const tail = 0.5 * Math.exp(logBetaTail(dof / 2, 0.5, 1 / (1 + ratio), 1 / (1 + 1 / ratio), false));
  return value < 0 ? tail : 1 - tail;
}

/**
 * Value below which a Student t variable lies with the given probability. A two-sided 95 % interval takes 0.975.
 *
 * @param probability 0 to 1; the ends give minus and plus infinity
 * @param dof degrees of freedom above 0; fractions and `Infinity` are allowed
 * @throws RangeError outside those ranges
 */
export function tQuantile(probability: number, dof: number): number {
  checkProbability(probability);
  checkPositive('dof', dof);
  if (probability === 0.5) return 0;
  if (dof === infinite) return normalQuantile(probability);
  const tail = Math.min(probability, 1 - probability);
  const size =
    tail === 0 ? infinite : Math.sqrt(dof) * Math.exp(-0.5 * betaPoint(dof / 2, 0.5, 2 * tail, 1 - 2 * tail));
  return probability < 0.5 ? -size : size;
}

/**
 * Probability that a chi-square variable is below the value.
 *
 * @param value 0 and above; below 0 the probability is 0
 * @param dof degrees of freedom, above 0 and finite; fractions are allowed
 * @throws RangeError for degrees of freedom outside that range
 * @source [DLMF] 8.2.4 with P(dof/2, value/2)
 */
export function chiSquareCdf(value: number, dof: number): number {
  return chiSquareTail(value, dof, false);
}

/** Probability that a chi-square variable is above the value: a p-value with its digits kept. */
export function chiSquareUpperTail(value: number, dof: number): number {
  return chiSquareTail(value, dof, true);
}

function chiSquareTail(value: number, dof: number, upper: boolean): number {
  checkNumber('value', value);
  checkPositive('dof', dof, largest);
  return Math.exp(logGammaTail(dof / 2, value / 2, upper));
}

/**
 * Value below which a chi-square variable lies with the given probability.
 *
 * @param probability 0 to 1
 * @param dof degrees of freedom, above 0 and finite; fractions are allowed
 * @throws RangeError outside those ranges
 */
export function chiSquareQuantile(probability: number, dof: number): number {
  checkProbability(probability);
  checkPositive('dof', dof, largest);
  if (probability === 0) return 0;
  if (probability === 1) return infinite;
  return 2 * Math.exp(gammaPoint(dof / 2, probability, 1 - probability));
}

/**
 * Probability that an F variable is below the value.
 *
 * @param value 0 and above; below 0 the probability is 0
 * @param dofAbove degrees of freedom of the numerator, above 0; fractions and `Infinity` are allowed
 * @param dofBelow degrees of freedom of the denominator, likewise
 * @throws RangeError for degrees of freedom that are not positive
 * @source [DLMF] 8.17.2 with I_x(dofAbove/2, dofBelow/2)
 */
export function fCdf(value: number, dofAbove: number, dofBelow: number): number {
  return fTail(value, dofAbove, dofBelow, false);
}

/** Probability that an F variable is above the value: the p-value of an analysis of variance, with its digits kept. */
export function fUpperTail(value: number, dofAbove: number, dofBelow: number): number {
  return fTail(value, dofAbove, dofBelow, true);
}

function fTail(value: number, dofAbove: number, dofBelow: number, upper: boolean): number {
  checkNumber('value', value);
  checkPositive('dofAbove', dofAbove);
  checkPositive('dofBelow', dofBelow);
  if (value <= 0) return upper ? 1 : 0;
  if (dofAbove === infinite && dofBelow === infinite) return value >= 1 === upper ? 0 : 1;
  if (dofBelow === infinite) return Math.exp(logGammaTail(dofAbove / 2, (value * dofAbove) / 2, upper));
  if (dofAbove === infinite) return Math.exp(logGammaTail(dofBelow / 2, dofBelow / value / 2, !upper));
  const ratio = (value * dofAbove) / dofBelow;
  return Math.exp(logBetaTail(dofAbove / 2, dofBelow / 2, 1 / (1 + 1 / ratio), 1 / (1 + ratio), upper));
}

/**
 * Value below which an F variable lies with the given probability.
 *
 * @param probability 0 to 1
 * @param dofAbove degrees of freedom of the numerator, above 0; fractions and `Infinity` are allowed
 * @param dofBelow degrees of freedom of the denominator, likewise
 * @throws RangeError outside those ranges
 */
export function fQuantile(probability: number, dofAbove: number, dofBelow: number): number {
  checkProbability(probability);
  checkPositive('dofAbove', dofAbove);
  checkPositive('dofBelow', dofBelow);
  if (dofAbove === infinite && dofBelow === infinite) return 1;
  if (probability === 0) return 0;
  if (probability === 1) return infinite;
  const rest = 1 - probability;
  if (dofBelow === infinite) return Math.exp(gammaPoint(dofAbove / 2, probability, rest)) / (dofAbove / 2);
  if (dofAbove === infinite) return dofBelow / 2 / Math.exp(gammaPoint(dofBelow / 2, rest, probability));
  return (dofBelow / dofAbove) * Math.exp(betaPoint(dofAbove / 2, dofBelow / 2, probability, rest));
}
