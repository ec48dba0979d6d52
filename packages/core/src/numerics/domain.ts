/** Domain checks of the distributions: the caller erred, and learns which argument and which rule. */
export function checkProbability(probability: number): void {
  if (!(probability >= 0 && probability <= 1)) {
    throw new RangeError(`probability must lie in [0, 1], received ${probability}. Is it in per cent?`);
  }
}

/** Degrees of freedom and shape parameters. `Infinity` passes only where the caller's limit is infinite. */
export function checkPositive(name: string, value: number, limit = Number.POSITIVE_INFINITY): void {
  if (!(value > 0 && value <= limit)) {
    throw new RangeError(`${name} must be above 0 and at most ${limit}, received ${value}.`);
  }
}

export function checkNumber(name: string, value: number): void {
  if (Number.isNaN(value)) throw new RangeError(`${name} must be a number, received ${value}.`);
}
