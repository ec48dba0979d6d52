import { describe, expect, test } from 'vitest';
import type { Probe } from '../records/index.js';
import { sniffLog } from './sniff-log.js';
import { rawUnitOfHeader } from './sniff-signals.js';

const sniff = (text: string, probes: readonly Probe[] = []) =>
  sniffLog(new TextEncoder().encode(text), { file: 'signals.csv', probes });
const channelsOf = (text: string, probes?: readonly Probe[]) => sniff(text, probes).recipe.channels;
const rowsOf = (...columns: readonly number[]) =>
  Array.from({ length: 12 }, (_, i) => [10 * i, ...columns.map((value) => value + i / 1000)].join(',')).join(
    '\n',
  );

test.each([
  ['tip (mV)', 'mV'],
  ['tip_mV', 'mV'],
  ['mV', 'mV'],
  ['U1 [µV]', 'uV'],
  ['U1 uV', 'uV'],
  ['NTC (Ω)', 'ohm'],
  ['R1 ohm', 'ohm'],
  ['R1 Ohms', 'ohm'],
  ['NTC1 kOhm', 'kohm'],
  ['NTC1/kΩ', 'kohm'],
  ['tip (°C)', undefined],
  ['battery V', undefined],
  ['R1 MOhm', undefined],
  ['rhomv', undefined],
] as const)('the header %s names %s', (header, unit) => {
  expect(rawUnitOfHeader(header)).toBe(unit);
});

describe('columns of raw signals', () => {
  const k: Probe = { id: 'c1', name: 'C1', place: 'cell', sensor: { kind: 'thermocouple', type: 'K' } };

  test('are taken where a probe’s sensor gives such a signal, with the cold junction by its header', () => {
    const { recipe, conclusions } = sniff(
      `s,C1 (mV),other (mV),CJ (°C),battery (mV)\n${rowsOf(1, 0.9, 24, 3700)}`,
      [k],
    );
    expect(recipe.channels).toEqual([
      { column: 1, header: 'C1 (mV)', unit: 'mV', probe: 'c1' },
      { column: 2, header: 'other (mV)', unit: 'mV' },
      { column: 3, header: 'CJ (°C)', unit: 'C', coldJunction: true },
    ]);
    expect(conclusions).toContain('Column 2 ("C1 (mV)") is read in mV: its header says so, a raw signal.');
    expect(conclusions).toContain(
      'Column 4 ("CJ (°C)") is taken for the cold junction of the thermocouples, by its header.',
    );
    expect(conclusions).toContain('Column 5 ("battery (mV)") is in mV, not a temperature, and is left out.');
  });

  test('beside temperatures are left out where no probe is known to give such a signal', () => {
    expect(channelsOf(`s,pack (°C),cell 1 (mV)\n${rowsOf(22, 3700)}`)).toEqual([
      { column: 1, header: 'pack (°C)', unit: 'C' },
    ]);
  });

  test('are taken where they are all the log has', () => {
    expect(channelsOf(`s,A (kOhm),B (kOhm)\n${rowsOf(10, 11)}`)).toEqual([
      { column: 1, header: 'A (kOhm)', unit: 'kohm' },
      { column: 2, header: 'B (kOhm)', unit: 'kohm' },
    ]);
  });

  test('are told from a row of units below the names', () => {
    expect(channelsOf(`time,C1,room\ns,mV,°C\n${rowsOf(1, 24)}`, [k])).toEqual([
      { column: 1, header: 'C1', unit: 'mV', probe: 'c1' },
      { column: 2, header: 'room', unit: 'C' },
    ]);
  });

  test('have no parts of a degree, and the question about those is asked of the temperatures beside them', () => {
    const rows = Array.from({ length: 12 }, (_, row) => `${10 * row},${1 + row / 1000},${240 + row}`);
    const { recipe, questions } = sniff(`s,C1 (mV),room\n${rows.join('\n')}`, [k]);
    expect(recipe.channels).toEqual([
      { column: 1, header: 'C1 (mV)', unit: 'mV', probe: 'c1' },
      { column: 2, header: 'room', unit: 'C', scale: 0.1 },
    ]);
    const asked = questions.find(({ field }) => field === 'channels.scale');
    expect(asked?.options.map(({ set }) => set)).toEqual([
      { 'channels.1.scale': 0.1 },
      { 'channels.1.scale': null },
    ]);
  });

  test('do not lend their unit to columns that name none', () => {
    expect(channelsOf(`s,C1 (mV),room\n${rowsOf(1, 24)}`, [k])[1]).toEqual({
      column: 2,
      header: 'room',
      unit: 'C',
    });
  });
});
