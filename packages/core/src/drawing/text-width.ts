import type { Shape } from './shape.js';

/**
 * Advance widths in hundredths of the type size. They are those of DejaVu Sans, the widest face of the style sheet's
 * list, so a text laid out with them fits in every other face as well.
 *
 * @source [DEJAVU] advance widths of DejaVu Sans and DejaVu Sans Bold 2.37, rounded up, measured in a browser
 */
const regularWidths: readonly (readonly [number, string])[] = [
  [30, "'ijlIJ"],
  [34, ' ,.·’/:;\\|'],
  [40, 'f-()[]t'],
  [46, '!²³r"'],
  [52, '*_`°–“”'],
  [56, 'sz?cL'],
  [60, 'Fkvxy'],
  [64, 'PTYaeoäöéß$0123456789ESbdghnpqu{}µü'],
  [70, 'KABVXZÄCR'],
  [79, 'UÜNHΩ&DGOQÖ'],
  [84, 'w#+<=>^~−±→×≤≥'],
  [99, 'M%mW'],
];
const boldWidths: readonly (readonly [number, string])[] = [
  [35, "' ijl"],
  [40, '/\\|,.IJ·’:;'],
  [46, '-f²³!()[]'],
  [53, 't*_`r°–"'],
  [60, '?zcs'],
  [69, 'Lxvy“”kaeäéEFToö'],
  [74, '$0123456789bdghnpqu{}üßSYZCPµ'],
  [79, 'BAKRVXÄ'],
  [86, 'UÜG#+<=>DHN^~−±→×≤≥OQΩÖ'],
  [93, '&w'],
  [105, '@M—…%m'],
  [111, 'W'],
];

function tableOf(rows: readonly (readonly [number, string])[]): ReadonlyMap<string, number> {
  const table = new Map<string, number>();
  for (const [width, characters] of rows) for (const character of characters) table.set(character, width);
  return table;
}
const regular = tableOf(regularWidths);
const bold = tableOf(boldWidths);

/** Size of all text in drawings, in CSS pixels. It is never scaled. */
export const textSize_px = 12;
/** Distance of two lines of text that belong together. */
export const lineHeight_px = 15;

/**
 * How wide a text gets, at most. Characters outside the table count as one full type size, which is what ideographs
 * take; so an estimate errs towards too wide.
 */
export function textWidth_px(words: string, isBold = false): number {
  const table = isBold ? bold : regular;
  let sum = 0;
  for (const character of words) sum += table.get(character) ?? 111;
  return (sum * textSize_px) / 100;
}

/** Words of one line; the quiet ones stand back beside the bold ones. */
export interface WordRun {
  readonly words: string;
  readonly quiet?: boolean;
}

export function runsWidth_px(runs: readonly WordRun[]): number {
  return runs.reduce((sum, run) => sum + textWidth_px(run.words, !run.quiet), 0);
}

/** The text, shortened with an ellipsis where it is wider than it may be; empty where not even that fits. */
export function shortenWords(words: string, widest_px: number, isBold = false): string {
  if (textWidth_px(words, isBold) <= widest_px) return words;
  const characters = [...words];
  while (characters.length > 0 && textWidth_px(`${characters.join('')}…`, isBold) > widest_px)
    characters.pop();
  const shortened = `${characters.join('').trimEnd()}…`;
  return textWidth_px(shortened, isBold) <= widest_px ? shortened : '';
}

/**
 * Breaks runs into lines at spaces. What does not fit into `mostLines` ends in an ellipsis; a single word wider than
 * the line is shortened too.
 */
export function wrapRuns(runs: readonly WordRun[], widest_px: number, mostLines: number): WordRun[][] {
  const greedy = fillLines(runs, widest_px, mostLines);
  if (greedy.length === 2) {
    // Where it fits, a line ends where the words change, as a speaker would pause.
    const splits = runs.slice(1).map((_, index) => [runs.slice(0, index + 1), runs.slice(index + 1)]);
    const broken = splits.map((parts) => parts.flatMap((part) => fillLines(part, widest_px, 3)));
    const longest = (lines: WordRun[][]) => Math.max(...lines.map(runsWidth_px));
    const fitting = broken
      .filter((lines) => lines.length === 2)
      .sort((one, other) => longest(one) - longest(other));
    if (fitting[0] !== undefined) return fitting[0];
  }
  // Lines of about equal length read better than a last line of one word.
  for (let width = 0.5 * widest_px; greedy.length > 1 && width < widest_px; width += 6) {
    const even = fillLines(runs, width, mostLines);
    if (even.length === greedy.length && !even.some((line) => line.some((run) => run.words.endsWith('…'))))
      return even;
  }
  return greedy;
}

