import type { Probe } from '../records/index.js';
import { spacingText } from './describe-spacing.js';
import { namesProbe } from './match-probes.js';
import { NumberReader } from './read-number.js';
import { StampReader } from './read-stamp.js';
import type { SampleTable } from './sniff-table.js';
import {
  type ClockTime,
  evenSpacing_s,
  isClock,
  isHms,
  judgeTime,
  share,
  type TimeCandidate,
} from './time-candidate.js';

const stamps = new StampReader();

/** "second" alone counts; "second cell" names a cell. */
const timeWords =
  /\b(time|times|timestamp|elapsed|after|since|duration|uptime|runtime|millis|milliseconds?|seconds|minutes?|hours?|zeit|epoch|unix)\b|^second$|^t( (ms|s|sec|min|h))?$/i;
const rowWords =
  /^(no|nr|n|#|index|idx|rec|record|records|sample|samples|scan|row|count|counter|id|number)\.?$/i;
const unitWords: readonly [RegExp, 'ms' | 's' | 'min' | 'h'][] = [
  [/\b(ms|msecs?|millis|milliseconds?)\b/i, 'ms'],
  [/\b(s|secs?|seconds|sek)\b|^second$/i, 's'],
  [/\b(mins?|minutes?)\b/i, 'min'],
  [/\b(h|hrs?|hours?)\b/i, 'h'],
];

function numbersOf(table: SampleTable, column: number): number[] {
  const numbers = new NumberReader(table.decimal, table.thousands);
  return table.rows.map(({ cells }) => {
    const cell = cells[column] ?? '';
    const value = numbers.read(cell, 0, cell.length);
    return numbers.unit === undefined ? value : Number.NaN;
  });
}

/** A column that numbers the rows, by its header. */
export function isRowCount(table: SampleTable, column: number, words: string): boolean {
  if (!rowWords.test(words)) return false;
  const values = numbersOf(table, column).filter((value) => !Number.isNaN(value));
  return values.length >= 0.8 * table.rows.length && values.every(Number.isInteger);
}

/** Columns of numbers that count seconds since 1970 or since the start. */
export function numberCandidates(
  table: SampleTable,
  headers: readonly string[],
  probes: readonly Probe[],
): TimeCandidate[] {
  const candidates: TimeCandidate[] = [];
  let firstNumber = -1;
  for (let column = 0; column < table.width; column++) {
    const values = numbersOf(table, column).filter((value) => !Number.isNaN(value));
    if (values.length < 0.8 * table.rows.length || isRowCount(table, column, headers[column] ?? '')) continue;
    if (firstNumber < 0) firstNumber = column;
    const words = headers[column] ?? '';
    const place = `Column ${column + 1}`;
    const first = values[0] ?? 0;
    const last = values.at(-1) ?? 0;
    if (Math.min(first, last) > 9.4e8 && Math.max(first, last) < 4.2e9) {
      candidates.unshift({
        time: { style: 'epoch', columns: [column], unit: 's' },
        why: `${place} counts seconds since 1970.`,
      });
    } else if (Math.min(first, last) > 9.4e11 && Math.max(first, last) < 4.2e12) {
      candidates.unshift({
        time: { style: 'epoch', columns: [column], unit: 'ms' },
        why: `${place} counts milliseconds since 1970.`,
      });
    } else if (
      timeWords.test(words) &&
      rises(values) &&
      !/°|deg|temp|celsius|fahrenheit/i.test(words) &&
      !/\bt\b.*\b[cfk]\b/i.test(words)
    ) {
      candidates.push(elapsedCandidate(column, words, values));
    } else if (
      column === firstNumber &&
      isEven(values) &&
      !namesProbe(words, probes) &&
      !/°|\b(deg|temp|[CFK]\b)/i.test(words)
    ) {
      candidates.push({ ...elapsedCandidate(column, words, values), isGuess: true });
    }
  }
  return candidates;
}

/** Rising from row to row, but for a restart or a damaged row: what is named like a time and does not rise is something else. */
function rises(values: readonly number[]): boolean {
  const steps = values.slice(1).map((value, index) => value - (values[index] ?? 0));
  return steps.filter((step) => step >= 0).length >= 0.9 * steps.length && steps.some((step) => step > 0);
}

/** Rising in steps of nearly one size, as a clock does and a temperature does not. */
function isEven(values: readonly number[]): boolean {
  const steps = values.slice(1).map((value, index) => value - (values[index] ?? 0));
  const usual = steps.toSorted((one, other) => one - other)[steps.length >> 1] ?? 0;
  return (
    usual > 0 &&
    steps.filter((step) => Math.abs(step - usual) <= 0.2 * usual).length >= 0.8 * steps.length &&
    steps.every((step) => step >= 0)
  );
}

function elapsedCandidate(column: number, words: string, values: readonly number[]): TimeCandidate {
  const place = `Column ${column + 1}`;
  const named = unitWords.find(([pattern]) => pattern.test(words));
  if (named) {
    return {
      time: { style: 'elapsed', columns: [column], unit: named[1] },
      why: `${place} is elapsed time; its header names the unit.`,
    };
  }
  const span = (values.at(-1) ?? 0) - (values[0] ?? 0);
  const step = span / Math.max(1, values.length - 1);
  const units = [
    ['s', 1, 'Seconds'],
    ['ms', 1e-3, 'Milliseconds'],
    ['min', 60, 'Minutes'],
    ['h', 3600, 'Hours'],
  ] as const;
  // Bench loggers take a row every tenth of a second to every few minutes.
  const chosen = step >= 400 ? 1 : step < 0.02 ? 3 : 0;
  return {
    time: { style: 'elapsed', columns: [column], unit: units[chosen]?.[0] ?? 's' },
    why: `${place} rises like a clock, but its header names no unit; ${(units[chosen]?.[2] ?? '').toLowerCase()} are taken for now.`,
    questions: [
      {
        field: 'time.unit',
        question: `In which unit does column ${column + 1} count time?`,
        options: units.map(([unit, unit_s, name]) => ({
          label: `${name}: rows ${spacingText(step * unit_s)} apart`,
          set: { 'time.unit': unit },
        })),
        chosen,
      },
    ],
  };
}

/** Columns of h:m:s: time since the start, or the time of day. */
export function clockCandidates(table: SampleTable, headers: readonly string[]): TimeCandidate[] {
  const candidates: TimeCandidate[] = [];
  for (let column = 0; column < table.width; column++) {
    const words = headers[column] ?? '';
    const place = `Column ${column + 1}`;
    const isHmsColumn = share(table, column, isHms) >= 0.8;
    const isClockColumn = share(table, column, isClock) >= 0.8;
    if (!isHmsColumn && !isClockColumn) continue;
    const first = table.rows.map(({ cells }) => cells[column] ?? '').find(isHms) ?? '';
    const first_s = stamps.hms_s(first, 0, first.length);
    const isShort = stamps.parts === 2;
    const saysElapsed = /\b(elapsed|since|duration|runtime|run time|uptime|after)\b/i.test(words);
    const saysClock = /\b(clock|local|day)\b/i.test(words);
    const isElapsed = isHmsColumn && (!isClockColumn || saysElapsed || (!saysClock && first_s < 600));
    const time: ClockTime = isElapsed
      ? { style: 'elapsed', columns: [column], unit: 'h:m:s' }
      : { style: 'clock', columns: [column] };
    const why = isElapsed
      ? `${place} is elapsed time: ${saysElapsed ? 'its header says so' : isClockColumn ? 'it begins near zero' : 'its hours pass 24'}.`
      : `${place} is the time of day: it begins at ${first}.`;
    if (!isElapsed || !isShort) {
      candidates.push({ time, why });
      continue;
    }
    const spacing_s = evenSpacing_s(judgeTime(time, table).times_s);
    candidates.push({
      time,
      why: `${why} Its two parts are read as hours and minutes for now.`,
      questions:
        spacing_s === undefined
          ? []
          : [
              {
                field: 'time',
                question: `Is "${first}" hours and minutes, or minutes and seconds?`,
                options: [
                  { label: `Hours and minutes: rows ${spacingText(spacing_s)} apart`, set: { time } },
                  {
                    label: `Minutes and seconds: rows ${spacingText(spacing_s / 60)} apart`,
                    set: { time: { style: 'interval', interval_s: spacing_s / 60 } },
                  },
                ],
                chosen: 0,
              },
            ],
    });
  }
  return candidates;
}
