import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BadInputError } from '../measure/index.js';
import { buildSchema, type Probe, type Recipe } from '../records/index.js';
import { readLog } from './read-log.js';
import { sniffLog } from './sniff-log.js';
import { leftOut } from './unread-tally.js';

/** A log of known content, in a style drawn at random. */
interface WrittenLog {
  readonly text: string;
  readonly bytes: Uint8Array;
  readonly after_s: number[];
  readonly readings_C: number[][];
  readonly startedAt_s: number | null;
  /** Blank lines and comments not counted. */
  readonly dataRows: number;
}

const ids = ['pack', 'soc', 'room'] as const;
const probes: Probe[] = ids.map((id) => ({ id, name: `The ${id}`, place: 'cell' }));
/** An evening, so that a long log passes midnight, on a day above 12 that cannot be a month. */
const start_s = Date.UTC(2024, 4, 31, 20, 15, 0) / 1000;

const timeStyles = [
  'iso',
  'iso-parted',
  'day-month',
  'month-day',
  'epoch-s',
  'epoch-ms',
  's',
  'min',
  'h',
  'ms',
  'h:m:s',
  'clock',
] as const;

const style = fc.record({
  time: fc.constantFrom(...timeStyles),
  delimiter: fc.constantFrom(',', ';', '\t', '|', ' '),
  comma: fc.boolean(),
  unit: fc.constantFrom('C', 'F', 'K'),
  encoding: fc.constantFrom('utf-8', 'utf-8-mark', 'utf-16le', 'windows-1252'),
  lineEnd: fc.constantFrom('\n', '\r\n', '\r'),
  quoted: fc.boolean(),
  preamble: fc.integer({ min: 0, max: 3 }),
  channels: fc.integer({ min: 1, max: 3 }),
  step_s: fc.constantFrom(1, 2, 5, 10, 60),
  rows: fc.integer({ min: 5, max: 80 }),
  seed: fc.integer({ min: 1, max: 2 ** 30 }),
});
type Style = typeof style extends fc.Arbitrary<infer T> ? T : never;

/** A small generator with a seed, so that a failing log can be written again. */
function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** The recipe as the build's record holds it: what is sniffed must be storable. */
const recipeSchema = buildSchema.shape.runs.element.shape.recipe;

const two = (value: number) => String(Math.floor(value)).padStart(2, '0');

function stampOf(time: Style['time'], after_s: number, gap: string): string {
  const at = new Date((start_s + after_s) * 1000).toISOString();
  const [date = '', clock = ''] = at.slice(0, 19).split('T');
  const [year, month, day] = date.split('-');
  switch (time) {
    case 'iso':
      return `${date}T${clock}Z`;
    case 'iso-parted':
      return `${date}${gap}${clock}`;
    case 'day-month':
      return `${day}.${month}.${year}${gap}${clock}`;
    case 'month-day':
      return `${month}/${day}/${year}${gap}${clock}`;
    case 'epoch-s':
      return String(start_s + after_s);
    case 'epoch-ms':
      return String((start_s + after_s) * 1000);
    case 's':
      return String(after_s);
    case 'min':
      return (after_s / 60).toFixed(6);
    case 'h':
      return (after_s / 3600).toFixed(8);
    case 'ms':
      return String(after_s * 1000);
    case 'h:m:s':
      return `${Math.floor(after_s / 3600)}:${two((after_s / 60) % 60)}:${two(after_s % 60)}`;
    case 'clock':
      return clock;
  }
}

const timeHeaders: Partial<Record<Style['time'], string>> = {
  s: 'elapsed (s)',
  min: 'elapsed (min)',
  h: 'elapsed (h)',
  ms: 'elapsed (ms)',
};

function encode(text: string, encoding: Style['encoding']): Uint8Array {
  if (encoding === 'utf-8') return new TextEncoder().encode(text);
  if (encoding === 'utf-8-mark') return new TextEncoder().encode(`\ufeff${text}`);
  if (encoding === 'windows-1252') return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  return Uint8Array.from(
    { length: 2 * text.length },
    (_, at) => (text.charCodeAt(at >> 1) >> (at % 2 === 0 ? 0 : 8)) & 255,
  );
}

