import { formatCount, formatDuration } from '../measure/index.js';
import { linesText } from './describe-doubts.js';

/** Steps taken to guess the median from. */
const guessedFrom = 401;

/**
 * The median step of a time axis of at least two rows, to the microsecond, s.
 *
 * Most logs keep their step, so the median of a few is tried first: counting what lies below it costs a hundredth of sorting
 * millions. Steps are rounded before they are compared, or the noise of their last digits would tell equal ones apart.
 */
export function usualSpacing_s(after_s: Float64Array): number {
  const count = after_s.length - 1;
  const step_us = (row: number) =>
    Math.round(((after_s[row + 1] as number) - (after_s[row] as number)) * 1e6);
  const stride = Math.max(1, Math.floor(count / guessedFrom));
  const few = Float64Array.from({ length: Math.ceil(count / stride) }, (_, index) => step_us(index * stride));
  const guess = few.sort()[few.length >> 1] as number;
  let below = 0;
  let equal = 0;
  for (let row = 0; row < count; row++) {
    // As `step_us` would round it, for a third of the time.
    const off_us = ((after_s[row + 1] as number) - (after_s[row] as number)) * 1e6 - guess;
    if (off_us < -0.5) below++;
    else if (off_us < 0.5) equal++;
  }
  const middle = count >> 1;
  if (below <= middle && middle < below + equal) return guess / 1e6;
  const all = new Float64Array(count);
  for (let row = 0; row < count; row++) all[row] = step_us(row);
  return (all.sort()[middle] as number) / 1e6;
}

export function spacingText(interval_s: number): string {
  return interval_s < 90 ? `${Number(interval_s.toPrecision(3))} s` : formatDuration(interval_s);
}

/** A sentence on the longest gap, where it stands out. */
export function gapText(longest: { gap_s: number; line: number }, interval_s: number): string[] {
  if (longest.gap_s <= Math.max(5 * interval_s, 30)) return [];
  return [`The longest gap, ${formatDuration(longest.gap_s)}, ends in line ${longest.line}.`];
}

/** A sentence on repeated stamps, where they are many. */
export function repeatText(repeats: number, rows: number): string[] {
  if (repeats <= 0.1 * rows) return [];
  return [
    `${formatCount(repeats, 'row')} of ${rows + repeats} repeat the stamp of the row before and were left out: the clock may be coarser than the rows. If so, import again with time style interval.`,
  ];
}

/** A sentence on rows that stood later in the file than their time says. */
export function lateText(lines: readonly number[]): string[] {
  if (lines.length === 0) return [];
  return [
    `${formatCount(lines.length, 'row')} came late and ${lines.length === 1 ? 'was' : 'were'} sorted in by the stamp: ${linesText(lines, lines.length)}.`,
  ];
}

/** A sentence on counts that began again. */
export function restartText(lines: readonly number[]): string[] {
  if (lines.length === 0) return [];
  return [
    `The elapsed time begins again in ${linesText(lines, lines.length)}; the parts are joined as if one row apart, for how long the logger was off is not known.`,
  ];
}
