import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { BadInputError } from '../measure/index.js';
import { makeNoise } from '../numerics/index.js';
import type { Recipe } from '../records/index.js';
import { type IntakeOptions, LogIntake } from './log-intake.js';
import type { LogReading } from './log-reading.js';
import { readLogInPieces } from './read-log.js';
import { startLogEngine } from './wasm/log-engine.js';

/** What a reading or a refusal comes to, so that the two can be compared. */
function outcome(read: () => LogReading): LogReading | BadInputError['faults'] {
  try {
    return read();
  } catch (error) {
    if (error instanceof BadInputError) return error.faults;
    throw error;
  }
}

function isReading(seen: ReturnType<typeof outcome>): seen is LogReading {
  return 'report' in seen;
}

type Way = NonNullable<IntakeOptions['way']>;

/** Whole, or in pieces of these sizes. */
function readBy(
  way: Way | undefined,
  bytes: Uint8Array,
  recipe: Recipe,
  sizes: readonly number[] = [],
): LogReading {
  const intake = new LogIntake(recipe, 'evening.csv', way && { way });
  let at = 0;
  for (let turn = 0; at < bytes.length; turn++) {
    const size = sizes[turn % sizes.length] ?? bytes.length;
    intake.take(bytes.slice(at, at + size));
    at += size;
  }
  return intake.finish();
}

const plainWays = ['typescript', 'wasm'] as const;

const two = (value: number) => String(value).padStart(2, '0');

const plainCell = fc.integer({ min: -2000, max: 9000 }).map((value) => (value / 100).toFixed(2));
/** 25 is a code for a fault in these logs, in the midst of the readings. */
const oddCells = [
  ...[
    '',
    ' ',
    '-',
    'OL',
    'ol',
    '-127',
    '-127.00',
    '9999',
    '25',
    '25.00',
    '+25',
    '+21.5',
    '.5',
    '5.',
    '.',
    '-0',
    '+',
  ],
  ...[
    '21.5 °C',
    '21.5C',
    '70 °F',
    '295.1 K',
    '"21.5"',
    '"21',
    '21"5',
    "1'204.5",
    '1 204',
    '21,5',
    '0021.50',
    '1e1',
  ],
  ...[
    '12345678901234567890',
    '21.1234567890123456',
    '0.1000000000000000055',
    '300.00',
    '-60.01',
    '\u00a021.5',
  ],
  ...['21.5\t', '21.5\r', '\u221221.5', '\ufffd', '2 1', '#', '21;5', '21\u00005', '21.\u0000', '  21.5  '],
];
const cell = fc.oneof(
  { weight: 30, arbitrary: plainCell },
  // A level with a wake-up value, a fault code or a lost decimal point in it now and then.
  { weight: 30, arbitrary: fc.constantFrom('21.5', '21.6', '21.7') },
  { weight: 1, arbitrary: fc.constantFrom('85.00', '127.5', '0', '216', '2160') },
  { weight: 1, arbitrary: fc.constantFrom(...oddCells) },
  { weight: 1, arbitrary: fc.double({ min: -60, max: 300, noNaN: true }).map(String) },
);
/** Mostly nothing: with something odd in every row, no log would be read to its end. */
const seldom = (...odd: readonly string[]) =>
  fc.oneof({ weight: 40, arbitrary: fc.constant('') }, { weight: 1, arbitrary: fc.constantFrom(...odd) });

/** Offsets as they are written, and what they are in hours; those of equal length differ in meaning only. */
const offsets = { '': 0, Z: 0, ' UTC': 0, '+02:00': 2, '+03:00': 3, '-0130': -1.5, z: 0 } as const;

const drawnRow = fc.record({
  step_s: fc.oneof(
    { weight: 300, arbitrary: fc.constantFrom(1, 0.5, 7, 59) },
    { weight: 12, arbitrary: fc.constantFrom(0, 3600, 40_000) },
    { weight: 1, arbitrary: fc.constantFrom(-1, 700_000) },
  ),
  /** How far this row's stamp alone lies aside: late by a row or two, or damaged. */
  aside_s: fc.oneof(
    { weight: 40, arbitrary: fc.constant(0) },
    { weight: 2, arbitrary: fc.constantFrom(-1.5, -3, -8, -60) },
    { weight: 1, arbitrary: fc.constantFrom(5000, -5000, 1_000_000, -1_000_000) },
  ),
  cells: fc.tuple(cell, cell),
  lead: seldom('"a,b;c"', '#', '"', '\u00e9', ' '),
  rest: seldom(',', ';', ',x', ',5', ';5', ',"a,b"', '\u00e9', ' ', '\t', '\r', '"'),
  before: seldom(' ', '\t', '#', '\u00a0', '\ufeff', '"'),
  line: seldom('\n', '# a note\n', '  \n', 'rubbish\n', '\u001a\n', ',,,\n', ';;;\n', 'column 0,column 1\n'),
  offset: fc.option(fc.constantFrom(...(Object.keys(offsets) as (keyof typeof offsets)[])), { freq: 150 }),
  tail: seldom(' PM', '.', ':5', '5', ':250', ',5', '.123456789012'),
  hour: seldom('24', '25', '7', '007'),
});

