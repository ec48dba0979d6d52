import { describe, expect, test } from 'vitest';
import { BadInputError } from '../measure/index.js';
import type { Probe } from '../records/index.js';
import { applyOption } from './import-question.js';
import { sniffLog } from './sniff-log.js';

const probes: Probe[] = [
  { id: 'pack', name: 'Pack face', place: 'cell' },
  { id: 'soc', name: 'Processor', place: 'zone' },
  { id: 'room', name: 'Room air', place: 'ambient' },
];

const sniff = (text: string) => sniffLog(new TextEncoder().encode(text), { file: 'evening.csv', probes });

/** Rows of a stamp and two readings. */
function rows(stamps: readonly string[], delimiter: string, decimal = '.'): string {
  return stamps
    .map((stamp, row) =>
      [stamp, 21.5 + row / 4, 20.25]
        .map((cell) => (typeof cell === 'number' ? cell.toFixed(2).replace('.', decimal) : cell))
        .join(delimiter),
    )
    .join('\n');
}

describe('delimiter, decimal mark and header', () => {
  const stamps = ['2024-05-01T10:00:00', '2024-05-01T10:00:10', '2024-05-01T10:00:20'];
  test.each([
    { name: 'comma', delimiter: ',', decimal: '.' },
    { name: 'semicolon and decimal comma', delimiter: ';', decimal: ',' },
    { name: 'tab', delimiter: '\t', decimal: '.' },
    { name: 'tab and decimal comma', delimiter: '\t', decimal: ',' },
    { name: 'bar', delimiter: '|', decimal: '.' },
    { name: 'blank and decimal comma', delimiter: ' ', decimal: ',' },
  ])('$name', ({ delimiter, decimal }) => {
    const header = ['time', 'pack', 'room'].join(delimiter);
    const { recipe, questions, preview } = sniff(`${header}\n${rows(stamps, delimiter, decimal)}\n`);
    expect(recipe).toMatchObject({ encoding: 'utf-8', delimiter, decimal, headerLines: 1 });
    expect(recipe.time).toEqual({ style: 'iso', columns: [0] });
    expect(recipe.channels.map(({ column, probe, unit }) => [column, probe, unit])).toEqual([
      [1, 'pack', 'C'],
      [2, 'room', 'C'],
    ]);
    expect(questions).toEqual([]);
    expect(preview.header).toEqual(['time', 'pack', 'room']);
    expect(preview.rows[1]).toEqual([stamps[1], `21${decimal}75`, `20${decimal}25`]);
  });

  test('a preamble padded with delimiters, a line of units, and blank lines are all header', () => {
    const text = `Logger;bench;;\nInterval;10;;\n\nNo;Zeit;Pack;Room\n;s;°F;°F\n1;0;70,5;68\n2;10;70,7;68\n3;20;70,9;68\n`;
    const { recipe, conclusions } = sniff(text);
    expect(recipe).toMatchObject({
      delimiter: ';',
      decimal: ',',
      headerLines: 5,
      time: { style: 'elapsed', columns: [1], unit: 's' },
    });
    expect(recipe.channels).toEqual([
      { column: 2, header: 'Pack', unit: 'F', probe: 'pack' },
      { column: 3, header: 'Room', unit: 'F', probe: 'room' },
    ]);
    expect(conclusions.join('\n')).toContain('Lines 1 to 5 are header');
  });

  test('a log without a header begins in line 1', () => {
    const { recipe } = sniff('0;21,5;20\n10;21,6;20\n20;21,7;20\n');
    expect(recipe).toMatchObject({ headerLines: 0, decimal: ',', time: { style: 'elapsed' } });
    expect(recipe.channels.map(({ column, header }) => [column, header])).toEqual([
      [1, ''],
      [2, ''],
    ]);
  });

  test('headers that are numbers are not a row', () => {
    expect(sniff('Time (s),1,2\n0,21.5,20\n10,21.6,20\n20,21.6,20\n').recipe.headerLines).toBe(1);
  });

  test('quoted decimal commas parted by commas', () => {
    const { recipe } = sniff('"t (s)","pack"\n"0","21,5"\n"10","21,6"\n"20","21,7"\n');
    expect(recipe).toMatchObject({ delimiter: ',', decimal: ',' });
  });
});

