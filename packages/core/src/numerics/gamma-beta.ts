import { checkNumber, checkPositive, checkProbability } from './domain.js';
import { betaPoint, gammaPoint, logBetaTail, logGammaOf, logGammaTail } from './gamma-beta.kernel.js';

const largest = Number.MAX_VALUE;

/**
 * Natural logarithm of the gamma function.
 *
 * The error is about 1e-15 in absolute terms near 1 and 2, where the logarithm itself passes through zero.
 *
 * @param argument above 0
 * @throws RangeError outside that range
 * @source [DLMF] 5.11.1 and 5.5.1
 */
export function logGamma(argument: number): number {
  checkPositive('argument', argument, largest);
  return logGammaOf(argument);
}

/**
 * Regularised lower incomplete gamma function P(shape, x): probability that a gamma variable with unit rate is below x.
 *
 * Small upper tails drown in 1 - P: use `regularizedGammaUpper` for them.
 *
 * @param shape above 0
 * @param x 0 to infinity; below 0 the probability is 0
 * @throws RangeError for a shape that is not positive
 * @source [DLMF] 8.2.4
 */
export function regularizedGammaLower(shape: number, x: number): number {
  checkPositive('shape', shape, largest);
  checkNumber('x', x);
  return Math.exp(logGammaTail(shape, x, false));
}

/** Regularised upper incomplete gamma function Q = 1 - P, with its digits kept in the far tail. @source [DLMF] 8.2.4 */
export function regularizedGammaUpper(shape: number, x: number): number {
  checkPositive('shape', shape, largest);
  checkNumber('x', x);
  return Math.exp(logGammaTail(shape, x, true));
}

/**
 * The x with P(shape, x) = probability.
 *
 * @param shape above 0
 * @param probability 0 to 1
 * @throws RangeError outside those ranges
 */
export function inverseGammaLower(shape: number, probability: number): number {
  checkPositive('shape', shape, largest);
  checkProbability(probability);
  if (probability === 0) return 0;
  if (probability === 1) return Number.POSITIVE_INFINITY;
  return Math.exp(gammaPoint(shape, probability, 1 - probability));
}

/**
 * Regularised incomplete beta function I_x(alpha, beta): probability that a beta variable is below x.
 *
 * @param x 0 to 1; outside, the probability is 0 or 1
 * @param alpha above 0, the exponent that belongs to x
 * @param beta above 0, the exponent that belongs to 1 - x
 * @throws RangeError for parameters that are not positive
 * @source [DLMF] 8.17.2
 */
export function regularizedBeta(x: number, alpha: number, beta: number): number {
  checkNumber('x', x);
  checkPositive('alpha', alpha, largest);
  checkPositive('beta', beta, largest);
  return Math.exp(logBetaTail(alpha, beta, x, 1 - x, false));
}

/**
 * The x with I_x(alpha, beta) = probability.
 *
 * @param probability 0 to 1
 * @param alpha above 0
 * @param beta above 0
 * @throws RangeError outside those ranges
 */
export function inverseBeta(probability: number, alpha: number, beta: number): number {
  checkProbability(probability);
  checkPositive('alpha', alpha, largest);
  checkPositive('beta', beta, largest);
  if (probability === 0 || probability === 1) return probability;
  return 1 / (1 + Math.exp(-betaPoint(alpha, beta, probability, 1 - probability)));
}
