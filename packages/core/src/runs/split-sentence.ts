import type { Recipe } from '../records/index.js';
import type { RowCells } from './split-row.js';

/** What may stand between the words of a reading and its number; bounded, so that a line of blanks keeps nobody busy. */
const link = String.raw`\s{0,9}(?:[:=]|->|→)?\s{0,9}(?:(?:is|at|was|reads|are)\s{1,9})?`;
const value = String.raw`[+\-−]?(?:\d[\d.,]*\d|\d)(?:\s?(?:[°º˚\uFFFD]\s?)?[CFK](?![\p{L}\d])|\s?℃|\s?℉|\s?deg\s?[CFK](?![\p{L}]))?`;
const word = String.raw`[^\s,;|\])]+`;

/** The stamp a line of words begins with: a date and a time, a time of day, or a count, perhaps with its unit or its word. */
export const stampAtStart =
  /^[\s[(<{"']{0,40}(?:(?:t|time|at|after|elapsed|uptime)\b\s{0,9}[:=]?\s{0,9})?((?:\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/. ](?:\d{1,2}|[A-Za-z]{3,9})[-/. ]\d{2,4})[T ,_]{1,9}\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?:\s?[AaPp]\.?[Mm]\.?)?(?:\s?Z|\s?[+-]\d{2}:?\d{2})?|\d{1,4}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?:\s?[AaPp]\.?[Mm]\.?)?|\d+(?:[.,]\d+)?)(?![\d/]|:\d)/;

/**
 * Finds in a line of words the stamp at its beginning and, for each channel, the number behind the words of its header:
 * `10:00:00 pack is 21.5 °C, room 20.1 °C`. The order of the readings does not matter.
 */
export class SentenceSplitter {
  private readonly readings: readonly { readonly column: number; readonly pattern: RegExp }[];
  private readonly width: number;

  constructor(channels: Recipe['channels']) {
    this.readings = channels.map(({ column, header }) => ({ column, pattern: readingOf(header) }));
    this.width = 1 + Math.max(...channels.map(({ column }) => column));
  }

  split(text: string, from: number, to: number, cells: RowCells): void {
    // Longer than any logger's sentence; what lies behind is not searched.
    const line = text.slice(from, Math.min(to, from + 4000));
    cells.clear(this.width);
    const stamp = stampAtStart.exec(line);
    const after = stamp === null ? 0 : stamp[0].length;
    if (stamp?.[1] !== undefined) cells.place(0, from + after - stamp[1].length, from + after);
    for (const { column, pattern } of this.readings) {
      if (column === 0) continue;
      pattern.lastIndex = after;
      const found = pattern.exec(line);
      if (found?.[1] === undefined) continue;
      const end = found.index + found[0].length;
      cells.place(column, from + end - found[1].length, from + end);
    }
  }
}

function readingOf(header: string): RegExp {
  const words = header
    .trim()
    .split(/\s+/)
    .map((part) => part.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&'))
    .join('\\s+');
  return new RegExp(`(?<![\\p{L}\\p{N}])${words}(?![\\p{L}\\p{N}])${link}(${value}|${word})`, 'giu');
}

/** The readings of a line of words in the order they stand: the words before each number, and the number. */
export function readingsOf(line: string): { label: string; cell: string }[] {
  const stamp = stampAtStart.exec(line);
  if (stamp === null) return [];
  const pattern = new RegExp(
    `(?<![\\p{L}\\p{N}_.#/-])(\\p{L}[\\p{L}\\p{N}_.#/-]*(?:[ ][\\p{L}\\p{N}_#/-]+){0,3}?)${link}(?<=[\\s:=>→])(${value})(?=[\\s,;|\\])]|\\.?$)`,
    'giu',
  );
  pattern.lastIndex = stamp[0].length;
  return [...line.slice(0, 1000).matchAll(pattern)]
    .filter(({ index }) => index >= stamp[0].length)
    .map(([, label = '', cell = '']) => ({ label: bareLabel(label), cell }));
}

/** `and room` and `temp of room` name the room. */
function bareLabel(label: string): string {
  return label
    .replace(/^(?:(?:and|the|with|but|while|c|f|k|s|sec|seconds?|ms|min|info|debug)\s+)+/i, '')
    .trim();
}
