import { formatCount } from '../measure/index.js';
import type { ReadingDoubt } from './run-result.js';

/** What a doubt says, without its count. */
export function doubtReason({ kind, example_C }: Pick<ReadingDoubt, 'kind' | 'example_C'>): string {
  const value = Number(example_C.toFixed(2));
  switch (kind) {
    case 'power-on':
      return `the value a digital sensor wakes with (${value} °C), far from its neighbours`;
    case 'fault-code':
      return `a fault code rather than a reading (${value} °C), far from its neighbours`;
    case 'lost-decimal':
      return `a lost decimal point (such as ${value} °C), ten or a hundred times its neighbours`;
  }
}

/** A sentence on readings that are none. */
export function describeDoubt(doubt: ReadingDoubt): string {
  return `Column ${doubt.column + 1} holds ${doubtReason(doubt)}: ${formatCount(doubt.count, 'reading')} in ${linesText(doubt.lines, doubt.count)}, ${doubt.leftOut ? 'left out' : 'kept as read'}.`;
}

/** "line 7", "lines 7, 9 and 12", "lines 7, 9, 12 and 40 more". */
export function linesText(lines: readonly number[], count: number): string {
  const shown = lines.slice(0, 5);
  if (count === 1) return `line ${shown[0]}`;
  const rest = count - shown.length;
  if (rest > 0) return `lines ${shown.join(', ')} and ${rest} more`;
  return `lines ${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`;
}
