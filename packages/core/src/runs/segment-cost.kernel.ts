/** Used again by the next call: half a megabyte of new memory for each run would cost as much as filling it. */
let costs = new Float64Array(0);

/**
 * Sum of squared residuals of every stretch of a series against the curve of a settling body, for all starts and ends.
 *   t  times of the points, even n   |   y   channels, each of n levels
 *   tau  fixed time constants   p-1 |   least   shortest stretch, in points   |   every   stretches begin only at multiples of this point number
 * From each start the stretch grows point by point; a row of the design matrix [1, exp(-(t - t0)/tau)...] is rotated
 * into a triangle (Givens), and what is left of it adds to the sum. The points are even, so the design and with it every
 * rotation depend on the lag alone: they are worked out once, and each stretch only rotates its levels.
 * cost[i * n + j] covers points i..j, both included; it is overwritten by the next call.
 *
 * @source [GVL] Golub and Van Loan, Matrix Computations, section 6.5.2 for adding a row to a QR factorization
 */
export function stretchCosts(
  t: Float64Array,
  y: readonly Float64Array[],
  tau: readonly number[],
  least: number,
  every: number,
): Float64Array {
  const n = t.length;
  const p = tau.length + 1;
  const { cos, sin } = lagRotations(t, tau);
  const cost = costs.length === n * n ? costs : new Float64Array(n * n);
  costs = cost;
  cost.fill(Number.POSITIVE_INFINITY);
  const sum = new Float64Array(n);
  const R = new Float64Array(p); // rotated right-hand sides
  for (let i = 0; i < n; i += every) {
    sum.fill(0);
    for (let c = 0; c < y.length; c++) {
      const level = y[c]!;
      let rss = 0;
      R.fill(0);
      for (let j = i; j < n; j++) {
        let low = level[j]!;
        const at = (j - i) * p;
        for (let k = 0; k < p; k++) {
          const up = R[k]!;
          R[k] = cos[at + k]! * up + sin[at + k]! * low;
          low = cos[at + k]! * low - sin[at + k]! * up;
        }
        rss += low * low;
        sum[j] = sum[j]! + rss;
      }
    }
    for (let j = i + least - 1; j < n; j++) cost[i * n + j] = sum[j]!;
  }
  return cost;
}

/** The p rotations that fold the row of each lag into the triangle of the lags before it: cos, sin [lag * p + k]. */
function lagRotations(t: Float64Array, tau: readonly number[]): { cos: Float64Array; sin: Float64Array } {
  const n = t.length;
  const p = tau.length + 1;
  const cos = new Float64Array(n * p).fill(1);
  const sin = new Float64Array(n * p);
  const R = new Float64Array(p * p);
  const row = new Float64Array(p);
  for (let lag = 0; lag < n; lag++) {
    row[0] = 1;
    for (let k = 1; k < p; k++) row[k] = Math.exp(-(t[lag]! - t[0]!) / tau[k - 1]!);
    for (let k = 0; k < p; k++) {
      const r = Math.hypot(R[k * p + k]!, row[k]!);
      if (r === 0) continue;
      const [a, b] = [R[k * p + k]! / r, row[k]! / r];
      cos[lag * p + k] = a;
      sin[lag * p + k] = b;
      for (let l = k; l < p; l++) {
        const up = R[k * p + l]!;
        R[k * p + l] = a * up + b * row[l]!;
        row[l] = a * row[l]! - b * up;
      }
    }
  }
  return { cos, sin };
}

/**
 * Best cut of n points into `parts` stretches by dynamic programming.
 * Returns the index of the first point of each stretch after the first, or null where n is too small.
 */
export function cutBest(
  cost: Float64Array,
  n: number,
  parts: number,
  every: number,
): { cuts: number[]; total: number } | null {
  let best = new Float64Array(n).map((_, j) => cost[j]!);
  const from: Int32Array[] = [];
  for (let k = 1; k < parts; k++) {
    const next = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
    const back = new Int32Array(n).fill(-1);
    // Only ends that a further stretch can begin behind are of use, and of the last stretch only the very end.
    const first = k === parts - 1 ? n - 1 : every - 1;
    for (let j = first; j < n; j += every) {
      for (let i = every; i <= j; i += every) {
        const total = best[i - 1]! + cost[i * n + j]!;
        if (total < next[j]!) {
          next[j] = total;
          back[j] = i;
        }
      }
    }
    from.push(back);
    best = next;
  }
  const total = best[n - 1]!;
  if (!Number.isFinite(total)) return null;
  const cuts: number[] = [];
  let end = n - 1;
  for (let k = parts - 2; k >= 0; k--) {
    const start = from[k]![end]!;
    cuts.unshift(start);
    end = start - 1;
  }
  return { cuts, total };
}