const drawnLog = fc.record({
  time: fc.constantFrom(
    ...([
      'iso',
      'iso-fraction',
      'parted',
      'day-month',
      'month-day',
      'minutes',
      's',
      'ms',
      'epoch-ms',
      'clock',
    ] as const),
  ),
  delimiter: fc.constantFrom(',', ';', '\t', ' '),
  decimal: fc.constantFrom('.', ','),
  unit: fc.constantFrom('C', 'F', 'K'),
  encoding: fc.constantFrom('utf-8', 'utf-8-mark', 'windows-1252', 'utf-16le'),
  lineEnd: fc.constantFrom('\n', '\r\n', '\r'),
  isEnded: fc.boolean(),
  hasLead: fc.boolean(),
  hasSpare: fc.boolean(),
  isProbed: fc.boolean(),
  offset: fc.constantFrom('', 'Z', '+02:00'),
  ahead_min: fc.constantFrom(undefined, 0, 330),
  doubtful: fc.constantFrom(undefined, 'keep', 'leave-out'),
  rows: fc.array(drawnRow, { minLength: 1, maxLength: 60 }),
  usual: fc.integer({ min: 0, max: 5 }),
  sizes: fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 1, maxLength: 5 }),
});
type DrawnLog = typeof drawnLog extends fc.Arbitrary<infer T> ? T : never;

function stampOf(style: DrawnLog['time'], utc_s: number, offset: string, { tail = '', hour = '' }): string[] {
  const at_s = utc_s + 3600 * offsets[offset as keyof typeof offsets];
  const iso = new Date(Date.UTC(2024, 4, 30, 23, 58) + at_s * 1000).toISOString();
  const [date = '', told = ''] = iso.slice(0, 19).split('T');
  const clock = hour === '' ? told : hour + told.slice(2);
  const [year, month, day] = date.split('-');
  const suffix = `${tail}${offset}`;
  switch (style) {
    case 'iso':
      return [`${date}T${clock}${suffix}`];
    case 'iso-fraction':
      return [`${date} ${clock}.${two(Math.round((((at_s % 1) + 1) % 1) * 100))}${suffix}`];
    case 'parted':
      return [date, `${clock}${suffix}`];
    case 'day-month':
      return [`${day}.${month}.${year} ${clock.replace(/^0/, '')}${suffix}`];
    case 'month-day':
      return [`${month}/${day}/${year} ${clock}${suffix}`];
    case 'minutes':
      return [`${date} ${clock.slice(0, 5)}${suffix}`];
    case 's':
      return [`${utc_s}${tail}`];
    case 'ms':
      return [String(utc_s * 1000)];
    case 'epoch-ms':
      return [String(1_714_000_000_000 + utc_s * 1000)];
    case 'clock':
      return [`${clock}${suffix}`];
  }
}

function timeOf(style: DrawnLog['time'], first: number, ahead_min: DrawnLog['ahead_min']): Recipe['time'] {
  const ahead = ahead_min === undefined ? {} : { utcOffset_min: ahead_min };
  switch (style) {
    case 'parted':
      return { style: 'iso', columns: [first, first + 1], ...ahead };
    case 'day-month':
    case 'month-day':
      return { style: 'date', columns: [first], order: style, ...ahead };
    case 's':
    case 'ms':
      return { style: 'elapsed', columns: [first], unit: style };
    case 'epoch-ms':
      return { style: 'epoch', columns: [first], unit: 'ms' };
    case 'clock':
      return { style: 'clock', columns: [first] };
    default:
      return { style: 'iso', columns: [first], ...ahead };
  }
}

