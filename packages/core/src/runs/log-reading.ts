import type { RowLines } from './row-lines.js';
import type { ImportReport } from './run-result.js';

/** A log as its recipe reads it: one time axis, every column named in the recipe, and what could not be read. */
export interface LogReading {
  /** Seconds since the first row; strictly rising. */
  readonly after_s: Float64Array;
  /** Line of each row in the file, counted from 1; in long form the first of its lines. Not rising where rows came late. */
  readonly lines: RowLines;
  /** Wall clock of the first row, ISO 8601 in UTC, where the log has one. */
  readonly startedAt: string | null;
  readonly channels: readonly LogChannel[];
  readonly report: ImportReport;
}

export interface LogChannel {
  /** Counted from 0, as in the recipe. */
  readonly column: number;
  readonly header: string;
  readonly probe: string | undefined;
  /** °C; NaN where there was no reading. Of a raw signal all is NaN until `convertSignals` has made temperatures of it. */
  readonly reading_C: Float64Array;
  /** The numbers as they stand in the file, in the column's own unit, where that is a raw signal. */
  readonly signal?: Float64Array;
}
