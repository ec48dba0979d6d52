import type { Recipe } from '../records/index.js';
import { LineWalker, RowCells } from './split-row.js';
import { SentenceSplitter } from './split-sentence.js';
import type { UnreadTally } from './unread-tally.js';

type LongLayout = Extract<NonNullable<Recipe['layout']>, { form: 'long' }>;

/** The rows of a log one after the other, whatever its layout. */
export interface RowWalker {
  /** The first line of the row, counted from 1. */
  readonly line: number;
  /** Where that line stands in the text. */
  readonly from: number;
  readonly to: number;
  /** Lines that make up the row. */
  readonly span: number;
  readonly cells: RowCells;
  /** Blank lines passed so far, in all texts. */
  readonly blank: number;
  /** Lines passed, those before the text included. */
  readonly seen: number;
  /** Begins with the next part of the log. @param before lines that stand before it */
  begin(text: string, lineEnd: '\n' | '\r', before: number): void;
  /** Moves to the next row; false where the text holds no other. What is no row is counted in the tally. */
  step(): boolean;
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

/** In long form a row spans lines, so its log is begun once, with all of its text; any other may come in parts. */
export function walkRows(recipe: Recipe, tally: UnreadTally): RowWalker {
  return recipe.layout?.form === 'long'
    ? new LongRows(recipe, recipe.layout, tally)
    : new LineRows(recipe, tally);
}

/** The lines that hold a row, or a reading of one. */
class DataLines {
  text = '';
  walker = new LineWalker('');
  blank = 0;
  private readonly tally: UnreadTally;

  constructor(tally: UnreadTally) {
    this.tally = tally;
  }

  begin(text: string, lineEnd: '\n' | '\r', before: number): void {
    this.text = text;
    this.walker = new LineWalker(text, lineEnd, before);
  }

  step(): boolean {
    while (this.walker.step()) {
      if (this.walker.isBlank()) this.blank++;
      else if (this.walker.isComment()) this.tally.leaveOut('a note, not a row', this.walker.line);
      else return true;
    }
    return false;
  }
}

class LineRows implements RowWalker {
  readonly span = 1;
  readonly cells: RowCells;
  private readonly lines: DataLines;
  private readonly split: ReturnType<typeof lineSplitter>;

  constructor(recipe: Recipe, tally: UnreadTally) {
    this.lines = new DataLines(tally);
    this.cells = new RowCells(recipe.delimiter);
    this.split = lineSplitter(recipe);
  }

  get line(): number {
    return this.lines.walker.line;
  }

  get from(): number {
    return this.lines.walker.from;
  }

  get to(): number {
    return this.lines.walker.to;
  }

  get blank(): number {
    return this.lines.blank;
  }

  get seen(): number {
    return this.lines.walker.line;
  }

  begin(text: string, lineEnd: '\n' | '\r', before: number): void {
    this.lines.begin(text, lineEnd, before);
  }

  step(): boolean {
    const { lines } = this;
    if (!lines.step()) return false;
    this.split(lines.text, lines.walker.from, lines.walker.to, this.cells);
    return true;
  }
}

/** Gathers the readings of one time, each on a line of its own, into a row. */
class LongRows implements RowWalker {
  line = 0;
  from = 0;
  to = 0;
  span = 0;
  readonly cells: RowCells;
  private readonly layout: LongLayout;
  private readonly lines: DataLines;
  private readonly tally: UnreadTally;
  private readonly one: RowCells;
  private readonly timeColumns: readonly number[];
  private readonly columnOf: ReadonlyMap<string, number>;
  private readonly width: number;
  /** The line read last belongs to the next row. */
  private isHeld = false;

  constructor(recipe: Recipe, layout: LongLayout, tally: UnreadTally) {
    this.layout = layout;
    this.lines = new DataLines(tally);
    this.tally = tally;
    this.one = new RowCells(recipe.delimiter);
    this.timeColumns = recipe.time.style === 'interval' ? [] : recipe.time.columns;
    this.columnOf = new Map(recipe.channels.map(({ header, column }) => [header.toLowerCase(), column]));
    this.width = 1 + Math.max(...this.timeColumns, ...recipe.channels.map(({ column }) => column));
    this.cells = new RowCells(recipe.delimiter, Math.max(256, this.width));
  }

  get blank(): number {
    return this.lines.blank;
  }

  get seen(): number {
    return this.lines.walker.line;
  }

  begin(text: string, lineEnd: '\n' | '\r', before: number): void {
    this.lines.begin(text, lineEnd, before);
    this.isHeld = false;
  }

  step(): boolean {
    const { one, cells, layout, lines } = this;
    const { text, walker } = lines;
    let isOpen = false;
    this.span = 0;
    while (this.isHeld || lines.step()) {
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
        this.from = walker.from;
        this.to = walker.to;
        isOpen = true;
      }
      this.span++;
      if (layout.value < one.count) cells.place(column, one.start(layout.value), one.end(layout.value));
    }
    return isOpen;
  }

  private leaveOut(reason: string): void {
    this.tally.leaveOut(reason, this.lines.walker.line);
  }
}
