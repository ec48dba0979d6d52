import type { Recipe } from '../records/index.js';
import { LineWalker, RowCells } from './split-row.js';
import { SentenceSplitter } from './split-sentence.js';
import type { UnreadTally } from './unread-tally.js';

type LongLayout = Extract<NonNullable<Recipe['layout']>, { form: 'long' }>;

/** The rows of a log one after the other, whatever its layout; every line passed is counted as one of four kinds. */
export interface RowWalker {
  /** The first line of the row, counted from 1. */
  readonly line: number;
  /** Lines that make up the row. */
  readonly span: number;
  readonly cells: RowCells;
  readonly count: LineCount;
  step(): boolean;
}

/** Lines of the file, each in one of the four. */
export interface LineCount {
  header: number;
  blank: number;
  /** Lines that belong to a row the walker gave out. */
  row: number;
  /** Lines the walker itself left out, and counted in the tally. */
  leftOut: number;
}

/** Splits one line into cells as the recipe says. */
export function lineSplitter(
  recipe: Pick<Recipe, 'layout' | 'channels'>,
): (text: string, from: number, to: number, cells: RowCells) => void {
  const { layout } = recipe;
  if (layout?.form === 'fixed') return (text, from, to, cells) => cells.cut(text, from, to, layout.starts);
  if (layout?.form === 'sentence') {
    const sentence = new SentenceSplitter(recipe.channels);
    return (text, from, to, cells) => sentence.split(text, from, to, cells);
  }
  return (text, from, to, cells) => cells.split(text, from, to);
}

export function walkRows(text: string, recipe: Recipe, tally: UnreadTally): RowWalker {
  const lines = new DataLines(text, recipe.headerLines, tally);
  return recipe.layout?.form === 'long'
    ? new LongRows(text, recipe, recipe.layout, lines, tally)
    : new LineRows(text, recipe, lines);
}

/** The lines below the header that hold a row. */
class DataLines {
  readonly walker: LineWalker;
  readonly count: LineCount = { header: 0, blank: 0, row: 0, leftOut: 0 };
  private readonly tally: UnreadTally;

  constructor(text: string, headerLines: number, tally: UnreadTally) {
    this.tally = tally;
    this.walker = new LineWalker(text);
    while (this.count.header < headerLines && this.walker.step()) this.count.header++;
  }

  step(): boolean {
    while (this.walker.step()) {
      if (this.walker.isBlank()) {
        this.count.blank++;
      } else if (this.walker.isComment()) {
        this.count.leftOut++;
        this.tally.leaveOut('a note, not a row', this.walker.line);
      } else {
        this.count.row++;
        return true;
      }
    }
    return false;
  }
}

class LineRows implements RowWalker {
  readonly span = 1;
  readonly cells: RowCells;
  readonly count: LineCount;
  private readonly text: string;
  private readonly lines: DataLines;
  private readonly split: ReturnType<typeof lineSplitter>;

  constructor(text: string, recipe: Recipe, lines: DataLines) {
    this.text = text;
    this.lines = lines;
    this.count = lines.count;
    this.cells = new RowCells(recipe.delimiter);
    this.split = lineSplitter(recipe);
  }

  get line(): number {
    return this.lines.walker.line;
  }

  step(): boolean {
    if (!this.lines.step()) return false;
    this.split(this.text, this.lines.walker.from, this.lines.walker.to, this.cells);
    return true;
  }
}

/** Gathers the readings of one time, each on a line of its own, into a row. */
class LongRows implements RowWalker {
  line = 0;
  span = 0;
  readonly cells: RowCells;
  readonly count: LineCount;
  private readonly text: string;
  private readonly layout: LongLayout;
  private readonly lines: DataLines;
  private readonly tally: UnreadTally;
  private readonly one: RowCells;
  private readonly timeColumns: readonly number[];
  private readonly columnOf: ReadonlyMap<string, number>;
  private readonly width: number;
  /** The line read last belongs to the next row. */
  private isHeld = false;

  constructor(text: string, recipe: Recipe, layout: LongLayout, lines: DataLines, tally: UnreadTally) {
    this.text = text;
    this.layout = layout;
    this.lines = lines;
    this.count = lines.count;
    this.tally = tally;
    this.one = new RowCells(recipe.delimiter);
    this.timeColumns = recipe.time.style === 'interval' ? [] : recipe.time.columns;
    this.columnOf = new Map(recipe.channels.map(({ header, column }) => [header.toLowerCase(), column]));
    this.width = 1 + Math.max(...this.timeColumns, ...recipe.channels.map(({ column }) => column));
    this.cells = new RowCells(recipe.delimiter, Math.max(256, this.width));
  }

  step(): boolean {
    const { text, one, cells, layout, lines } = this;
    let isOpen = false;
    this.span = 0;
    while (this.isHeld || lines.step()) {
      const { walker } = lines;
      if (!this.isHeld) one.split(text, walker.from, walker.to);
      this.isHeld = false;
      const name = one.cell(text, layout.name);
      const column = this.columnOf.get(name.toLowerCase());
      if (column === undefined) {
        this.leaveOut(
          name === ''
            ? 'a reading without a name'
            : `a reading named "${name.slice(0, 40)}", which is not used`,
        );
        continue;
      }
      if (isOpen) {
        const isSame = this.timeColumns.every((time) => one.cell(text, time) === cells.cell(text, time));
        if (cells.holds(column) && isSame) {
          this.leaveOut('same time and name as a line before it');
          continue;
        }
        if (cells.holds(column) || (layout.by === 'stamp' && !isSame)) {
          this.isHeld = true;
          return true;
        }
      } else {
        cells.clear(this.width);
        for (const time of this.timeColumns)
          if (time < one.count) cells.place(time, one.start(time), one.end(time));
        this.line = walker.line;
        isOpen = true;
      }
      this.span++;
      if (layout.value < one.count) cells.place(column, one.start(layout.value), one.end(layout.value));
    }
    return isOpen;
  }

  private leaveOut(reason: string): void {
    this.count.row--;
    this.count.leftOut++;
    this.tally.leaveOut(reason, this.lines.walker.line);
  }
}
