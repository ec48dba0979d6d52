/** Mean and spread of one series, and how far its correlation in time widens the doubt about its mean. */

export function mean(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] as number;
  return sum / values.length;
}

/** Standard deviation with n - 1, by the two-pass formula, which keeps seven equal leading digits from hurting. */
export function standardDeviation(values: ArrayLike<number>): number {
  const centre = mean(values);
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += ((values[i] as number) - centre) ** 2;
  return Math.sqrt(sum / (values.length - 1));
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1
    ? (sorted[middle] as number)
    : ((sorted[middle - 1] as number) + (sorted[middle] as number)) / 2;
}

/** Autocovariance at a lag, divided by n (the biased form, which keeps the sequence positive definite). */
function autocovariance(values: ArrayLike<number>, lag: number, centre: number): number {
  let sum = 0;
  for (let i = 0; i + lag < values.length; i++) {
    sum += ((values[i] as number) - centre) * ((values[i + lag] as number) - centre);
  }
  return sum / values.length;
}

/**
 * Correlation between neighbours, Σ cᵢcᵢ₊₁ / Σ cᵢ².
 * @source [NIST-STRD] definition of the certified lag-1 autocorrelation
 */
export function lagOneCorrelation(values: ArrayLike<number>): number {
  const centre = mean(values);
  return autocovariance(values, 1, centre) / autocovariance(values, 0, centre);
}

/**
 * Factor by which correlation in time widens the variance of a mean: n over the effective number of samples.
 *
 * Sums the autocorrelation over lags up to where the sum of a neighbouring pair stops being positive. It needs no model
 * of the noise, which a first-order model would be.
 *
 * @param values at least 4, evenly spaced
 * @returns 1 for white noise, (1+φ)/(1-φ) in the long run for first-order noise; can fall below 1
 * @source [GEYER-92] section 3.3, initial positive sequence
 */
export function correlationTime(values: ArrayLike<number>): number {
  if (values.length < 4)
    throw new RangeError(`values must hold at least 4 numbers, received ${values.length}.`);
  const centre = mean(values);
  const variance = autocovariance(values, 0, centre);
  if (variance === 0) return 1;
  let tau = -1;
  const about = Float64Array.from(values, (value) => value - centre);
  for (let lag = 0; lag + 1 < about.length; lag += 2) {
    // Both lags in one pass; the first of them has one product more.
    let even = 0;
    let odd = 0;
    const shared = about.length - lag - 1;
    for (let i = 0; i < shared; i++) {
      const value = about[i] as number;
      even += value * (about[i + lag] as number);
      odd += value * (about[i + lag + 1] as number);
    }
    even += (about[shared] as number) * (about[shared + lag] as number);
    const pair = (even / about.length + odd / about.length) / variance;
    if (pair <= 0) break;
    tau += 2 * pair;
  }
  return tau;
}

/**
 * Variance of the mean of n samples of first-order noise, relative to independent ones.
 *
 * @param phi correlation between neighbours, above -1 and below 1
 * @source derived: 1 + 2 Σ (1 - k/n) φᵏ, k = 1 to n-1
 */
export function meanInflation(n: number, phi: number): number {
  if (!(phi > -1 && phi < 1)) throw new RangeError(`phi must lie between -1 and 1, received ${phi}.`);
  let sum = 0;
  let power = 1;
  for (let k = 1; k < n; k++) {
    power *= phi;
    sum += (1 - k / n) * power;
  }
  return 1 + 2 * sum;
}
