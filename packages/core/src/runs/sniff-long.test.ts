import { describe, expect, test } from 'vitest';
import { BadInputError } from '../measure/index.js';
import { readLog } from './read-log.js';
import { sniffLog } from './sniff-log.js';
import type { GivenLong } from './sniff-table.js';

/** Two probes, four times, 10 s apart; column 3 is a battery's voltage, which the temperatures of column 4 are beside. */
const stamps = ['10:00:00', '10:00:10', '10:00:20', '10:00:30'];
const cell_C = [21, 22, 23, 24];
const room_C = [20, 20.5, 20, 20.5];
const two = stamps.flatMap((stamp, row) => [
  `2024-05-01T${stamp},cell,3.${70 + row},${cell_C[row]}`,
  `2024-05-01T${stamp},room,3.${80 + row},${room_C[row]}`,
]);
const text = (lines: readonly string[], header = 'time,what,battery,reading') =>
  `${header}\n${lines.join('\n')}\n`;
const encode = (log: string) => new TextEncoder().encode(log);
const sniff = (log: string, layout?: Omit<GivenLong, 'form'>) =>
  sniffLog(encode(log), {
    file: 'x.csv',
    probes: [],
    ...(layout && { given: { layout: { form: 'long', ...layout } } }),
  });
/** What each named channel reads, under the recipe that was found. */
function readings(log: string, layout: Omit<GivenLong, 'form'>): Record<string, number[]> {
  const { recipe } = sniff(log, layout);
  const { channels, after_s } = readLog(encode(log), recipe, 'x.csv');
  return {
    after_s: [...after_s],
    ...Object.fromEntries(channels.map(({ header, reading_C }) => [header, [...reading_C]])),
  };
}
function refusal(run: () => unknown): string {
  try {
    run();
  } catch (error) {
    if (error instanceof BadInputError) return error.message;
    throw error;
  }
  return 'nothing was refused';
}

