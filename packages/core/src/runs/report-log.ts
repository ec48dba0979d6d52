/** What a log turned out to hold: what was read, what was not and why, and what a person should know of it. */
import { formatCount, formatDuration } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import { isRawUnit } from './channel-unit.js';
import { describeDoubt } from './describe-doubts.js';
import { describeRecipe } from './describe-recipe.js';
import {
  gapText,
  lateText,
  repeatText,
  restartText,
  spacingText,
  usualSpacing_s,
} from './describe-spacing.js';
import { type DoubtfulColumn, findDoubts } from './find-doubts.js';
import type { RowLines } from './row-lines.js';
import type { ImportReport } from './run-result.js';
import type { UnreadTally } from './unread-tally.js';

interface ReadRows {
  readonly recipe: Recipe;
  /** Seconds since the first row, of each row. */
  readonly after_s: Float64Array;
  readonly lines: RowLines;
  /** Readings of each channel; doubtful ones become NaN here where the recipe leaves them out. */
  readonly columns: readonly (Recipe['channels'][number] &
    Pick<DoubtfulColumn, 'outside_C' | 'reading_C'> & { readonly counted: boolean })[];
  readonly tally: UnreadTally;
  /** Lines of the file, how many of them are blank, and how many belong to rows on the time axis. */
  readonly lineCount: { readonly seen: number; readonly blank: number; readonly read: number };
  /** Rows with the stamp of the row before. */
  readonly repeats: number;
  readonly late: readonly number[];
  readonly restarts: readonly number[];
}

export function reportLog(seen: ReadRows): ImportReport {
  const { recipe, after_s, lines, tally, lineCount, late, restarts } = seen;
  const doubts = findDoubts(
    seen.columns.flatMap(({ unit, counted, ...column }) =>
      counted && !isRawUnit(unit) ? [{ ...column, probe: column.probe, unit }] : [],
    ),
    lines,
    recipe.doubtful === 'leave-out',
  );
  const interval_s = usualSpacing_s(after_s);
  const rows = after_s.length;
  const header = Math.min(recipe.headerLines, lineCount.seen);
  return {
    rows,
    unread: tally.list(),
    lines: {
      header,
      blank: lineCount.blank,
      read: lineCount.read,
      leftOut: lineCount.seen - header - lineCount.blank - lineCount.read,
    },
    recipe,
    conclusions: [
      ...describeRecipe(recipe),
      `${formatCount(rows, 'row')}, usually ${spacingText(interval_s)} apart, over ${formatDuration(after_s.at(-1) ?? 0)}.`,
      ...gapText(longestGap(after_s, lines), interval_s),
      ...repeatText(seen.repeats, rows),
      ...lateText(late),
      ...restartText(restarts),
      ...doubts.map(describeDoubt),
    ],
    interval_s,
    doubts,
    late,
    restarts,
  };
}

function longestGap(after_s: Float64Array, lines: RowLines): { gap_s: number; line: number } {
  let gap_s = 0;
  let at = 0;
  for (let row = 1; row < after_s.length; row++) {
    const step_s = (after_s[row] as number) - (after_s[row - 1] as number);
    if (step_s > gap_s) {
      gap_s = step_s;
      at = row;
    }
  }
  return { gap_s, line: lines.at(at) };
}
