/** Plain vectors of doubles. Trusts its caller. */

/** a.b, as four sums side by side: one after the other, each sum waits for the last. */
export function dot(a: Float64Array, b: Float64Array): number {
  const end = a.length & ~3;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  for (let c = 0; c < end; c += 4) {
    s0 += a[c]! * b[c]!;
    s1 += a[c + 1]! * b[c + 1]!;
    s2 += a[c + 2]! * b[c + 2]!;
    s3 += a[c + 3]! * b[c + 3]!;
  }
  for (let c = end; c < a.length; c++) s0 += a[c]! * b[c]!;
  return s0 + s1 + (s2 + s3);
}

/** a += s b */
export function addTo(a: Float64Array, s: number, b: Float64Array): void {
  for (let c = 0; c < a.length; c++) a[c] = a[c]! + s * b[c]!;
}

/** a += b; returns the greatest of b, signs left out. */
export function addStep(a: Float64Array, b: Float64Array): number {
  let most = 0;
  for (let c = 0; c < b.length; c++) {
    const by = b[c]!;
    a[c] = a[c]! + by;
    const size = by < 0 ? -by : by;
    if (!(size <= most)) most = size;
  }
  return most;
}

/** r = b - r */
export function subtractFrom(b: Float64Array, r: Float64Array): void {
  for (let c = 0; c < b.length; c++) r[c] = b[c]! - r[c]!;
}
