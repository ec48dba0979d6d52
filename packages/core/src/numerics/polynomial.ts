/** Value of a polynomial, constant term first. @source from memory: Horner's rule */
export function polynomialAt(coefficients: readonly number[], x: number): number {
  let value = 0;
  for (let power = coefficients.length - 1; power >= 0; power--) {
    value = value * x + (coefficients[power] as number);
  }
  return value;
}

/** Slope of the same polynomial. */
export function polynomialSlopeAt(coefficients: readonly number[], x: number): number {
  let slope = 0;
  for (let power = coefficients.length - 1; power >= 1; power--) {
    slope = slope * x + power * (coefficients[power] as number);
  }
  return slope;
}
