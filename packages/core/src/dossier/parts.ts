/** The few parts that every section is put together from: tables, drawings, levels, lists, title blocks. */
import { type Drawing, drawingText, type LevelLook, levelIcon } from '../drawing/index.js';
import { asMarkup, type Content, html, type Markup } from './markup.js';

/** Room for drawings, px: the column of the page and of A4 paper, and a phone. */
const wide_px = 680;
const narrow_px = 350;
/** Drawings in the margin have one width, which the phone has room for too. */
const margin_px = 232;

/** A drawing laid out twice, of which the style sheet shows one, because text in it is never scaled. */
export function writeDrawing(draw: (width_px: number) => Drawing): Markup {
  return html`<div class="v-w">${asMarkup(drawingText(draw(wide_px)))}</div><div class="v-n">${asMarkup(drawingText(draw(narrow_px)))}</div>`;
}

export function writeMarginDrawing(draw: (width_px: number) => Drawing): Markup {
  return asMarkup(drawingText(draw(margin_px)));
}

/** Words that depend on which of the two lay-outs is shown. */
export function writeByWidth(wordsAt: (width_px: number) => string): Markup {
  const [wide, narrow] = [wordsAt(wide_px), wordsAt(narrow_px)];
  return wide === narrow
    ? html`${wide}`
    : html`<span class="vx-w">${wide}</span><span class="vx-n">${narrow}</span>`;
}

export interface Column {
  readonly title: string;
  /** Figures stand to the right and are not broken. */
  readonly isFigure?: boolean;
}

export interface Row {
  /** Fewer than there are columns, and the last one takes the room of the rest. */
  readonly cells: readonly Content[];
  /** The chosen set-up, in bold. */
  readonly isPick?: boolean;
}

/** A table of up to so many rows is not split between two pages of paper. */
const wholeRows = 12;

/**
 * A table in a box of its own that scrolls where the screen is narrow. The first cell of a row names it.
 *
 * @param about says in full what the table holds, for those who come to it without the page around it
 */
export function writeTable(
  about: string,
  caption: Content,
  columns: readonly Column[],
  rows: readonly Row[],
): Markup {
  if (rows.length === 0) return html``;
  const head = columns.map(
    ({ title, isFigure }) => html`<th scope="col"${className(isFigure && 'r')}>${title}</th>`,
  );
  const body = rows.map(
    (row) => html`<tr${className(row.isPick && 'pick')}>${writeCells(row.cells, columns)}</tr>`,
  );
  const size = `table${rows.length <= wholeRows ? ' short' : ''}${columns.length > 5 ? ' many' : ''}`;
  return html`<div class="${size}">${caption === '' ? '' : html`<p class="cap">${caption}</p>`}<div class="scroll" role="group" tabindex="0" aria-label="${about}"><table><thead><tr>${head}</tr></thead><tbody>${body}</tbody></table></div></div>
`;
}

function writeCells(cells: readonly Content[], columns: readonly Column[]): Markup[] {
  return cells.map((cell, index) => {
    if (index === 0) return html`<th scope="row">${cell}</th>`;
    const span = index === cells.length - 1 ? columns.length - index : 1;
    if (span > 1) return html`<td colspan="${span}" class="dim">${cell}</td>`;
    return html`<td${className(columns[index]?.isFigure && 'r')}>${cell}</td>`;
  });
}

function className(name: string | false | undefined): Markup {
  return name ? html` class="${name}"` : html``;
}

/** A level as shape and word: the shape tells it in grey, the word to those who do not see it. */
export function writeLevel(look: LevelLook, words: Content): Markup {
  const { classes, shapes } = levelIcon(look);
  const icon = asMarkup(drawingText({ width: 14, height: 14, label: '', shapes }));
  return html`<span class="word"><span class="${classes}" aria-hidden="true">${icon}</span>${words}</span>`;
}

export function writeList(items: readonly Content[], none: Content = ''): Markup {
  if (items.length === 0) return none === '' ? html`` : html`<p>${none}</p>`;
  return html`<ul class="list">${items.map((item) => html`<li>${item}</li>\n`)}</ul>`;
}

/** What a drawing must say about itself. */
export function writeTitleBlock(rows: readonly (readonly [label: string, value: Content])[]): Markup {
  return html`<dl class="tb">${rows.map(([label, value]) => html`<div><dt>${label}</dt><dd>${value}</dd></div>`)}</dl>`;
}

/** The work to the left, notes on it to the right of a hairline. Without notes the work stands alone. */
export function writeSheet(work: Content, notes: readonly Markup[], about: string): Markup {
  const aside = notes.length === 0 ? '' : html`<aside class="margin" aria-label="${about}">${notes}</aside>`;
  return html`<div class="sheet"><div class="work">${work}</div>${aside}</div>
`;
}

export function writeNote(title: string, content: Content): Markup {
  return html`<section><p class="nt">${title}</p>${content}</section>`;
}