describe('time styles', () => {
  const log = (header: string, stamps: readonly string[], delimiter = ',') =>
    sniff(`${header}${delimiter}pack (°C)${delimiter}room (°C)\n${rows(stamps, delimiter)}\n`);

  test.each([
    ['time', ['2024-05-01 10:00:00', '2024-05-01 10:00:10'], { style: 'iso', columns: [0] }],
    ['date,time', ['2024-05-01,10:00:00', '2024-05-01,10:00:10'], { style: 'iso', columns: [0, 1] }],
    ['time,date', ['10:00:00,2024-05-01', '10:00:10,2024-05-01'], { style: 'iso', columns: [1, 0] }],
    [
      'date',
      ['31.05.2024 10:00:00', '31.05.2024 10:00:10'],
      { style: 'date', columns: [0], order: 'day-month' },
    ],
    [
      'date',
      ['5/31/2024 1:00:00 PM', '5/31/2024 1:00:10 PM'],
      { style: 'date', columns: [0], order: 'month-day' },
    ],
    [
      'date,time',
      ['01-May-24,10:00', '01-May-24,10:01'],
      { style: 'date', columns: [0, 1], order: 'day-month' },
    ],
    [
      'date',
      ['03/04/2024 23:59:50', '04/04/2024 00:00:00'],
      { style: 'date', columns: [0], order: 'day-month' },
    ],
    ['ts', ['1714557600', '1714557610'], { style: 'epoch', columns: [0], unit: 's' }],
    ['ts', ['1714557600000', '1714557610000'], { style: 'epoch', columns: [0], unit: 'ms' }],
    ['Elapsed (min)', ['0', '0.5'], { style: 'elapsed', columns: [0], unit: 'min' }],
    ['time_h', ['0', '0.01'], { style: 'elapsed', columns: [0], unit: 'h' }],
    ['after_s', ['0', '2'], { style: 'elapsed', columns: [0], unit: 's' }],
    ['millis', ['15', '1015'], { style: 'elapsed', columns: [0], unit: 'ms' }],
    ['time', ['0:00:00', '0:00:10'], { style: 'elapsed', columns: [0], unit: 'h:m:s' }],
    ['time', ['23:59:00', '24:00:10'], { style: 'elapsed', columns: [0], unit: 'h:m:s' }],
    ['time', ['23:59:50', '00:00:00'], { style: 'clock', columns: [0] }],
    ['time', ['11:59:50 PM', '12:00:00 AM'], { style: 'clock', columns: [0] }],
    [
      'date,time,elapsed s',
      ['2024-05-01,10:00:00,0', '2024-05-01,10:00:10,10'],
      { style: 'iso', columns: [0, 1] },
    ],
  ])('%s: %s', (header, stamps, time) => {
    const { recipe, questions } = log(header, stamps);
    expect(recipe.time).toEqual(time);
    expect(recipe.channels.map(({ probe }) => probe)).toEqual(['pack', 'room']);
    expect(questions).toEqual([]);
  });

  test('an ambiguous date is asked about, with a provisional choice', () => {
    const { recipe, questions, conclusions } = log('date', ['03/04/2024 10:00:00', '03/04/2024 10:00:10']);
    expect(recipe.time).toEqual({ style: 'date', columns: [0], order: 'day-month' });
    expect(questions).toHaveLength(1);
    expect(questions[0]).toMatchObject({ field: 'time.order', chosen: 0 });
    expect(questions[0]?.options.map(({ label }) => label)).toEqual([
      'Day first: 2024-04-03',
      'Month first: 2024-03-04',
    ]);
    expect(conclusions.join('\n')).toContain('day first is taken for now');
    const answer = questions[0]?.options[1];
    expect(answer && applyOption(recipe, answer).time).toEqual({
      style: 'date',
      columns: [0],
      order: 'month-day',
    });
  });

  test('a twelve-hour clock with slashes makes the month come first for now', () => {
    expect(log('date', ['03/04/2024 1:00:00 PM', '03/04/2024 1:00:10 PM']).recipe.time).toMatchObject({
      order: 'month-day',
    });
  });

  test('elapsed time without a unit is asked about', () => {
    const { recipe, questions } = log('t', ['0', '5', '10']);
    expect(recipe.time).toMatchObject({ style: 'elapsed', unit: 's' });
    expect(questions[0]).toMatchObject({ field: 'time.unit', chosen: 0 });
    expect(questions[0]?.options[0]?.label).toBe('Seconds: rows 5 s apart');
  });

  test('hours and minutes, or minutes and seconds: asked', () => {
    const { questions } = log('t', ['00:00', '00:05', '00:10', '00:15']);
    expect(questions[0]?.options.map(({ set }) => set)).toEqual([
      { time: { style: 'elapsed', columns: [0], unit: 'h:m:s' } },
      { time: { style: 'interval', interval_s: 5 } },
    ]);
  });

  test('stamps coarser than the rows are asked about', () => {
    const stamps = Array.from({ length: 24 }, (_, row) => `2024-05-01 10:0${Math.floor(row / 6)}`);
    const { recipe, questions } = log('time', stamps);
    expect(recipe.time).toEqual({ style: 'iso', columns: [0] });
    expect(questions[0]?.options[1]?.set).toEqual({ time: { style: 'interval', interval_s: 10 } });
  });

  test('no time at all is asked about', () => {
    const { recipe, questions } = sniff('pack,room\n21.5,20\n21.6,20\n21.7,20.1\n');
    expect(recipe.time).toEqual({ style: 'interval', interval_s: 1 });
    expect(questions[0]?.field).toBe('time');
  });

  test('dates whose clock jumps back stay the clock, so that the reading can refuse it', () => {
    const { recipe } = log('date,time', [
      '2024-05-02,01:00:00',
      '2024-05-02,01:00:10',
      '2024-05-01,10:00:00',
    ]);
    expect(recipe.time).toEqual({ style: 'iso', columns: [0, 1] });
  });

  test('an elapsed time is used where the date beside it jumps back, and it is said', () => {
    const stamps = ['2024-05-02 10:00:00,0', '2024-05-02 10:00:10,10', '2024-05-02 09:00:20,20'];
    const { recipe, conclusions } = log('date,elapsed (s)', stamps);
    expect(recipe.time).toEqual({ style: 'elapsed', columns: [1], unit: 's' });
    expect(conclusions.join('\n')).toContain('It is not used, as it jumps back.');
  });

  test('a temperature that happens to rise evenly is no clock', () => {
    const { recipe } = sniff('time,pack\n23:59:40,21.5\n23:59:50,21.6\n00:00:00,21.7\n');
    expect(recipe.time).toEqual({ style: 'clock', columns: [0] });
    expect(recipe.channels.map(({ column }) => column)).toEqual([1]);
  });

  test('a row counter is no clock', () => {
    const { recipe } = sniff('No,pack,room\n1,21.5,20\n2,21.4,20\n3,21.8,20.1\n');
    expect(recipe.time.style).toBe('interval');
    expect(recipe.channels.map(({ column }) => column)).toEqual([1, 2]);
  });
});