describe('a log of one reading a line, as a person says it is', () => {
  test('two columns of numbers leave the value open, and saying it settles it', () => {
    expect(sniff(text(two)).recipe.layout).toBeUndefined();
    expect(refusal(() => sniff(text(two), {}))).toContain('Numbers stand in more than one column: 3 and 4.');
    expect(sniff(text(two), { value: 3 }).recipe.layout).toEqual({
      form: 'long',
      name: 1,
      value: 3,
      by: 'stamp',
    });
    expect(readings(text(two), { value: 3 })).toEqual({
      after_s: [0, 10, 20, 30],
      cell: cell_C,
      room: room_C,
    });
  });

  test('the column of names is taken as said, also where another would have been found first', () => {
    const lines = two.map((line, row) => `${line},${row % 2 === 0 ? 'C1' : 'A'}`);
    const log = text(lines, 'time,what,battery,reading,probe');
    expect(Object.keys(readings(log, { value: 3 }))).toEqual(['after_s', 'cell', 'room']);
    expect(readings(log, { name: 4, value: 3 })).toEqual({ after_s: [0, 10, 20, 30], C1: cell_C, A: room_C });
  });

  test('names that come in blocks do not take turns, and are names all the same once it is said', () => {
    const lines = ['cell', 'cell', 'room', 'room', 'cell', 'cell', 'room', 'room'].map(
      (name, row) => `${10 * row},${name},${20 + row}`,
    );
    const log = text(lines, 't,name,C');
    expect(sniff(log).recipe.layout).toBeUndefined();
    expect(sniff(log, { name: 1 }).recipe.layout).toMatchObject({ form: 'long', name: 1, value: 2 });
  });

  test('what makes a row is taken as said', () => {
    const late = two.map((line, row) => (row % 2 === 0 ? line : line.replace(/0,/, '3,')));
    const log = text(late);
    expect(readings(log, { value: 3, by: 'cycle' })).toEqual({
      after_s: [0, 10, 20, 30],
      cell: cell_C,
      room: room_C,
    });
    const apart = readings(log, { value: 3, by: 'stamp' });
    expect(apart['after_s']).toEqual([0, 3, 10, 13, 20, 23, 30, 33]);
    expect(apart['cell']).toEqual(cell_C.flatMap((value) => [value, Number.NaN]));
  });

  test('a column said to hold the value is no time, though it counts like one', () => {
    const lines = stamps.flatMap((stamp, row) => [`${stamp},cell,${20 + row}`, `${stamp},room,${20 + row}`]);
    const { recipe } = sniff(text(lines, 'clock,name,time'), { name: 1, value: 2 });
    expect(recipe.time).toMatchObject({ style: 'clock', columns: [0] });
    expect(recipe.channels.map(({ header }) => header)).toEqual(['cell', 'room']);
  });

  test.each([
    {
      layout: { name: 9 },
      what: 'Column 10 is to hold the name of each reading, and the lines have 4 columns.',
    },
    {
      layout: { value: 4 },
      what: 'Column 5 is to hold the value of each reading, and the lines have 4 columns.',
    },
    { layout: { name: 1, value: 1 }, what: 'Column 2 cannot hold both the name and the value' },
    { layout: { name: 2, value: 3 }, what: 'Column 3 holds 8 different names in 8 lines' },
    { layout: { value: 1, name: 0 }, what: 'Column 2 is to hold the value of each reading, and no number' },
  ])('$layout is refused with its reason', ({ layout, what }) => {
    const message = refusal(() => sniff(text(two), layout));
    expect(message).toContain(what);
    expect(message).toContain('x.csv:2');
  });

  test('a log of a row a line is refused where long form is asked for, and not read wide in silence', () => {
    const wide = text(
      cell_C.map((value, row) => `${10 * row},${value},${room_C[row]}`),
      't,cell,room',
    );
    expect(refusal(() => sniff(wide, {}))).toContain(
      'No column is found that names the reading of each line',
    );
  });

  test('lines of one stamp make no row where nothing tells the time', () => {
    const lines = cell_C.flatMap((value, row) => [`cell,${value}`, `room,${room_C[row]}`]);
    const log = text(lines, 'name,C');
    expect(refusal(() => sniff(log, { name: 0, value: 1, by: 'stamp' }))).toContain(
      'no column of the log tells the time',
    );
    expect(sniff(log, { name: 0, value: 1 }).recipe).toMatchObject({
      layout: { form: 'long', name: 0, value: 1, by: 'cycle' },
      time: { style: 'interval' },
    });
  });

  test('the columns of a line are told under their own heads', () => {
    expect(sniff(text(two), { value: 3 }).lineColumns).toEqual(['time', 'what', 'battery', 'reading']);
    expect(sniff(text(two)).lineColumns).toEqual(['time', 'what', 'battery', 'reading']);
  });
});

describe('a recipe in long form is refused', () => {
  const { recipe } = sniff(text(two), { value: 3 });
  const read = (layout: Omit<GivenLong, 'form'>, time = recipe.time) =>
    refusal(() =>
      readLog(
        encode(text(two)),
        { ...recipe, time, layout: { form: 'long', name: 1, value: 3, by: 'stamp', ...layout } },
        'x.csv',
      ),
    );
  test.each([
    { layout: { name: 3 }, what: 'Column 4 is both the name and the value of each reading.' },
    { layout: { name: 0 }, what: 'Column 1 is both the time and the name of each reading.' },
    { layout: { value: 0 }, what: 'Column 1 is both the time and the value of each reading.' },
    {
      layout: { value: 4 },
      what: 'The recipe takes the value of each reading from column 5. The lines have 4 columns.',
    },
  ])('$layout', ({ layout, what }) => {
    expect(read(layout)).toContain(what);
    expect(read({})).toBe('nothing was refused');
  });

  test('for a time beyond the line, though the rows made of it are wider', () => {
    expect(read({}, { style: 'iso', columns: [4] })).toContain(
      'takes the time from column 5. The lines have 4 columns.',
    );
  });
});
