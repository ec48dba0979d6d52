import { StampReader } from './read-stamp.js';
import type { SampleTable } from './sniff-table.js';
import { RowCells } from './split-row.js';

/** Names of zones that mean one offset wherever they stand; CST, IST and BST mean several and are not among them. */
const namedZones: Readonly<Record<string, number>> = {
  utc: 0,
  gmt: 0,
  wet: 0,
  west: 60,
  cet: 60,
  mez: 60,
  cest: 120,
  mesz: 120,
  eet: 120,
  eest: 180,
  jst: 540,
};

/** Minutes ahead of UTC that a text names, such as `Time (UTC+02:00)` or `Date Time, GMT-0500`; undefined where it names none. */
export function offsetOfText_min(text: string): number | undefined {
  const counted = /\b(?:UTC|GMT)\s*([+\-−])\s*(\d{1,2}):?(\d{2})?(?!\d)/i.exec(text);
  if (counted) {
    const size = 60 * Number(counted[2]) + Number(counted[3] ?? 0);
    return size > 840 ? undefined : counted[1] === '+' ? size : -size;
  }
  const named = /\b(UTC|GMT|WES?T|CES?T|MES?Z|EES?T|JST)\b/.exec(text);
  return named ? namedZones[named[0].toLowerCase()] : undefined;
}

/** The offset of the log's clock: from the header of its time column, else from a remark above the table that speaks of a zone. */
export function sniffOffset_min(timeHeader: string, preamble: string): number | undefined {
  const own = offsetOfText_min(timeHeader);
  if (own !== undefined) return own;
  for (const line of preamble.split('\n')) {
    if (!/zone|\btz\b|\butc\b|\bgmt\b/i.test(line)) continue;
    const offset = offsetOfText_min(line);
    if (offset !== undefined) return offset;
  }
  return undefined;
}

/** The spacing of the rows that a remark above the table states, s: `Interval: 10 s`, `Sample rate;00:00:05`. */
export function statedInterval_s(preamble: string): number | undefined {
  for (const line of preamble.split('\n')) {
    if (!/\b(interval|period|rate|every|sampling|takt|messintervall|intervall)\b/i.test(line)) continue;
    const clock = /(?<![\d:])(\d{1,2}):(\d{2}):(\d{2})(?![\d:])/.exec(line);
    const counted = /(?<![\d.,])(\d+(?:[.,]\d+)?)\s*(ms|s|secs?|seconds?|mins?|minutes?|h|hours?)\b/i.exec(
      line,
    );
    let interval_s = Number.NaN;
    if (clock) interval_s = 3600 * Number(clock[1]) + 60 * Number(clock[2]) + Number(clock[3]);
    else if (counted) {
      const unit = (counted[2] ?? '').toLowerCase();
      const unit_s = unit === 'ms' ? 1e-3 : unit.startsWith('s') ? 1 : unit.startsWith('m') ? 60 : 3600;
      interval_s = Number((counted[1] ?? '').replace(',', '.')) * unit_s;
    }
    if (interval_s > 0 && interval_s <= 86_400) return interval_s;
  }
  return undefined;
}

const stamps = new StampReader();

/** Whether the stamps of the first row name an offset themselves. */
export function stampsNameOffset(table: SampleTable, columns: readonly number[]): boolean {
  const cells = new RowCells(table.delimiter);
  const text = cells.lay(columns.map((column) => table.rows[0]?.cells[column] ?? ''));
  const last = columns.length - 1;
  stamps.clock_s(text, cells.start(last), cells.end(last));
  if (columns.length > 1) return stamps.hasOffset;
  return (
    /(?:Z|UTC|GMT|[+-]\d{2}:?\d{2})$/i.test(cells.cell(text, 0)) &&
    /[T\s]\d{1,2}:?\d{2}/.test(cells.cell(text, 0))
  );
}
