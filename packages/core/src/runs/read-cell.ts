import { celsiusFromFahrenheit, celsiusFromKelvin } from '../measure/index.js';
import type { Recipe } from '../records/index.js';
import { isRawUnit } from './channel-unit.js';
import { NumberReader } from './read-number.js';
import type { RowCells } from './split-row.js';
import type { UnreadTally } from './unread-tally.js';

/** No probe on a bench reads outside this; what lies there is a code for a fault. The range the records allow. */
export const readable_C = [-60, 300] as const;

/** Reads cells; what it cannot read it counts and answers with NaN. */
export class CellReader {
  private readonly numbers: NumberReader;
  private readonly words: ReadonlySet<string>;
  /** Numbers that stand for no reading. */
  readonly codes: readonly number[];

  private readonly tally: UnreadTally;
  /** The last cell's reading where it was out of range, °C; NaN else. */
  outside_C = Number.NaN;

  constructor(recipe: Recipe, tally: UnreadTally) {
    this.tally = tally;
    this.numbers = new NumberReader(recipe.decimal, recipe.thousands);
    this.words = new Set(recipe.missing.map((word) => word.trim().toLowerCase()));
    // A code written -127 in the recipe stands in the log as -127.00.
    this.codes = recipe.missing
      .map((word) => this.numbers.read(word, 0, word.length))
      .filter((code) => !Number.isNaN(code));
  }

  /**
   * A temperature in °C; of a raw signal the number as it stands, which the probe's sensor turns into one later.
   * @param counted false for a column that no probe uses: its empty cells are nobody's loss
   */
  read_C(
    text: string,
    cells: RowCells,
    { column, unit, scale }: Pick<Recipe['channels'][number], 'column' | 'unit' | 'scale'>,
    line: number,
    counted: boolean,
  ): number {
    this.outside_C = Number.NaN;
    if (column >= cells.count || column >= cells.capacity) {
      if (counted) this.tally.count('the row ends before this column', line);
      return Number.NaN;
    }
    const from = cells.start(column);
    const to = cells.end(column);
    if (from === to) {
      if (counted) this.tally.count('empty cell', line);
      return Number.NaN;
    }
    const value = this.numbers.read(text, from, to);
    if (Number.isNaN(value)) {
      if (counted) this.countWord(text.slice(from, to), line);
      return Number.NaN;
    }
    for (const code of this.codes) {
      if (value !== code) continue;
      if (counted) this.tally.count(`no reading: the log says "${text.slice(from, to)}"`, line);
      return Number.NaN;
    }
    if (this.numbers.unit !== undefined && this.numbers.unit !== unit) {
      if (counted) this.tally.count('the cell names another unit than its column', line);
      return Number.NaN;
    }
    if (isRawUnit(unit)) return value;
    // Divided rather than multiplied: 215 / 10 is the double nearest to 21.5.
    const written = scale === undefined ? value : value / Math.round(1 / scale);
    const reading_C =
      unit === 'C' ? written : unit === 'F' ? celsiusFromFahrenheit(written) : celsiusFromKelvin(written);
    if (reading_C >= readable_C[0] && reading_C <= readable_C[1]) return reading_C;
    this.outside_C = reading_C;
    if (counted) {
      this.tally.count(
        'out of range',
        line,
        () => `outside ${readable_C[0]} to ${readable_C[1]} °C, such as "${text.slice(from, to)}"`,
      );
    }
    return Number.NaN;
  }

  private countWord(cell: string, line: number): void {
    const word = cell.toLowerCase();
    if (this.words.has(word))
      this.tally.count(`word ${word}`, line, () => `no reading: the log says "${cell}"`);
    else this.tally.count('not a number', line, () => `not a number, such as "${cell.slice(0, 24)}"`);
  }
}
