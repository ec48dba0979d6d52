import type { Probe, Recipe } from '@soakbench/core/records';
import { describe, expect, test } from 'vitest';
import { previewLog } from './preview-log.js';

const build = { probes: [{ id: 'c1', name: 'cell 1', place: 'cell' as const }] };

const recipe: Recipe = {
  encoding: 'utf-8',
  delimiter: ';',
  decimal: ',',
  headerLines: 1,
  time: { style: 'date', columns: [0], order: 'day-month' },
  channels: [{ column: 1, header: 'C1', probe: 'c1', unit: 'F' }],
  missing: [],
};

const bytes = (text: string) => new TextEncoder().encode(text);

test('the first rows are shown as they are read: in °C, after the start, gaps named', () => {
  const preview = previewLog(
    build,
    bytes('t;C1\n05.04.2025 09:00:00;98,6\n05.04.2025 09:00:10;\n'),
    recipe,
    'x.csv',
  );
  if (!preview.ok) throw new Error('not read');
  // 98.6 °F are 37 °C by the definition of the degree Fahrenheit.
  expect(preview.rows.map(({ cells }) => cells)).toEqual([
    ['0:00:00', '37.00'],
    ['0:00:10', 'no reading'],
  ]);
  expect(preview.startedAt).toBe('2025-04-05T09:00:00.000Z');
});

test('another order of day and month shows at once', () => {
  const time = { ...recipe.time, order: 'month-day' } as Recipe['time'];
  const preview = previewLog(
    build,
    bytes('t;C1\n05.04.2025 09:00:00;98,6\n05.04.2025 09:00:10;98,6\n'),
    { ...recipe, time },
    'x.csv',
  );
  expect(preview.ok && preview.startedAt).toBe('2025-05-04T09:00:00.000Z');
});

test('a recipe that does not fit gives faults that name file and line', () => {
  const preview = previewLog(build, bytes('t;C1\nno time at all;98,6\n'), recipe, 'x.csv');
  expect(preview.ok).toBe(false);
  if (!preview.ok) expect(preview.faults[0]?.where).toMatch(/^x\.csv/);
});

test('a long log is cut at a line end, so that its last stamp is never half a stamp', () => {
  const row = (index: number) => `${String(index * 10)};98,6`;
  const text = `t;C1\n${Array.from({ length: 40_000 }, (_, index) => row(index)).join('\n')}\n`;
  const elapsed: Recipe = { ...recipe, time: { style: 'elapsed', columns: [0], unit: 's' } };
  for (const shift of [0, 1, 2, 3, 4, 5, 6]) {
    const shifted = bytes(`${'#'.repeat(shift)}${text}`);
    const preview = previewLog(build, shifted, elapsed, 'x.csv');
    expect(preview.ok, `shift ${shift}`).toBe(true);
  }
});

describe('raw signals', () => {
  const channels: Recipe['channels'] = [
    { column: 1, header: 'C1', probe: 'c1', unit: 'mV' },
    { column: 2, header: 'CJ', unit: 'C', coldJunction: true },
  ];
  const text = bytes('t;C1;CJ\n05.04.2025 09:00:00;1;25\n05.04.2025 09:00:10;77;25\n');

  // [NIST-MONO-175] 1 mV above 25 °C is 49.446 °C on type K, inverted outside with 40 digits (mpmath 1.3).
  test('are shown as the temperatures their sensor makes of them', () => {
    const probes: Probe[] = [
      { id: 'c1', name: 'cell 1', place: 'cell', sensor: { kind: 'thermocouple', type: 'K' } },
    ];
    const preview = previewLog({ probes }, text, { ...recipe, channels }, 'x.csv');
    if (!preview.ok) throw new Error('not read');
    expect(preview.columns.map(({ title }) => title)).toEqual([
      'after start',
      'cell 1, °C',
      'CJ (cold junction), °C',
    ]);
    expect(preview.rows.map(({ cells }) => cells[1])).toEqual(['49.45', 'no reading']);
    expect(preview.unread[0]).toContain('such as 77 mV');
  });

  test('of a probe that states no sensor are refused where they are chosen', () => {
    const preview = previewLog(build, text, { ...recipe, channels }, 'x.csv');
    expect(preview.ok || preview.faults[0]?.what).toContain('does not state what sensor');
  });
});
