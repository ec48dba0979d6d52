/** How a log looks after a person said how its text is to be read: everything below that is found anew. */
import { BadInputError, type Fault } from '@soakbench/core/measure';
import type { Build, Recipe } from '@soakbench/core/records';
import { type GivenText, type SniffedLog, sniffLog } from '@soakbench/core/runs';
import { keepProbes } from './import-draft.js';

/** What is known of the file under the person's words; `recipe` holds what they said even where nothing else is found. */
export interface CorrectedText {
  readonly recipe: Recipe;
  readonly sniffed: SeenLog;
  /** Why the file cannot be read so; none where it can. */
  readonly faults: readonly Fault[];
}

/** What the page shows of a log as it is looked at now. */
export type SeenLog = Pick<SniffedLog, 'conclusions' | 'questions' | 'preview' | 'lineColumns'>;

const shownRows = 8;

/**
 * Splits the log again as the person says and finds time, columns and units in the new cells, so that the list of columns is
 * always that of the file as it is read. Probes stay with columns of the same name.
 */
export function correctText(
  build: Pick<Build, 'probes'>,
  bytes: Uint8Array,
  file: string,
  old: Recipe,
  given: GivenText,
): CorrectedText {
  try {
    const sniffed = sniffLog(bytes, { file, probes: build.probes, given });
    return { recipe: keepProbes(sniffed.recipe, old), sniffed, faults: [] };
  } catch (error) {
    if (!(error instanceof BadInputError)) throw error;
    const { layout: _form, ...marks } = given;
    const recipe: Recipe = { ...old, ...marks };
    const preview = rawPreview(bytes, recipe);
    const width = Math.max(preview.header.length, ...preview.rows.map((row) => row.length));
    return {
      recipe,
      sniffed: {
        conclusions: error.faults.map(({ what }) => what),
        questions: [],
        preview,
        lineColumns: Array.from({ length: width }, (_, column) => preview.header[column] ?? ''),
      },
      faults: error.faults,
    };
  }
}

/** The lines as they stand, parted and no more: what a person needs to see why nothing is found. */
function rawPreview(bytes: Uint8Array, recipe: Recipe): SniffedLog['preview'] {
  const text = new TextDecoder(recipe.encoding).decode(bytes.subarray(0, 65_536));
  const lines = text.split(/\r*\n|\r+/);
  const cellsOf = (line: string) => line.split(recipe.delimiter).map((cell) => cell.trim().slice(0, 60));
  return {
    header: cellsOf(lines[recipe.headerLines - 1] ?? '').slice(0, 64),
    rows: lines
      .slice(recipe.headerLines)
      .filter((line) => line.trim() !== '')
      .slice(0, shownRows)
      .map((line) => cellsOf(line).slice(0, 64)),
  };
}
