/** Where the middle half and nine tenths of the draws lie. */
export interface Spread {
  readonly p05: number;
  readonly p25: number;
  readonly p50: number;
  readonly p75: number;
  readonly p95: number;
}

/** Quantiles by linear interpolation between order statistics. Sorts what it is given. */
export function spreadOf(values: Float64Array): Spread {
  values.sort();
  const at = (share: number) => {
    const place = share * (values.length - 1);
    const below = Math.floor(place);
    const low = values[below] ?? Number.NaN;
    const high = values[Math.min(values.length - 1, below + 1)] ?? Number.NaN;
    return low === high ? low : low + (place - below) * (high - low);
  };
  return { p05: at(0.05), p25: at(0.25), p50: at(0.5), p75: at(0.75), p95: at(0.95) };
}
