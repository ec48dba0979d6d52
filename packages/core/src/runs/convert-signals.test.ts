import { describe, expect, test } from 'vitest';
import { exactCorrection } from '../../test/corrections.js';
import { BadInputError } from '../measure/index.js';
import type { Probe, Recipe, SensorFacts } from '../records/index.js';
import { convertSignals } from './convert-signals.js';
import { readLog } from './read-log.js';
import { readSeries } from './read-series.js';

const plain: Recipe = {
  encoding: 'utf-8',
  delimiter: ';',
  decimal: '.',
  headerLines: 1,
  time: { style: 'elapsed', columns: [0], unit: 's' },
  channels: [
    { column: 1, header: 'tip', probe: 'tip', unit: 'mV' },
    { column: 2, header: 'terminals', unit: 'C', coldJunction: true },
  ],
  missing: ['OL'],
};
const probe = (sensor?: SensorFacts, id = 'tip'): Probe => ({
  id,
  name: id,
  place: 'cell',
  ...(sensor && { sensor }),
});
const typeK: SensorFacts = { kind: 'thermocouple', type: 'K' };

function convert(text: string, probes: readonly Probe[], change: Partial<Recipe> = {}) {
  const bytes = new TextEncoder().encode(text);
  return convertSignals(readLog(bytes, { ...plain, ...change }, 'signals.csv'), probes, 'signals.csv');
}
function faultsOf(run: () => unknown) {
  try {
    run();
  } catch (error) {
    if (error instanceof BadInputError) return error.faults;
    throw error;
  }
  throw new Error('Nothing was refused.');
}
const log = 's;tip;terminals\n0;2.5;23.5\n10;1.0;25\n20;-0.3;25\n';

describe('a log of raw signals', () => {
  // [NIST-MONO-175] inverted outside the project with 40 digits (mpmath 1.3).
  test('of a thermocouple becomes temperatures by the cold junction in its own column', () => {
    const { channels, report } = convert(log, [probe(typeK)]);
    const [tip] = channels;
    const expected_C = [84.1615416931, 49.446273001, 17.570153254];
    for (const [row, level_C] of expected_C.entries()) expect(tip?.reading_C[row]).toBeCloseTo(level_C, 7);
    expect([...(tip?.signal ?? [])]).toEqual([2.5, 1, -0.3]);
    expect(report.conclusions.at(-1)).toBe(
      'Column 2 ("tip") is turned into °C as the signal of a type K thermocouple, its cold junction read from column 3 ("terminals").',
    );
  });

  test('of a thermocouple takes the fixed cold junction of its probe where the log has none', () => {
    const fixed = probe({ ...typeK, coldJunction: { kind: 'fixed', fixed_C: 25 } } as SensorFacts);
    const channels = [plain.channels[0] as Recipe['channels'][number]];
    const { channels: read } = convert(log, [fixed], { channels });
    expect(read[0]?.reading_C[1]).toBeCloseTo(49.446273001, 7);
    // A column that measured it in this very run goes before what was stated once for all.
    expect(convert(log, [fixed]).channels[0]?.reading_C[0]).toBeCloseTo(84.1615416931, 7);
  });

  // [IEC-60751] 123.2419 ohm at 60 °C; [NIST-MONO-175] 2.436471627 mV at 60 °C.
  test('is read in each unit of its signal', () => {
    const text = 's;a;b;c\n0;2436.471627;0.1232419;123.2419\n5;2436.471627;0.1232419;123.2419\n';
    const { channels } = convert(
      text,
      [
        probe({ ...typeK, coldJunction: { kind: 'fixed', fixed_C: 0 } } as SensorFacts, 'a'),
        probe({ kind: 'platinum', element: 'Pt100' }, 'b'),
        probe({ kind: 'platinum', element: 'Pt100' }, 'c'),
      ],
      {
        channels: [
          { column: 1, header: 'a', probe: 'a', unit: 'uV' },
          { column: 2, header: 'b', probe: 'b', unit: 'kohm' },
          { column: 3, header: 'c', probe: 'c', unit: 'ohm' },
        ],
      },
    );
    for (const { reading_C } of channels) expect(reading_C[0]).toBeCloseTo(60, 5);
  });

  test('takes a cold junction that is itself a resistance, whichever column comes first', () => {
    const { channels } = convert(
      's;tip;board\n0;1.0;109.734656\n5;1.0;109.734656\n',
      [probe(typeK), { ...probe({ kind: 'platinum', element: 'Pt100' }, 'board'), place: 'ambient' }],
      {
        channels: [
          plain.channels[0] as Recipe['channels'][number],
          { column: 2, header: 'board', probe: 'board', unit: 'ohm', coldJunction: true },
        ],
      },
    );
    expect(channels[0]?.reading_C[0]).toBeCloseTo(49.446273, 5);
    expect(channels[1]?.reading_C[0]).toBeCloseTo(25, 5);
  });

  test('counts and lists signals that are no temperature, with their line', () => {
    const text = 's;tip;terminals\n0;2.5;23.5\n\n10;78.1;23.5\n20;OL;23.5\n30;99;23.5\n40;2.5;\n50;20;23.5\n';
    const { channels, report, after_s } = convert(text, [probe(typeK)]);
    expect([...after_s]).toEqual([0, 10, 20, 30, 40, 50]);
    expect([...(channels[0]?.reading_C ?? [])].map(Number.isNaN)).toEqual([
      false,
      true,
      true,
      true,
      true,
      true,
    ]);
    expect(report.unread).toEqual([
      { reason: 'no reading: the log says "OL"', count: 1, firstLine: 5, lines: [5] },
      { reason: 'empty cell', count: 1, firstLine: 7, lines: [7] },
      {
        // 20 mV are 484 °C: a temperature of the sensor, and none of a bench.
        reason:
          'no temperature from -60 to 300 °C of a type K thermocouple in column 2 ("tip"), such as 78.1 mV',
        count: 3,
        firstLine: 4,
        lines: [4, 6, 8],
      },
      { reason: 'no reading of the cold junction', count: 1, firstLine: 7, lines: [7] },
    ]);
  });

  test('leaves a log of temperatures, and a raw column nobody uses, as they are', () => {
    const channels: Recipe['channels'] = [
      { column: 1, header: 'tip', unit: 'mV' },
      { column: 2, header: 'terminals', probe: 'tip', unit: 'C' },
    ];
    const bytes = new TextEncoder().encode(log);
    const reading = readLog(bytes, { ...plain, channels }, 'signals.csv');
    expect(convertSignals(reading, [probe()], 'signals.csv')).toBe(reading);
    expect([...(reading.channels[0]?.reading_C ?? [])].every(Number.isNaN)).toBe(true);
  });

  test('is corrected like any other reading', () => {
    const { series } = readSeries(
      { probes: [probe(typeK)] },
      { recipe: plain, log: { file: 'signals.csv', sha256: '' } },
      [exactCorrection('tip', { offset_K: -0.5 })],
      new TextEncoder().encode(log),
    );
    expect(series.channels).toHaveLength(1);
    expect(series.channels[0]?.level_C[0]).toBeCloseTo(83.6615416931, 7);
  });
});

