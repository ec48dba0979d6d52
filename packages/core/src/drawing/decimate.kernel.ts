export interface DecimatedLine {
  /** Kept rows, by their index in the series. */
  readonly rows: number[];
  /** Positions in `rows` where a new line begins. */
  readonly breaks: number[];
}

/**
 * The part of a long series that a chart can show: of each pixel column the lowest and the highest reading, in the
 * order they came, at their own times. Extremes are kept exactly; nothing is averaged.
 *   t, v    times and readings; NaN is no reading        s, °C     n
 *   a, b    time to pixels: a + b t
 *   usual   time between two readings of this channel    s
 * A line breaks where readings are missing: over a row without a reading (unless the channel is logged less often than
 * the rows come), and where no row came for five times the usual time. A gap inside one column is too narrow to see.
 * One pass, so a million rows stay cheap.
 */
export function decimate(
  t: ArrayLike<number>,
  v: ArrayLike<number>,
  a: number,
  b: number,
  usual: number,
): DecimatedLine {
  const rows: number[] = [];
  const breaks: number[] = [];
  const n = Math.min(t.length, v.length);
  let column = -1;
  let low = -1;
  let high = -1;
  let last = -1;
  const flush = () => {
    if (low < 0) return;
    if (low === high) rows.push(low);
    else if (low < high) rows.push(low, high);
    else rows.push(high, low);
    low = -1;
    high = -1;
  };
  for (let i = 0; i < n; i++) {
    const y = v[i]!;
    if (!Number.isFinite(y)) continue;
    const gap = last < 0 ? 0 : t[i]! - t[last]!;
    const here = Math.floor(a + b * t[i]!);
    if (here !== column) {
      flush();
      if (last < 0 || gap > 5 * usual || (i - last > 1 && gap > 1.9 * usual)) breaks.push(rows.length);
      column = here;
    }
    if (low < 0 || y < v[low]!) low = i;
    if (high < 0 || y > v[high]!) high = i;
    last = i;
  }
  flush();
  return { rows, breaks };
}

/** Usual time between readings: the median of up to 401 spacings taken evenly over the series. */
export function usualSpacing(t: ArrayLike<number>, v: ArrayLike<number>): number {
  const spacings: number[] = [];
  const n = Math.min(t.length, v.length);
  const stride = Math.max(1, Math.floor(n / 401));
  for (let i = 0; i < n; i += stride) {
    if (!Number.isFinite(v[i]!)) continue;
    let next = i + 1;
    // A sensor that is open for hours must not make this search quadratic.
    while (next < n && next - i < 200 && !Number.isFinite(v[next]!)) next++;
    if (next < n && Number.isFinite(v[next]!)) spacings.push(t[next]! - t[i]!);
  }
  spacings.sort((one, other) => one - other);
  return spacings.length === 0 ? 0 : spacings[Math.floor(spacings.length / 2)]!;
}
