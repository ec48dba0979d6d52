/**
 * Sum of squared residuals of every stretch of a series against the curve of a settling body, for all starts and ends.
 *   t  times of the points, even n   |   y   channels, each of n levels
 *   tau  fixed time constants   p-1 |   least   shortest stretch, in points   |   every   stretches begin only at multiples of this point number
 * From each start the stretch grows point by point; a row of the design matrix [1, exp(-(t - t0)/tau)...] is rotated
 * into a triangle (Givens), and what is left of it adds to the sum. cost[i * n + j] covers points i..j, both included.
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
  const m = y.length;
  const cost = new Float64Array(n * n).fill(Number.POSITIVE_INFINITY);
  const R = new Float64Array(p * (p + m)); // triangle, then the rotated right-hand sides
  const row = new Float64Array(p + m);
  const decay = tau.map((one) => t.map((at) => Math.exp(-(at - t[0]!) / one))); // by lag, since the points are even
  const rss = new Float64Array(m);
  for (let i = 0; i < n; i += every) {
    R.fill(0);
    rss.fill(0);
    for (let j = i; j < n; j++) {
      row[0] = 1;
      for (let k = 1; k < p; k++) row[k] = decay[k - 1]![j - i]!;
      for (let c = 0; c < m; c++) row[p + c] = y[c]![j]!;
      for (let k = 0; k < p; k++) {
        const a = R[k * (p + m) + k]!;
        const b = row[k]!;
        if (b === 0) continue;
        const r = Math.sqrt(a * a + b * b);
        const cos = a / r;
        const sin = b / r;
        for (let l = k; l < p + m; l++) {
          const up = R[k * (p + m) + l]!;
          const low = row[l]!;
          R[k * (p + m) + l] = cos * up + sin * low;
          row[l] = cos * low - sin * up;
        }
      }
      let sum = 0;
      for (let c = 0; c < m; c++) {
        rss[c] = rss[c]! + row[p + c]! * row[p + c]!;
        sum += rss[c]!;
      }
      if (j - i + 1 >= least) cost[i * n + j] = sum;
    }
  }
  return cost;
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
    for (let j = 0; j < n; j++) {
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