describe('units and probes', () => {
  test.each([
    ['pack (°C)', 21, 'C'],
    ['pack [C]', 21, 'C'],
    ['pack degC', 21, 'C'],
    ['pack_C', 21, 'C'],
    ['pack, °F', 70, 'F'],
    ['Pack (F)', 70, 'F'],
    ['pack deg F', 70, 'F'],
    ['pack_F', 70, 'F'],
    ['Fahrenheit pack', 70, 'F'],
    ['pack (K)', 294, 'K'],
    // Type K is the commonest thermocouple: a K beside 21 is not a kelvin.
    ['pack (K)', 21, 'C'],
    ['pack ℉', 70, 'F'],
    ['pack Â°F', 70, 'F'],
    ['pack', 294, 'K'],
  ])('%s beginning at %d is in %s', (header, first, unit) => {
    const { recipe, questions } = sniff(`t (s)|${header}\n0|${first}.5\n10|${first}.6\n20|${first}.8\n`);
    expect(recipe.channels).toEqual([{ column: 1, header, unit, probe: 'pack' }]);
    expect(questions).toEqual([]);
  });

  test('a unit in the cells or above the table holds', () => {
    expect(sniff('t (s),pack\n0,70.5 °F\n10,70.6 °F\n').recipe.channels[0]?.unit).toBe('F');
    expect(sniff('Temperature unit: °F\nt (s),pack\n0,70.5\n10,70.6\n').recipe.channels[0]?.unit).toBe('F');
  });

  test('a unit that nothing settles is asked about', () => {
    const { recipe, questions } = sniff('t (s),pack,room\n0,70.5,69\n10,70.6,69\n20,71,69\n');
    expect(recipe.channels.map(({ unit }) => unit)).toEqual(['F', 'F']);
    expect(questions).toMatchObject([{ field: 'channels.unit', chosen: 1 }]);
    const celsius = questions[0]?.options[0];
    expect(celsius && applyOption(recipe, celsius).channels.map(({ unit }) => unit)).toEqual(['C', 'C']);
  });

  test('probes are matched by name or id without regard to case, never by order', () => {
    const { recipe, questions } = sniff('t (s),T_SOC (°C),ROOM AIR,CH3\n0,21,20,22\n10,21.5,20,22\n');
    expect(recipe.channels.map(({ probe }) => probe)).toEqual(['soc', 'room', undefined]);
    expect(questions).toMatchObject([{ field: 'channels.2.probe', chosen: 0 }]);
    const pack = questions[0]?.options[1];
    const none = questions[0]?.options[0];
    const answered = pack && applyOption(recipe, pack);
    expect(answered?.channels[2]?.probe).toBe('pack');
    expect(answered && none && 'probe' in (applyOption(answered, none).channels[2] ?? {})).toBe(false);
  });

  test('a header that fits two probes fits none', () => {
    expect(sniff('t (s),pack to room\n0,21\n10,22\n').recipe.channels[0]?.probe).toBeUndefined();
  });

  test('what is not a temperature is left out and said so', () => {
    const { recipe, conclusions } = sniff(
      't (s),pack (°C),load (W),supply (V),status\n0,21,5.1,3.9,ok\n10,22,5.2,3.9,ok\n',
    );
    expect(recipe.channels.map(({ column }) => column)).toEqual([1]);
    expect(conclusions.filter((line) => line.includes('not a temperature'))).toHaveLength(2);
    expect(conclusions).toContain('Column 5 ("status") is text and is left out.');
  });

  test('a column without a unit follows its neighbours', () => {
    const { recipe, questions } = sniff('t (s),pack (°C),room\n0,58,57\n10,58,57\n');
    expect(recipe.channels.map(({ unit }) => unit)).toEqual(['C', 'C']);
    expect(questions).toEqual([]);
  });

  test('a fault code between readings is taken as no reading', () => {
    const { recipe, conclusions } = sniff('t (s),pack (°C)\n0,21\n10,-127.00\n20,22\n30,OL\n');
    expect(recipe.missing).toContain('-127.00');
    expect(recipe.missing).toContain('ol');
    expect(conclusions.join('\n')).toContain('-127.00');
  });
});

