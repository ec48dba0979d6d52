import { type GivenText, mostCommon, type SampleRow, type SampleTable, splitSample } from './sniff-table.js';
import { RowCells } from './split-row.js';
import { readingsOf, SentenceSplitter, stampAtStart } from './split-sentence.js';

/** A line counts as much as a table's row of which a tenth is text: a clean table is a table. */
const lineScore = 0.9;

/**
 * The beginning of a log of sentences as a table: `10:00:00 pack 21.5 °C, room 20.1 °C`. Column 0 is the stamp, the others
 * are named by the words before their numbers. Undefined where the lines do not repeat the same words.
 */
export function sniffSentences(text: string, given: GivenText): SampleTable | undefined {
  const all = splitSample(text, '\t').filter(({ line }) => line > (given.headerLines ?? 0));
  const read = all
    .slice(0, 400)
    .map((line) => ({ line, readings: readingsOf(text.slice(line.from, line.to)) }));
  const spoken = read.filter(({ readings }) => readings.length > 0);
  if (spoken.length < 2 || spoken.length < 0.5 * read.length) return undefined;
  const labels = commonLabels(spoken.map(({ readings }) => readings.map(({ label }) => label)));
  if (labels.length === 0) return undefined;
  const key = (label: string) => label.toLowerCase();
  const wanted = new Set(labels.map(key));
  const alike = spoken.filter(({ readings }) => readings.some(({ label }) => wanted.has(key(label))));
  if (alike.length < 0.8 * spoken.length) return undefined;

  const splitter = new SentenceSplitter(
    labels.map((header, index) => ({ column: index + 1, header, unit: 'C' as const })),
  );
  const cells = new RowCells(' ');
  const rows = alike.map(({ line }): SampleRow => {
    splitter.split(text, line.from, line.to, cells);
    return { ...line, cells: cells.all(text) };
  });
  const commas = rows.filter((row) => row.cells.slice(1).some((cell) => /\d,\d/.test(cell))).length;
  const firstLine = rows[0]?.line ?? 1;
  return {
    text,
    delimiter: ' ',
    layout: { form: 'sentence' },
    decimal: given.decimal ?? (commas > rows.length / 2 ? ',' : '.'),
    score: lineScore * rows.length,
    width: labels.length + 1,
    names: [stampWords(text.slice(rows[0]?.from, rows[0]?.to)), ...labels],
    lines: [
      ...all.filter(({ line }) => line < firstLine).map((row) => ({ ...row, cells: row.cells.slice(0, 1) })),
      ...rows,
    ],
    rows,
  };
}

/** What stands around the stamp says what it counts: `t=12.5 s` is "t s". */
function stampWords(line: string): string {
  const stamp = stampAtStart.exec(line);
  if (stamp === null) return '';
  const before = /[A-Za-z]+/.exec(stamp[0].slice(0, stamp[0].length - (stamp[1] ?? '').length))?.[0] ?? '';
  const behind = /^\s*(ms|s|secs?|seconds|min|minutes|h)\b/.exec(line.slice(stamp[0].length))?.[1] ?? '';
  return `${before} ${behind}`.trim();
}

/** The words of the readings, in the order of the usual line. */
function commonLabels(lines: readonly (readonly string[])[]): string[] {
  const counts = new Map<string, number>();
  for (const labels of lines)
    for (const label of new Set(labels.map((each) => each.toLowerCase())))
      counts.set(label, (counts.get(label) ?? 0) + 1);
  const usual = lines[0] === undefined ? 0 : mostCommon(lines.map((labels) => labels.length));
  // One line in five may lack a reading; a word that stands in fewer lines is no name.
  const common = new Map<string, string>();
  for (const labels of lines) {
    for (const label of labels) {
      const known = label.toLowerCase();
      if ((counts.get(known) ?? 0) >= 0.5 * lines.length && !common.has(known)) common.set(known, label);
    }
  }
  return usual === 0 ? [] : [...common.values()].slice(0, 64);
}
