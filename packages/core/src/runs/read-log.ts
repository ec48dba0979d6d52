import type { Recipe } from '../records/index.js';
import { LogIntake } from './log-intake.js';
import type { LogReading } from './log-reading.js';

/** A log that is gone through piece by piece, as often as it is asked for; only one piece need be in memory. */
export interface LogPieces extends Iterable<Uint8Array> {
  readonly size_bytes: number;
}

/** The bytes of a log as they came: all at once, or in pieces. */
export type LogBytes = Uint8Array | LogPieces;

/**
 * Reads a log by its recipe.
 *
 * Every row behind the header is either on the time axis or counted in `report.unread` with a reason that begins with
 * "row left out"; a cell without a reading is NaN and counted too. Where a stamp repeats, the first row is kept: a log
 * whose clock writes whole minutes but has a row each second loses most of its rows so, and `report.conclusions` says it.
 * A row that comes a little late is sorted into its place; a damaged stamp costs its row.
 *
 * @param bytes the file as it came; in pieces, memory is needed for the readings and for two of them only
 * @param recipe how to read it, from `sniffLog` or as a person corrected it
 * @param file what the faults call the file
 * @throws BadInputError for an empty or binary file, a recipe that does not fit it, a clock that was set back or leaps ahead
 *   by more than a week, and a log with fewer than two usable rows
 */
export function readLog(bytes: LogBytes, recipe: Recipe, file: string): LogReading {
  if (bytes instanceof Uint8Array) {
    const intake = new LogIntake(recipe, file, { expected_bytes: bytes.length });
    intake.take(bytes, true);
    return intake.finish();
  }
  const intake = new LogIntake(recipe, file, { expected_bytes: bytes.size_bytes });
  for (const piece of bytes) intake.take(piece);
  return intake.finish();
}

/** How far a log has been read. */
export interface LogProgress {
  readonly read_bytes: number;
  readonly rows: number;
}

/**
 * Reads a log that comes in pieces: a file larger than one would hold, or one that is read while the page stays usable.
 *
 * Memory is needed for the readings and for two pieces; for a log in long form, whose rows span lines, for all of it. A log that has no line feed in its first megabytes is taken to end its lines with
 * a carriage return.
 *
 * @param pieces in their order, of any size; a megabyte or a few serve best
 * @param options.expected_bytes size of the whole log, where it is known
 * @param options.onProgress called after each piece
 * @param options.signal stops the reading between two pieces; what it throws then is the signal's own reason
 * @throws BadInputError as `readLog`; also for a line longer than 16 MiB
 */
export async function readLogInPieces(
  pieces: AsyncIterable<Uint8Array>,
  recipe: Recipe,
  file: string,
  options: {
    readonly expected_bytes?: number;
    readonly onProgress?: (progress: LogProgress) => void;
    readonly signal?: { throwIfAborted(): void };
  } = {},
): Promise<LogReading> {
  const { expected_bytes, onProgress, signal } = options;
  const intake = new LogIntake(recipe, file, { expected_bytes });
  let read_bytes = 0;
  signal?.throwIfAborted();
  for await (const piece of pieces) {
    signal?.throwIfAborted();
    intake.take(piece);
    read_bytes += piece.length;
    onProgress?.({ read_bytes, rows: intake.count });
  }
  return intake.finish();
}