function writeLog(drawn: Style): WrittenLog {
  const random = randomFrom(drawn.seed);
  // A comma cannot part cells and mark decimals unless they are quoted; blanks inside a cell want quotes too.
  const decimal = drawn.comma ? ',' : '.';
  const quote =
    drawn.quoted || (drawn.delimiter === ',' && drawn.comma) || drawn.delimiter === ' ' ? '"' : '';
  const isParted = drawn.time === 'iso-parted' || drawn.time === 'day-month' || drawn.time === 'month-day';
  const gap = isParted ? `${quote}${drawn.delimiter}${quote}` : ' ';
  const cell = (text: string) => `${quote}${text}${quote}`;
  const number = (value: number, decimals: number) => value.toFixed(decimals).replace('.', decimal);

  const used = ids.slice(0, drawn.channels);
  const unitText = drawn.unit === 'K' ? '(K)' : `(°${drawn.unit})`;
  const lines = Array.from(
    { length: drawn.preamble },
    (_, line) => ['Bench log', '', 'Serial 0815'][line] ?? '',
  );
  const timeHeader = timeHeaders[drawn.time] ?? (isParted ? `date${gap}time` : 'time');
  lines.push([timeHeader, ...used.map((id) => `${id} ${unitText}`)].map(cell).join(drawn.delimiter));

  const after_s: number[] = [];
  const readings_C: number[][] = used.map(() => []);
  for (let row = 0; row < drawn.rows; row++) {
    after_s.push(row * drawn.step_s);
    const cells = [
      cell(stampOf(drawn.time, row * drawn.step_s, gap).replace(/(?<=^\d+)\.(?=\d+$)/, decimal)),
    ];
    for (const column of readings_C) {
      const level_C = 20 + 30 * random();
      const written =
        drawn.unit === 'C' ? level_C : drawn.unit === 'K' ? level_C + 273.15 : level_C * 1.8 + 32;
      const rounded = Number(written.toFixed(2));
      column.push(
        drawn.unit === 'C' ? rounded : drawn.unit === 'K' ? rounded - 273.15 : (rounded - 32) / 1.8,
      );
      cells.push(cell(number(written, 2)));
    }
    lines.push(cells.join(drawn.delimiter));
  }
  const text = lines.join(drawn.lineEnd);
  const hasDate = isParted || drawn.time === 'iso' || drawn.time.startsWith('epoch');
  return {
    text,
    bytes: encode(text, drawn.encoding),
    after_s,
    readings_C,
    startedAt_s: hasDate ? start_s : null,
    dataRows: drawn.rows,
  };
}

test('a log written in any style is sniffed and read back to the same numbers', () => {
  fc.assert(
    fc.property(style, (drawn) => {
      const written = writeLog(drawn);
      const { recipe } = sniffLog(written.bytes, { file: 'drawn.log', probes });
      expect(recipeSchema.parse(recipe)).toEqual(recipe);
      const { after_s, startedAt, channels, report } = readLog(written.bytes, recipe, 'drawn.log');
      expect(report.unread).toEqual([]);
      expect(channels.map(({ probe }) => probe)).toEqual(ids.slice(0, drawn.channels));
      expect(after_s).toHaveLength(written.after_s.length);
      // Elapsed hours are written to 1e-8 h, which is 4e-5 s.
      for (const [row, expected_s] of written.after_s.entries())
        expect(Math.abs((after_s[row] ?? -1) - expected_s)).toBeLessThan(5e-5);
      expect(startedAt === null ? null : Date.parse(startedAt) / 1000).toBe(written.startedAt_s);
      for (const [index, column] of written.readings_C.entries()) {
        for (const [row, expected_C] of column.entries()) {
          expect(channels[index]?.reading_C[row]).toBeCloseTo(expected_C, 10);
        }
      }
    }),
    { numRuns: 200, seed: 20_240_531 },
  );
}, 60_000);