function writeLog(drawn: DrawnLog): { bytes: Uint8Array; recipe: Recipe; lines: number } {
  const { delimiter, lineEnd, decimal, hasLead, hasSpare } = drawn;
  const first = hasLead ? 1 : 0;
  const pack = first + (drawn.time === 'parted' ? 2 : 1);
  const rowOf = (lead: string, stamp: readonly string[], cells: readonly string[]) =>
    [...(hasLead ? [lead] : []), ...stamp, ...cells, ...(hasSpare ? ['ok'] : [])].join(delimiter);
  const lines: string[] = [];
  let at_s = 0;
  for (let row = 0; row < drawn.usual; row++, at_s++)
    lines.push(rowOf('x', stampOf(drawn.time, at_s, drawn.offset, {}), ['21', '22']));
  for (const row of drawn.rows) {
    at_s += row.step_s;
    const cells = row.cells.map((each) => each.replaceAll('.', decimal));
    const stamp = stampOf(drawn.time, at_s + row.aside_s, row.offset ?? drawn.offset, row);
    lines.push(
      `${row.line.replaceAll('\n', lineEnd)}${row.before}${rowOf(row.lead || 'x', stamp, cells)}${row.rest}`,
    );
  }
  const header = Array.from({ length: pack + 2 + (hasSpare ? 1 : 0) }, (_, column) => `column ${column}`);
  const text = `${header.join(delimiter)}${lineEnd}${lines.join(lineEnd)}${drawn.isEnded ? lineEnd : ''}`;
  const wide = Uint8Array.from(
    { length: 2 * text.length },
    (_, at) => (text.charCodeAt(at >> 1) >> (at % 2 === 0 ? 0 : 8)) & 255,
  );
  const mark = drawn.encoding === 'utf-8-mark' ? '\ufeff' : '';
  return {
    // Written as UTF-8 and read as windows-1252 is a usual accident, and as good a test.
    bytes: drawn.encoding === 'utf-16le' ? wide : new TextEncoder().encode(mark + text),
    recipe: {
      encoding: drawn.encoding === 'utf-8-mark' ? 'utf-8' : drawn.encoding,
      delimiter,
      decimal,
      headerLines: 1,
      time: timeOf(drawn.time, first, drawn.ahead_min),
      channels: [
        { column: pack + 1, header: '', unit: drawn.unit },
        { column: pack, header: '', unit: drawn.unit, ...(drawn.isProbed ? { probe: 'pack' } : {}) },
      ],
      missing: ['OL', '-127', '9999', '25'],
      ...(drawn.doubtful !== undefined && { doubtful: drawn.doubtful }),
    },
    lines: text.replace(/\r?\n$|\r$/, '').split(text.includes('\n') ? '\n' : '\r').length,
  };
}

/** Two columns: seconds and °C. */
const secondsAndReading: Recipe = {
  encoding: 'utf-8',
  delimiter: ',',
  decimal: '.',
  headerLines: 0,
  time: { style: 'elapsed', columns: [0], unit: 's' },
  channels: [{ column: 1, header: '', unit: 'C' }],
  missing: [],
};

describe('rows read from the bytes', () => {
  test('come out bit for bit as the general reader has them, whole and in pieces', () => {
    const met = { read: 0, late: 0, stray: 0, doubtful: 0, setBack: 0 };
    fc.assert(
      fc.property(drawnLog, (drawn) => {
        const { bytes, recipe, lines } = writeLog(drawn);
        const general = outcome(() => readBy('general', bytes, recipe));
        if (isReading(general)) {
          const { report } = general;
          met.read++;
          if (report.late.length > 0) met.late++;
          if (report.doubts.length > 0) met.doubtful++;
          if (report.unread.some(({ reason }) => reason.startsWith('row left out: its time'))) met.stray++;
          const { header, blank, read, leftOut } = report.lines;
          expect(header + blank + read + leftOut).toBe(lines);
          expect(read).toBe(report.rows);
        } else if (JSON.stringify(general).includes('The clock')) met.setBack++;
        // toEqual takes NaN for NaN and tells 0 from -0; the arrays may have spare room behind them.
        for (const way of plainWays) {
          expect(outcome(() => readBy(way, bytes, recipe))).toEqual(general);
          expect(outcome(() => readBy(way, bytes, recipe, drawn.sizes))).toEqual(general);
        }
      }),
      { numRuns: 1500 },
    );
    // A log that is refused early tests little: most must be read to their end, and some of every kind be met.
    expect(met.read).toBeGreaterThan(500);
    for (const count of [met.late, met.stray, met.doubtful, met.setBack]) expect(count).toBeGreaterThan(20);
  });

  test('are numbers as the language reads them', () => {
    const recipe = { ...secondsAndReading, delimiter: ';' } as const;
    const digits = fc
      .integer({ min: 0, max: 17 })
      .chain((decimals) =>
        fc.double({ min: -59, max: 299, noNaN: true }).map((value) => value.toFixed(decimals)),
      );
    fc.assert(
      fc.property(fc.array(digits, { minLength: 2, maxLength: 50 }), (cells) => {
        const bytes = new TextEncoder().encode(cells.map((cell, row) => `${row};${cell}\n`).join(''));
        for (const way of plainWays) {
          const [channel] = readBy(way, bytes, recipe).channels;
          expect([...(channel?.reading_C ?? [])]).toEqual(cells.map(Number));
        }
      }),
    );
  });
});

