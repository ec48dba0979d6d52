import { BadInputError } from '../measure/index.js';
import type { Recipe, Run } from '../records/index.js';
import { readLog } from './read-log.js';
import type { SniffedLog } from './sniff-log.js';

/** A recipe made for an earlier log of the same shape, fitted to this one. */
export interface ReusedRecipe {
  readonly recipe: Recipe;
  /** The run it was made for. */
  readonly run: string;
  /** Why it is taken, in a sentence. */
  readonly why: string;
}

/** How much of the log is tried with the earlier recipe. */
const trial_bytes = 262_144;
/** The earlier recipe must read nearly as many rows as the fresh one. @assumed */
const leastShare = 0.98;

/**
 * The recipe of the latest run whose log had the same shape: the same columns under the same names, parted in the same way.
 *
 * What a person answered or corrected then holds again: day before month, the unit, whose column it is. The number of header
 * lines, the encoding and fault codes seen only now are those of the new log. A recipe that reads fewer rows of it than a fresh
 * one is not reused.
 *
 * @param sniffed what the new log says by itself
 * @param runs of the build, in the order they were imported
 * @returns null where no run fits
 */
export function reuseRecipe(
  bytes: Uint8Array,
  sniffed: SniffedLog,
  runs: readonly Pick<Run, 'id' | 'name' | 'recipe'>[],
  file: string,
): ReusedRecipe | null {
  const fresh = rowsRead(bytes, sniffed.recipe, file);
  for (const run of runs.toReversed()) {
    if (!isSameShape(sniffed.recipe, run.recipe)) continue;
    const recipe = fitTo(sniffed.recipe, run.recipe);
    const rows = rowsRead(bytes, recipe, file);
    if (rows === 0 || rows < leastShare * fresh) continue;
    return {
      recipe,
      run: run.id,
      why: `It has the columns of the log of ${run.name ?? run.id}, so it is read by the same recipe.`,
    };
  }
  return null;
}

function isSameShape(fresh: Recipe, known: Recipe): boolean {
  if (fresh.delimiter !== known.delimiter || fresh.layout?.form !== known.layout?.form) return false;
  const wear = (name: string) => name.trim().toLowerCase();
  if (fresh.headers !== undefined && known.headers !== undefined) {
    return (
      fresh.headers.length === known.headers.length &&
      fresh.headers.some((name) => name !== '') &&
      fresh.headers.every((name, column) => wear(name) === wear(known.headers?.[column] ?? ''))
    );
  }
  // A recipe from before all names were kept: its own columns must be the ones found, under their names, and the time must be
  // told in the same way, since nothing else says that the time column is the same.
  const columnsOf = (time: Recipe['time']) => (time.style === 'interval' ? '' : time.columns.join());
  if (fresh.time.style !== known.time.style || columnsOf(fresh.time) !== columnsOf(known.time)) return false;
  const name = ({ column, header }: Recipe['channels'][number]) => `${column} ${wear(header)}`;
  const found = new Set(fresh.channels.map(name));
  return (
    known.channels.some(({ header }) => header !== '') &&
    known.channels.length === found.size &&
    known.channels.every((channel) => found.has(name(channel)))
  );
}

/** The known recipe with what differs from file to file; columns in the order of the fresh one, to which its questions refer. */
function fitTo(fresh: Recipe, known: Recipe): Recipe {
  const order = new Map(fresh.channels.map(({ column }, index) => [column, index]));
  const place = ({ column }: Recipe['channels'][number]) => order.get(column) ?? 1000 + column;
  const missing = [...new Set([...known.missing, ...fresh.missing])].slice(0, 40);
  return {
    ...known,
    encoding: fresh.encoding,
    headerLines: fresh.headerLines,
    channels: known.channels.toSorted((one, other) => place(one) - place(other)),
    missing,
    doubtful: known.doubtful ?? 'leave-out',
    ...(fresh.headers !== undefined && { headers: fresh.headers }),
  };
}

/** Rows on the time axis at the beginning of the log; none where the recipe does not read it. */
function rowsRead(bytes: Uint8Array, recipe: Recipe, file: string): number {
  try {
    return readLog(beginningOf(bytes, recipe.encoding), recipe, file).report.rows;
  } catch (error) {
    if (error instanceof BadInputError) return 0;
    throw error;
  }
}

/** The beginning of a log in whole lines: a number cut in two would be another number. */
export function beginningOf(
  bytes: Uint8Array,
  encoding: Recipe['encoding'],
  most_bytes = trial_bytes,
): Uint8Array {
  if (bytes.length <= most_bytes) return bytes;
  const lineFeed = bytes.lastIndexOf(0x0a, most_bytes);
  if (lineFeed < 0) return bytes;
  return bytes.subarray(0, lineFeed + (encoding === 'utf-16le' ? 2 : 1));
}