describe('mutated logs', () => {
  const shreds = [
    'OL',
    ',',
    ';',
    '\n',
    '"',
    '\t',
    ' ',
    '-',
    '9',
    '.',
    ':',
    '\u0000',
    '°',
    '1e9',
    'T',
    '#',
    '\r',
    '2024-01-01',
    '\ufffd',
    'nan',
  ];

  function mutate(text: string, random: () => number): string {
    let mutated = text;
    for (let cut = 0; cut < 1 + 6 * random(); cut++) {
      const at = Math.floor(random() * mutated.length);
      const length = Math.floor(random() ** 3 * 40);
      const shred = shreds[Math.floor(random() * shreds.length)] ?? '';
      const kind = random();
      if (kind < 0.4) mutated = mutated.slice(0, at) + shred + mutated.slice(at);
      else if (kind < 0.7) mutated = mutated.slice(0, at) + mutated.slice(at + length);
      else if (kind < 0.9)
        mutated =
          mutated.slice(0, at) + mutated.slice(at, at + length).repeat(2) + mutated.slice(at + length);
      else mutated = mutated.slice(0, at);
    }
    return mutated;
  }

  /** Counted by another road than the reader's: whole lines after the header that hold anything. */
  function rowsPresent(text: string, recipe: Recipe): number {
    const lineEnd = text.includes('\n') ? '\n' : '\r';
    return text
      .split(lineEnd)
      .slice(recipe.headerLines)
      .filter((line) => line.trim() !== '').length;
  }

  function check(text: string, recipe: Recipe): 'read' | 'refused' {
    try {
      const { after_s, channels, report } = readLog(new TextEncoder().encode(text), recipe, 'torn.log');
      const outside = report.unread
        .filter(({ reason }) => reason.startsWith(leftOut))
        .reduce((sum, { count }) => sum + count, 0);
      expect(report.rows + outside).toBe(
        rowsPresent(new TextDecoder().decode(new TextEncoder().encode(text)), recipe),
      );
      expect(after_s).toHaveLength(report.rows);
      for (let row = 1; row < after_s.length; row++)
        expect(after_s[row]).toBeGreaterThan(after_s[row - 1] ?? 0);
      for (const { reading_C } of channels) {
        expect(reading_C).toHaveLength(report.rows);
        for (const value of reading_C)
          expect(Number.isNaN(value) || (value >= -60 && value <= 300)).toBe(true);
      }
      const used = channels.filter(({ probe }) => probe !== undefined);
      const silent = (used.length > 0 ? used : channels).some(({ reading_C }) =>
        reading_C.some(Number.isNaN),
      );
      if (silent) expect(report.unread.length).toBeGreaterThan(0);
      return 'read';
    } catch (error) {
      if (!(error instanceof BadInputError)) throw error;
      for (const { where, what, remedy } of error.faults) {
        expect(where).toMatch(/^torn\.log:\d+$/);
        expect(what).not.toBe('');
        expect(remedy).not.toBe('');
      }
      return 'refused';
    }
  }

  test('are read with every row accounted for, or refused by name; nothing else happens', () => {
    const seen = { read: 0, refused: 0, resniffed: 0 };
    fc.assert(
      fc.property(style, fc.integer({ min: 1, max: 2 ** 30 }), (drawn, seed) => {
        const written = writeLog({ ...drawn, encoding: 'utf-8' });
        const { recipe } = sniffLog(written.bytes, { file: 'torn.log', probes });
        const torn = mutate(written.text, randomFrom(seed));
        seen[check(torn, recipe)]++;
        try {
          const again = sniffLog(new TextEncoder().encode(torn), { file: 'torn.log', probes });
          seen.resniffed++;
          check(torn, again.recipe);
        } catch (error) {
          if (!(error instanceof BadInputError)) throw error;
        }
      }),
      { numRuns: 250, seed: 1_714_557_600 },
    );
    // Both roads are taken, or the test would prove nothing.
    expect(seen.read).toBeGreaterThan(50);
    expect(seen.refused).toBeGreaterThan(20);
    expect(seen.resniffed).toBeGreaterThan(50);
  }, 60_000);

  test('bytes of any kind are read or refused', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        try {
          const { recipe } = sniffLog(bytes, { file: 'noise.log', probes });
          readLog(bytes, recipe, 'noise.log');
        } catch (error) {
          expect(error).toBeInstanceOf(BadInputError);
        }
      }),
      { numRuns: 200, seed: 7 },
    );
  }, 60_000);
});