describe('a long log', () => {
  const random = makeNoise(20_240_531);
  const of = <T>(...choices: readonly T[]) => choices[Math.floor(random.uniform() * choices.length)] as T;
  const number = (decimals: number) => (300 * random.uniform() - 30).toFixed(decimals);
  const stamp = (row: number) => new Date(Date.UTC(2024, 4, 30, 23) + 7300 * row).toISOString();
  const recipe: Recipe = {
    encoding: 'utf-8',
    delimiter: ',',
    decimal: '.',
    headerLines: 0,
    time: { style: 'iso', columns: [0] },
    channels: [2, 1].map((column) => ({ column, header: '', unit: 'C' })),
    missing: ['OL', '25'],
  };
  const logOf = (rowOf: (row: number) => string, lineEnd = '\n', length = 20_000) =>
    new TextEncoder().encode(Array.from({ length }, (_, row) => rowOf(row) + lineEnd).join(''));
  const channels = (count: number): Recipe['channels'] =>
    Array.from({ length: count }, (_, column) => ({ column: column + 1, header: '', unit: 'C' }));

  /** Before each spoiled row stand two that are not, so that the engine has seen what they should look like. */
  function anyByteAnywhere(): Uint8Array {
    const rowOf = (row: number) =>
      new TextEncoder().encode(`${stamp(row)},${row % 2 ? '-' : ''}21.5,${20 + (row % 7)}\n`);
    const rows: Uint8Array[] = [];
    for (let byte = 0; byte < 256; byte++) {
      for (let place = 0; place < rowOf(1).length - 1; place++) {
        const [first, second, spoiled] = [0, 1, 2].map((ahead) => rowOf(rows.length + ahead));
        if (spoiled) spoiled[place] = byte;
        rows.push(first!, second!, spoiled!);
      }
    }
    return Buffer.concat(rows);
  }

  const cases: readonly { what: string; bytes: Uint8Array; change?: Partial<Recipe> }[] = [
    {
      what: 'of numbers that change their shape from row to row',
      bytes: logOf((row) => `${stamp(row)},${number(of(0, 1, 2, 9, 13, 14, 17))},${number(of(1, 2))}`),
    },
    {
      what: 'with a word in most rows',
      bytes: logOf(
        (row) => `${stamp(row)},${of('OL', '25', 'open', '999', number(2))},${of('OL', number(1))}`,
      ),
    },
    {
      what: 'with a row now and then that is not plain',
      bytes: logOf(
        (row) => `${of(...Array(40).fill(''), '"', '#', '\u00e9')}${stamp(row)},${number(1)},${number(2)}`,
      ),
    },
    {
      what: 'with a line longer than a piece',
      bytes: logOf(
        (row) => `${stamp(row)},${number(1)},${number(2)}${row === 9000 ? `,${'x'.repeat(300_000)}` : ''}`,
      ),
    },
    {
      what: 'with blanks about its cells and another line end',
      bytes: logOf((row) => `${stamp(row)}, ${number(1)} ,  ${number(2)}${of('', ' ')}`, '\r\n'),
    },
    {
      what: 'with elapsed milliseconds',
      bytes: logOf((row) => `${row * 40}.${of('5', '25', '125', '0625')},${number(1)},${number(2)}`),
      change: { time: { style: 'elapsed', columns: [0], unit: 'ms' } },
    },
    {
      what: 'with epoch seconds of sixteen bytes',
      bytes: logOf((row) => `${1_714_521_600 + row}.${10_000 + row},${number(1)},${number(2)}`),
      change: { time: { style: 'epoch', columns: [0], unit: 's' } },
    },
    {
      what: 'with fractions of many lengths',
      bytes: logOf(
        (row) => `${stamp(row).slice(0, 19)}${of('', '.5', '.25', '.123456789')}Z,${number(1)},${number(2)}`,
      ),
    },
    {
      what: 'whose clock leaps ahead in its last rows',
      bytes: logOf((row) => `${row < 19_998 ? row : row + 604_801},${number(1)},${number(2)}`),
      change: { time: { style: 'elapsed', columns: [0], unit: 's' } },
    },
    { what: 'with any byte in any place of a row', bytes: anyByteAnywhere() },
    {
      what: 'with more channels than the engine has room for',
      bytes: logOf((row) => `${stamp(row)}${`,${number(1)}`.repeat(140)}`, '\n', 2000),
      change: { channels: channels(140) },
    },
    {
      what: 'with as many channels as it has room for',
      bytes: logOf((row) => `${stamp(row)}${`,${of('OL', '21.5')}`.repeat(128)}`, '\n', 2000),
      change: { channels: channels(128) },
    },
  ];
  test.each(cases)('$what is the same log whoever takes its rows', ({ bytes, change }) => {
    expect(startLogEngine()).not.toBeNull();
    const changed = { ...recipe, ...change };
    const general = readBy('general', bytes, changed);
    expect(general.report.rows).toBeGreaterThan(1800);
    for (const way of [...plainWays, undefined]) {
      expect(isDeepStrictEqual(readBy(way, bytes, changed), general)).toBe(true);
      expect(isDeepStrictEqual(readBy(way, bytes, changed, [70_001, 999]), general)).toBe(true);
    }
  });
});

