import { celsiusFromFahrenheit, celsiusFromKelvin, kelvinFromCelsius } from '../measure/index.js';
import type { ChannelUnit } from '../records/index.js';
import type { RawUnit } from './channel-unit.js';
import type { RowLines } from './row-lines.js';
import type { ReadingDoubt } from './run-result.js';
import { namedLines } from './unread-tally.js';

/** One column of readings as read, with what was out of range. */
export interface DoubtfulColumn {
  readonly column: number;
  readonly header: string;
  readonly probe: string | undefined;
  readonly unit: Exclude<ChannelUnit, RawUnit>;
  /** °C; NaN where there was no reading. Doubtful readings become NaN where they are to be left out. */
  readonly reading_C: Float64Array;
  /** Readings outside every probe's range, by their line, °C. */
  readonly outside_C: ReadonlyMap<number, number>;
}

/** No probe on a pack moves this far from one row to the next and back. @assumed ten kelvin: a moved probe moves less, a fault more */
const jump_K = 10;

/** What a digital sensor gives before its first conversion. @assumed common practice, no source; stated by makers of such sensors */
const powerOn_C = 85;

/** Numbers within a probe's range that loggers write for an open, shorted or railed sensor. @assumed common practice, no source */
const faultCodes_C: readonly number[] = [
  -55, -50, -40, 0, 125, 127, 127.5, 127.9375, 150, 200, 255, 256, 300,
];

/** Readings that stand for this many rows are a level, not an episode. @assumed */
const longestTail = 20;

type Kind = ReadingDoubt['kind'];

/**
 * Readings that no device gives between its neighbours: the value a sensor wakes with, a fault code, a lost decimal point.
 *
 * Each is told by where it stands, not by its value alone: 85 °C between 84 and 86 °C is a reading, between 21 and 22 °C it is
 * not. An episode must end near where it began; what stays is taken for a reading.
 *
 * @param lines the line of each row
 * @param leaveOut whether the doubtful readings become NaN
 */
export function findDoubts(
  columns: readonly DoubtfulColumn[],
  lines: RowLines,
  leaveOut: boolean,
): ReadingDoubt[] {
  return columns.flatMap((column) => {
    const found = doubtsOf(column, lines);
    return (['power-on', 'fault-code', 'lost-decimal'] as const).flatMap((kind): ReadingDoubt[] => {
      const rows = found.filter((each) => each.kind === kind);
      const [first] = rows;
      if (first === undefined) return [];
      if (leaveOut) for (const { row } of rows) column.reading_C[row] = Number.NaN;
      return [
        {
          kind,
          column: column.column,
          probe: column.probe ?? null,
          count: rows.length,
          lines: rows.slice(0, namedLines).map(({ row }) => lines.at(row)),
          example_C: first.value_C,
          leftOut: leaveOut,
        },
      ];
    });
  });
}

function doubtsOf(column: DoubtfulColumn, lines: RowLines): { row: number; kind: Kind; value_C: number }[] {
  const { reading_C, outside_C } = column;
  let near_C = firstLevel_C(reading_C);
  if (Number.isNaN(near_C)) return [];
  const found: { row: number; kind: Kind; value_C: number }[] = [];
  let episode: { row: number; kind: Kind; value_C: number }[] = [];
  let before_C = near_C;
  for (let row = 0; row < reading_C.length; row++) {
    // Nearly all of a log is this: readings near the one before, with nothing under suspicion.
    if (episode.length === 0) {
      const calm = calmUntil(reading_C, row, near_C);
      if (calm > row) near_C = reading_C[calm - 1] as number;
      row = calm;
      before_C = near_C;
      if (row === reading_C.length) break;
    }
    let value_C = reading_C[row] as number;
    if (Number.isNaN(value_C)) {
      if (outside_C.size === 0) continue;
      value_C = outside_C.get(lines.at(row)) ?? Number.NaN;
      if (!(Math.abs(scaled_C(value_C, near_C, column.unit) - near_C) < jump_K)) continue;
    }
    if (Math.abs(value_C - near_C) <= jump_K) {
      if (episode.length > 0) {
        found.push(...episode);
        episode = [];
      }
      near_C = value_C;
      before_C = value_C;
      continue;
    }
    const kind = kindOf(value_C, near_C, column.unit, episode.at(-1));
    if (kind === undefined) {
      // Not an episode after all: the level itself has moved.
      episode = [];
      near_C = value_C;
      before_C = value_C;
      continue;
    }
    if (episode.length > 0 && episode[0]?.kind !== kind) near_C = before_C;
    episode.push({ row, kind, value_C });
    if (kind === 'lost-decimal') near_C = scaled_C(value_C, near_C, column.unit);
  }
  if (episode.length <= longestTail) found.push(...episode);
  return found;
}

/** The first row from this one on whose reading is missing or has jumped. */
function calmUntil(reading_C: Float64Array, from: number, near_C: number): number {
  let last_C = near_C;
  for (let row = from; row < reading_C.length; row++) {
    const value_C = reading_C[row] as number;
    if (!(Math.abs(value_C - last_C) <= jump_K)) return row;
    last_C = value_C;
  }
  return reading_C.length;
}

function kindOf(
  value_C: number,
  near_C: number,
  unit: DoubtfulColumn['unit'],
  last: { kind: Kind; value_C: number } | undefined,
): Kind | undefined {
  if (isAt(value_C, powerOn_C)) return 'power-on';
  if (faultCodes_C.some((code_C) => isAt(value_C, code_C))) return 'fault-code';
  if (Math.abs(scaled_C(value_C, near_C, unit) - near_C) <= lostNear_K) return 'lost-decimal';
  return last !== undefined && isAt(value_C, last.value_C) ? last.kind : undefined;
}

/** How near its neighbours a reading must be once its point is put back, K. @assumed less than a probe moves between rows */
const lostNear_K = 3;

const isAt = (value_C: number, code_C: number) => Math.abs(value_C - code_C) < 0.01;

/** The reading with its decimal point one, two or three places to the left in the unit of the log, whichever is nearest, °C. */
function scaled_C(value_C: number, near_C: number, unit: DoubtfulColumn['unit']): number {
  const written = unit === 'C' ? value_C : unit === 'K' ? kelvinFromCelsius(value_C) : value_C * 1.8 + 32;
  let best_C = Number.NaN;
  for (const factor of [10, 100, 1000]) {
    const read = written / factor;
    const read_C = unit === 'C' ? read : unit === 'K' ? celsiusFromKelvin(read) : celsiusFromFahrenheit(read);
    if (!(Math.abs(best_C - near_C) <= Math.abs(read_C - near_C))) best_C = read_C;
  }
  return best_C;
}

/** Where the column begins, told by the middle of its first readings, so that a fault in the first row does not mislead. */
function firstLevel_C(reading_C: Float64Array): number {
  const first: number[] = [];
  for (let row = 0; row < reading_C.length && first.length < 25; row++) {
    const value_C = reading_C[row] as number;
    if (!Number.isNaN(value_C) && !isAt(value_C, powerOn_C)) first.push(value_C);
  }
  return first.sort((one, other) => one - other)[first.length >> 1] ?? Number.NaN;
}