describe('a log of raw signals is refused', () => {
  test('where the probe states no sensor', () => {
    const [fault] = faultsOf(() => convert(log, [probe()]));
    expect(fault).toMatchObject({
      where: 'signals.csv',
      what: 'Column 2 ("tip") is in mV, and probe "tip" does not state what sensor makes a temperature of it.',
      remedy: expect.stringContaining('State the sensor of the probe, a thermocouple'),
    });
  });

  test('where the sensor gives another signal', () => {
    const [fault] = faultsOf(() => convert(log, [probe({ kind: 'platinum', element: 'Pt100' })]));
    expect(fault?.what).toContain('a Pt100, whose signal is in Ω');
  });

  test('where the cold junction is not known', () => {
    const channels = [plain.channels[0] as Recipe['channels'][number]];
    const [fault] = faultsOf(() => convert(log, [probe(typeK)], { channels }));
    expect(fault?.remedy).toContain('Mark the column');
  });

  test('where two columns are marked, or one that needs a cold junction itself', () => {
    const both = plain.channels.map((channel) => ({ ...channel, coldJunction: true }));
    expect(faultsOf(() => convert(log, [probe(typeK)], { channels: both }))[0]?.what).toContain('2 columns');
    const itself = [{ ...(plain.channels[0] as Recipe['channels'][number]), coldJunction: true }];
    expect(faultsOf(() => convert(log, [probe(typeK)], { channels: itself }))[0]?.what).toContain(
      'needs one',
    );
    const nobody: Recipe['channels'] = [
      { column: 1, header: 'tip', probe: 'tip', unit: 'C' },
      { column: 2, header: 'terminals', unit: 'ohm', coldJunction: true },
    ];
    expect(faultsOf(() => convert(log, [probe()], { channels: nobody }))[0]?.what).toContain(
      'belongs to no probe',
    );
  });

  test('where the facts of the sensor contradict themselves', () => {
    const rows = [
      { at_C: 0, resistance_ohm: 100 },
      { at_C: 50, resistance_ohm: 200 },
    ];
    const channels: Recipe['channels'] = [{ column: 1, header: 'tip', probe: 'tip', unit: 'ohm' }];
    const [fault] = faultsOf(() => convert(log, [probe({ kind: 'ntc-table', rows })], { channels }));
    expect(fault?.what).toMatch(/^Probe "tip": The resistance of an NTC falls/);
  });

  test('where not one signal is a temperature, as with the wrong unit', () => {
    const channels = plain.channels.map((channel) => ({ ...channel }));
    const text = log.replaceAll(/;(-?[\d.]+);/g, (_, mV: string) => `;${1000 * Number(mV)};`);
    const [fault] = faultsOf(() =>
      convert(text, [probe({ ...typeK })], {
        channels: channels.slice(0, 1).concat({ column: 2, header: 'terminals', unit: 'mV' }),
      }),
    );
    expect(fault?.what).toContain('how warm those were is not known');
    const fixed = probe({ ...typeK, coldJunction: { kind: 'fixed', fixed_C: 25 } } as SensorFacts);
    const [silent] = faultsOf(() => convert(text, [fixed], { channels: channels.slice(0, 1) }));
    expect(silent?.what).toContain('No signal of this log is a temperature');
    expect(silent?.remedy).toContain('Check the unit of column 2 ("tip")');
  });
});
