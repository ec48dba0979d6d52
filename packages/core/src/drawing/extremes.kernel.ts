/** Rows of the lowest and the highest reading of every block of a series, for blocks of several sizes. */
export interface Extremes {
  readonly sizes: readonly number[];
  /** Of each size and block: -1 where the block holds no reading. */
  readonly lows: readonly Int32Array[];
  readonly highs: readonly Int32Array[];
}

const first = 16; // rows in the finest blocks
const wider = 4; // from one size to the next

/**
 * Finds the extremes of all blocks in one pass, coarser blocks from finer ones.
 *   v   readings; NaN is no reading   n
 */
export function findExtremes(v: ArrayLike<number>): Extremes {
  const sizes: number[] = [];
  const lows: Int32Array[] = [];
  const highs: Int32Array[] = [];
  const n = v.length;
  for (let size = first; size < n; size *= wider) {
    const m = Math.ceil(n / size);
    const low = new Int32Array(m).fill(-1);
    const high = new Int32Array(m).fill(-1);
    const finerLow = lows.at(-1);
    const finerHigh = highs.at(-1);
    const count = finerLow === undefined ? n : finerLow.length;
    const per = finerLow === undefined ? size : wider;
    for (let i = 0; i < count; i++) {
      const lo = finerLow === undefined ? i : finerLow[i]!;
      const hi = finerHigh === undefined ? i : finerHigh[i]!;
      if (lo < 0 || !Number.isFinite(v[lo]!)) continue;
      const b = Math.floor(i / per);
      if (low[b]! < 0 || v[lo]! < v[low[b]!]!) low[b] = lo;
      if (high[b]! < 0 || v[hi]! > v[high[b]!]!) high[b] = hi;
    }
    sizes.push(size);
    lows.push(low);
    highs.push(high);
  }
  return { sizes, lows, highs };
}

/**
 * Rows that show a stretch of a series: all of them where they are few, else the extremes of the widest blocks of which
 * there are still `least`. A block without a reading gives its first row, so that the gap stays a gap.
 *   from, to   the stretch, rows; `to` is not in it
 * Returns the rows and the size of the blocks they stand for, 1 where they are all there are.
 */
export function rowsWithin(
  extremes: Extremes,
  from: number,
  to: number,
  least: number,
): { rows: Int32Array; size: number } {
  const { sizes, lows, highs } = extremes;
  let s = sizes.length - 1;
  while (s >= 0 && (to - from) / sizes[s]! < least) s--;
  if (s < 0)
    return { rows: Int32Array.from({ length: Math.max(0, to - from) }, (_, i) => from + i), size: 1 };
  const size = sizes[s]!;
  const begin = Math.floor(from / size);
  const end = Math.ceil(to / size);
  const rows = new Int32Array(2 * (end - begin));
  let n = 0;
  for (let b = begin; b < end; b++) {
    const lo = lows[s]![b]!;
    const hi = highs[s]![b]!;
    if (lo < 0) rows[n++] = b * size;
    else {
      rows[n++] = Math.min(lo, hi);
      if (lo !== hi) rows[n++] = Math.max(lo, hi);
    }
  }
  return { rows: rows.subarray(0, n), size };
}
