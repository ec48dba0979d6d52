import { formatCount, formatDuration } from '../measure/index.js';
import { linesText } from './describe-doubts.js';

/** The median step of a time axis of at least two rows, s. */
export function usualSpacing_s(after_s: Float64Array): number {
  const steps_s = new Float64Array(after_s.length - 1);
  for (let row = 1; row < after_s.length; row++)
    steps_s[row - 1] = (after_s[row] as number) - (after_s[row - 1] as number);
  steps_s.sort();
  return Math.round((steps_s[steps_s.length >> 1] as number) * 1e6) / 1e6;
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
