import { type Fault, formatNumber } from '@soakbench/core/measure';
import type { Build, Recipe } from '@soakbench/core/records';
import { beginningOf, convertSignals, describeDoubt, linesText, readLog } from '@soakbench/core/runs';
import { faultsOf } from '../api/faults.js';
import { probeName } from '../parts/names.js';
import type { Column, Row } from '../parts/table.js';
import { clockWords } from './clock-words.js';

/** The beginning of a log as the recipe reads it now, or why it cannot be read so. */
export type LogPreview =
  | {
      readonly ok: true;
      readonly columns: readonly Column[];
      readonly rows: readonly Row[];
      /** Wall clock of the first row, ISO 8601, where the log has one. */
      readonly startedAt: string | null;
      readonly unread: readonly string[];
      /** Readings that are none, rows sorted in, joints: in sentences. */
      readonly found: readonly string[];
    }
  | { readonly ok: false; readonly faults: readonly Fault[] };

const shownRows = 6;

/** Reads the head of the log (the server reads all of it) by the recipe, so that each correction shows at once what it does. */
export function previewLog(
  build: Pick<Build, 'probes'>,
  bytes: Uint8Array,
  recipe: Recipe,
  file: string,
): LogPreview {
  try {
    const log = convertSignals(
      readLog(beginningOf(bytes, recipe.encoding), recipe, file),
      build.probes,
      file,
    );
    const rows = Math.min(shownRows, log.after_s.length);
    return {
      ok: true,
      startedAt: log.startedAt,
      columns: [
        { title: 'after start' },
        ...log.channels.map(({ header, column, probe }) => ({
          title: `${probe === undefined ? unusedName(recipe, column, header) : probeName(build, probe)}, °C`,
          right: true,
        })),
      ],
      rows: Array.from({ length: rows }, (_, row) => ({
        key: String(row),
        cells: [
          clockWords(log.after_s[row] ?? 0),
          ...log.channels.map(({ reading_C }) => readingWords(reading_C[row])),
        ],
      })),
      unread: log.report.unread.map(
        ({ reason, count, lines }) => `${count} × ${reason}, in ${linesText(lines, count)}`,
      ),
      found: log.report.doubts.map(describeDoubt),
    };
  } catch (error) {
    return { ok: false, faults: faultsOf(error) };
  }
}

/** A column no probe uses may still serve the thermocouples. */
function unusedName(recipe: Recipe, column: number, header: string): string {
  const isCold = recipe.channels.some((channel) => channel.column === column && channel.coldJunction);
  return `${header || `column ${column + 1}`} (${isCold ? 'cold junction' : 'not used'})`;
}

function readingWords(reading_C: number | undefined): string {
  return reading_C === undefined || Number.isNaN(reading_C) ? 'no reading' : formatNumber(reading_C, 2);
}
