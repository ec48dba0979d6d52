/** Evenly wide blocks of a series and their means: fewer points, the same curve, no sample left out. */
export interface Blocks {
  readonly after_s: Float64Array;
  readonly level: Float64Array;
}

/**
 * Averages a series over blocks of equal duration; readings that are missing (NaN) are left out, empty blocks too.
 *
 * The mean of an exponential over a block is the same exponential times a constant, so a curve fitted to the blocks has the
 * same plateau and time constants as one fitted to the samples.
 *
 * @param most largest number of blocks
 */
export function averageBlocks(
  after_s: ArrayLike<number>,
  level: ArrayLike<number>,
  from_s: number,
  to_s: number,
  most: number,
): Blocks {
  const width = (to_s - from_s) / most;
  const times: number[] = [];
  const levels: number[] = [];
  let block = -1;
  let timeSum = 0;
  let levelSum = 0;
  let count = 0;
  const close = () => {
    if (count === 0) return;
    times.push(timeSum / count);
    levels.push(levelSum / count);
    timeSum = 0;
    levelSum = 0;
    count = 0;
  };
  for (let i = firstAt(after_s, from_s); i < after_s.length && (after_s[i] as number) <= to_s; i++) {
    const at = after_s[i] as number;
    const value = level[i] as number;
    const mine = Math.min(most - 1, Math.floor((at - from_s) / width));
    if (mine !== block) {
      close();
      block = mine;
    }
    if (Number.isNaN(value)) continue;
    timeSum += at;
    levelSum += value;
    count += 1;
  }
  close();
  return { after_s: Float64Array.from(times), level: Float64Array.from(levels) };
}

/** Index of the first sample at or after a time; the length where there is none. */
export function firstAt(after_s: ArrayLike<number>, at_s: number): number {
  let low = 0;
  let high = after_s.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((after_s[middle] as number) < at_s) low = middle + 1;
    else high = middle;
  }
  return low;
}
