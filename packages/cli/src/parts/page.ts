/** The sheet a person reads: how wide it is, whether it has colour, and how text is laid on it. */
export interface Page {
  /** Columns. */
  readonly width: number;
  readonly colour: boolean;
}

/** Longer lines are hard to read, however wide the window. */
const widest = 100;
/** Narrower windows wrap by themselves; a table cannot be made to fit there anyway. */
const narrowest = 60;

/**
 * The sheet a stream shows. Colour only on a terminal that has it, and never where NO_COLOR asks for none.
 *
 * @param env the environment, for NO_COLOR and TERM
 */
export function pageOf(
  stream: { readonly isTTY?: boolean; readonly columns?: number },
  env: Readonly<Record<string, string | undefined>>,
): Page {
  const isTerminal = stream.isTTY === true;
  return {
    width: Math.max(narrowest, Math.min(widest, (isTerminal ? stream.columns : undefined) ?? widest)),
    colour: isTerminal && !env['NO_COLOR'] && env['TERM'] !== 'dumb',
  };
}

export type Look = 'holds' | 'look' | 'stop' | 'none' | 'strong' | 'quiet';

const codes: Readonly<Record<Look, readonly [number, number]>> = {
  holds: [32, 39],
  look: [33, 39],
  stop: [31, 39],
  none: [2, 22],
  strong: [1, 22],
  quiet: [2, 22],
};

/** Colour comes last: what it says always stands in the text as well. */
export function paint(page: Page, look: Look, text: string): string {
  if (!page.colour || text === '') return text;
  const [on, off] = codes[look];
  return `\u001b[${on}m${text}\u001b[${off}m`;
}

/** Blanks that must not break, as the formatters put them between number and unit. */
const firmBlanks = /[\u00a0\u202f]/g;

/** Where a line must not end: between a number and its unit or its doubt. */
const firmPlaces = /(?<=\d) (?=(?:°C|°F|K|W|%|mm|min|h|kB)(?![\p{L}\d])|± )|(?<=±) (?=\d)/gu;

/** Columns a text takes, colour left out. */
export function widthOf(text: string): number {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the colour codes of a terminal
  return [...text.replace(/\u001b\[\d+m/g, '')].length;
}

/** Text as it goes to the terminal: searching for "7.0 K" finds it. */
export function softenBlanks(text: string): string {
  return text.replace(firmBlanks, ' ');
}

/**
 * Breaks a text between words.
 *
 * @param first what the first line begins with; the others are indented as far
 */
export function wrap(page: Page, text: string, first = ''): string[] {
  const indent = ' '.repeat(widthOf(first));
  const lines: string[] = [];
  let line = first;
  let isEmpty = true;
  for (const word of text.replace(firmPlaces, '\u00a0').split(/[ \n]+/)) {
    if (!isEmpty && widthOf(line) + 1 + widthOf(word) > page.width) {
      lines.push(line);
      line = indent;
      isEmpty = true;
    }
    line += isEmpty ? word : ` ${word}`;
    isEmpty = false;
  }
  return [...lines, line];
}

/** A titled list; nothing where there is nothing to list. */
export function list(page: Page, title: string, items: readonly string[]): string[] {
  if (items.length === 0) return [];
  return ['', paint(page, 'strong', title), ...items.flatMap((item) => wrap(page, item, '  · '))];
}

/** A heading of its own, with a blank line before it. */
export function heading(page: Page, title: string): string[] {
  return ['', paint(page, 'strong', title)];
}