describe('a file that is no usable log names file, line and remedy', () => {
  test.each([
    ['an empty file', '', /is empty/],
    [
      'one column of readings',
      'pack\n21.5\n21.6\n',
      /evening\.csv:2: The log has one column only \("21\.5"\)/,
    ],
    [
      'one column of times',
      '2024-05-01 10:00:00\n2024-05-01 10:00:10\n',
      /no row of numbers|one column only|no column of temperatures/,
    ],
    ['prose', 'Dear diary,\nit was warm today, and then it was not.\n', /no row of numbers/],
    [
      'a time and texts',
      'time,note\n2024-05-01T10:00:00,warm\n2024-05-01T10:00:10,hot\n',
      /no row of numbers/,
    ],
    [
      'a time and a voltage',
      'time,U (V)\n2024-05-01T10:00:00,3.9\n2024-05-01T10:00:10,3.8\n',
      /no column of temperatures/,
    ],
    [
      'a comma in two roles',
      'time,pack,room\n10:00:00,21,5,20,1\n10:00:10,21,6,20,1\n',
      /the comma seems to part cells and to mark decimals/,
    ],
  ])('%s', (_name, text, what) => {
    expect(() => sniff(text)).toThrow(BadInputError);
    expect(() => sniff(text)).toThrow(what);
    expect(() => sniff(text)).toThrow(/^evening\.csv:\d+: .+/);
  });
});