function fillLines(runs: readonly WordRun[], widest_px: number, mostLines: number): WordRun[][] {
  const lines: WordRun[][] = [[]];
  const pieces = runs.flatMap(({ words, quiet }) =>
    (words.match(/\S+/g) ?? []).map((word): WordRun => ({ words: word, quiet })),
  );
  for (const [index, piece] of pieces.entries()) {
    const line = lines.at(-1) ?? [];
    const grown = joinPiece(line, piece);
    if (line.length === 0 || runsWidth_px(grown) <= widest_px) {
      lines[lines.length - 1] = grown;
    } else if (lines.length < mostLines) {
      lines.push([piece]);
    } else {
      const rest = pieces
        .slice(index)
        .map((each) => each.words)
        .join(' ');
      lines[lines.length - 1] = joinPiece(line, { words: rest, quiet: piece.quiet });
      break;
    }
  }
  return lines.map((line) => shortenRuns(line, widest_px));
}

function joinPiece(line: readonly WordRun[], piece: WordRun): WordRun[] {
  const last = line.at(-1);
  if (last === undefined) return [piece];
  if (Boolean(last.quiet) === Boolean(piece.quiet)) {
    return [...line.slice(0, -1), { words: `${last.words} ${piece.words}`, quiet: last.quiet }];
  }
  return [...line, { words: ` ${piece.words}`, quiet: piece.quiet }];
}

function shortenRuns(line: readonly WordRun[], widest_px: number): WordRun[] {
  if (runsWidth_px(line) <= widest_px) return [...line];
  const kept: WordRun[] = [];
  let left = widest_px;
  for (const run of line) {
    const words = shortenWords(run.words, left, !run.quiet);
    if (words === '') {
      // No room for an ellipsis of its own: the run before gives up its end for it.
      const before = kept.pop();
      if (before === undefined) break;
      left += textWidth_px(before.words, !before.quiet);
      kept.push({ ...before, words: shortenWords(before.words + run.words, left, !before.quiet) });
      break;
    }
    kept.push({ ...run, words });
    left -= textWidth_px(words, !run.quiet);
    if (words !== run.words) break;
  }
  return kept;
}

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export function boxesOverlap(one: Box, other: Box, clear_px = 0): boolean {
  return (
    one.left < other.right + clear_px &&
    other.left < one.right + clear_px &&
    one.top < other.bottom + clear_px &&
    other.top < one.bottom + clear_px
  );
}

export type Anchor = 'start' | 'middle' | 'end';

/** The box a line of text fills: its ascenders and descenders, about the baseline `y`. */
export function textBox(width_px: number, x: number, y: number, anchor: Anchor = 'start'): Box {
  const left = anchor === 'end' ? x - width_px : anchor === 'middle' ? x - width_px / 2 : x;
  return { left, right: left + width_px, top: y - 10, bottom: y + 3 };
}

function runsOf(shape: Shape, isBold: boolean): number {
  const own = shape.text === undefined ? 0 : textWidth_px(shape.text, isBold);
  const tspans = (shape.children ?? []).filter((child) => child.tag === 'tspan');
  return tspans.reduce(
    (sum, child) => sum + runsOf(child, isBold && child.attrs['font-weight'] === undefined),
    own,
  );
}

/** Where the texts of a drawing stand, by the conservative estimate. Turned text is boxed as it stands. */
export function findTextBoxes(shapes: readonly Shape[]): (Box & { readonly words: string })[] {
  const boxes: (Box & { words: string })[] = [];
  for (const shape of shapes) {
    if (shape.tag !== 'text') {
      boxes.push(...findTextBoxes(shape.children ?? []));
      continue;
    }
    const classes = String(shape.attrs['class'] ?? '').split(' ');
    const width = runsOf(shape, classes.includes('b'));
    const anchor = classes.includes('e') ? 'end' : classes.includes('m') ? 'middle' : 'start';
    const words = [shape.text ?? '', ...(shape.children ?? []).map((child) => child.text ?? '')].join('');
    const turned = /^translate\(([-\d.]+) ([-\d.]+)\) rotate\(-90\)$/.exec(
      String(shape.attrs['transform'] ?? ''),
    );
    if (turned) {
      const [x, y] = [Number(turned[1]), Number(turned[2])];
      boxes.push({ left: x - 10, right: x + 3, top: y - width / 2, bottom: y + width / 2, words });
    } else {
      boxes.push({ ...textBox(width, Number(shape.attrs['x']), Number(shape.attrs['y']), anchor), words });
    }
  }
  return boxes;
}
