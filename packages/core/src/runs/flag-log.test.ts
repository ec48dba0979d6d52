import { expect, test } from 'vitest';
import { flagLog } from './flag-log.js';
import { readLog } from './read-log.js';
import { sniffLog } from './sniff-log.js';

/** Forty rows ten seconds apart, with changes by row. */
function flagsOf(change: (row: number, cells: [string, string]) => [string, string], keep = false) {
  const lines = Array.from({ length: 40 }, (_, row) =>
    change(row, [String(row * 10), (21.5 + row / 10).toFixed(1)]).join(','),
  );
  const bytes = new TextEncoder().encode(`t (s),pack (°C)\n${lines.join('\n')}\n`);
  const { recipe } = sniffLog(bytes, {
    file: 'x.csv',
    probes: [{ id: 'pack', name: 'pack', place: 'cell' }],
  });
  const { doubtful: _sniffed, ...older } = recipe;
  const { after_s, startedAt, channels, report } = readLog(bytes, keep ? older : recipe, 'x.csv');
  const series = {
    after_s,
    startedAt,
    channels: channels.map(({ reading_C }) => ({ probe: 'pack', reading_C, level_C: reading_C })),
  };
  return flagLog({ series, report, nameOf: (probe) => `the ${probe}` });
}

test('a sound log has no flag', () => {
  expect(flagsOf((_row, cells) => cells)).toEqual([]);
});

test('readings that are none are flagged by line; a recipe that does not know of them keeps them', () => {
  const wake = (row: number, cells: [string, string]): [string, string] =>
    row === 7 ? [cells[0], '85.0'] : cells;
  expect(flagsOf(wake)).toMatchObject([
    { kind: 'power-on', level: 'holds', title: 'power-on value, the pack', effect: 'left out and counted' },
  ]);
  expect(flagsOf(wake)[0]?.detail).toContain('1 reading in line 9');
  expect(flagsOf(wake, true)).toMatchObject([{ kind: 'power-on', level: 'look' }]);
  expect(flagsOf(wake, true)[0]?.effect).toContain('kept as read');
});

test('rows out of order and rows left out are flagged', () => {
  const swap = (row: number, [, value]: [string, string]): [string, string] => {
    const moved = row === 20 ? 21 : row === 21 ? 20 : row === 30 ? 29 : row;
    return [String(moved * 10), value];
  };
  const flags = flagsOf(swap);
  expect(flags.map(({ kind }) => kind)).toEqual(['out-of-order', 'unread-rows']);
  expect(flags[0]?.detail).toContain('line 23');
  expect(flags[1]?.detail).toContain('same time as the row before it');
});

test('steps of half a kelvin are flagged with u = step / sqrt(12)', () => {
  // [JCGM-100] F.2.2.1: 0.5 K / sqrt(12) = 0.144 K.
  const [flag] = flagsOf((row, [time]) => [time, (21.5 + Math.floor(row / 4) / 2).toFixed(1)]);
  expect(flag).toMatchObject({ kind: 'coarse-steps', level: 'look' });
  expect(flag?.detail).toContain('0.50 K');
  expect(flag?.effect).toContain('0.14');
});