test('where the platform has no WebAssembly, a long log is read without it', async () => {
  const rows = Array.from({ length: 20_000 }, (_, row) => `${row},${(20 + (row % 97) / 10).toFixed(1)}\n`);
  const bytes = new TextEncoder().encode(rows.join(''));
  vi.stubGlobal('WebAssembly', undefined);
  vi.resetModules();
  try {
    const [{ readLog }, engine] = await Promise.all([
      import('./read-log.js'),
      import('./wasm/log-engine.js'),
    ]);
    expect(engine.startLogEngine()).toBeNull();
    expect(readLog(bytes, secondsAndReading, 'evening.csv').channels[0]?.reading_C).toEqual(
      readBy('general', bytes, secondsAndReading).channels[0]?.reading_C,
    );
  } finally {
    vi.unstubAllGlobals();
  }
});

describe('a log in pieces', () => {
  const recipe: Recipe = {
    encoding: 'utf-8',
    delimiter: ',',
    decimal: '.',
    headerLines: 1,
    time: { style: 'iso', columns: [0] },
    channels: [{ column: 1, header: 'pack', probe: 'pack', unit: 'C' }],
    missing: [],
  };
  /** Long enough for several heads, over two midnights. */
  const lines = Array.from(
    { length: 60_000 },
    (_, row) =>
      `${new Date(Date.UTC(2024, 4, 1) + 4000 * row).toISOString()},${(20 + (row % 97) / 10).toFixed(1)}`,
  );
  const bytes = new TextEncoder().encode(`time,pack\n${lines.join('\n')}`);
  async function* pieces(size: number) {
    for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
  }

  test('is read as it is whole, and tells how far it is', async () => {
    const told: number[] = [];
    const reading = await readLogInPieces(pieces(100_000), recipe, 'long.csv', {
      expected_bytes: bytes.length,
      onProgress: ({ read_bytes }) => told.push(read_bytes),
    });
    expect(reading).toEqual(readBy('general', bytes, recipe));
    expect(reading.report.rows).toBe(60_000);
    expect(told).toEqual(
      Array.from({ length: Math.ceil(bytes.length / 1e5) }, (_, piece) =>
        Math.min(bytes.length, 1e5 * (piece + 1)),
      ),
    );
  });

  test('stops between two pieces when it is told to, for the reason given', async () => {
    const stop = new AbortController();
    let seen = 0;
    const reading = readLogInPieces(pieces(50_000), recipe, 'long.csv', {
      signal: stop.signal,
      onProgress: () => {
        seen++;
        if (seen === 3) stop.abort(new Error('enough'));
      },
    });
    await expect(reading).rejects.toThrow('enough');
    expect(seen).toBe(3);
  });

  test('refuses a line that never ends before it fills the memory', () => {
    const intake = new LogIntake(recipe, 'long.csv');
    intake.take(bytes);
    const rubbish = new Uint8Array(1_048_576).fill(0x78);
    const feed = () => {
      for (let piece = 0; piece < 40; piece++) intake.take(rubbish);
    };
    expect(feed).toThrow(/A line is longer than 16 MiB/);
  });
});
