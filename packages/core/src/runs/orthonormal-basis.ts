/** Columns that a fit has in any case, taken out of all others once, so that what is tried on top of them costs a few products. */
export interface OrthonormalBasis {
  readonly basis: Float64Array[];
  /** What is left of a column when the fixed ones have taken what they could make of it. */
  readonly clear: (column: Float64Array) => Float64Array;
}

/**
 * Gram-Schmidt, twice for accuracy; a column that those before it can make is left out.
 * @source [GVL] section 5.2.8
 */
export function orthonormalBasis(fixed: readonly Float64Array[]): OrthonormalBasis {
  const basis: Float64Array[] = [];
  const clear = (column: Float64Array) => {
    const left = column.slice();
    for (let pass = 0; pass < 2; pass++) {
      for (const axis of basis) {
        const share = product(axis, left);
        for (let i = 0; i < left.length; i++) left[i] = (left[i] as number) - share * (axis[i] as number);
      }
    }
    return left;
  };
  for (const column of fixed) {
    const left = clear(column);
    const length = Math.sqrt(product(left, left));
    if (length > 1e-9 * Math.sqrt(column.length)) basis.push(left.map((value) => value / length));
  }
  return { basis, clear };
}

export function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}

/**
 * By how much two columns lessen the sum of squares, from their products: a = x·x, b = x·z, c = z·z, p = x·y, q = z·y.
 * None where the two are one.
 */
export function explainedByTwo(a: number, b: number, c: number, p: number, q: number): number {
  const determinant = a * c - b * b;
  return determinant > 1e-12 * a * c ? (c * p * p - 2 * b * p * q + a * q * q) / determinant : 0;
}
