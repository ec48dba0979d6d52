import { describe, expect, test } from 'vitest';
import { BadInputError } from '../measure/index.js';
import type { Build } from './build-record.js';
import { idFrom, newBuild } from './new-build.js';
import { readBuild, writeBuild } from './read-build.js';

function buildWith(change: (build: Record<string, unknown>) => void): string {
  const build = JSON.parse(writeBuild(newBuild('reedling-r2', 'Reedling R2'))) as Record<string, unknown>;
  change(build);
  return JSON.stringify(build);
}

function faultsOf(text: string) {
  try {
    readBuild(text);
  } catch (error) {
    if (error instanceof BadInputError) return error.faults;
    throw error;
  }
  throw new Error('the build was read');
}

describe('a build file', () => {
  const withReading = (reading: object) =>
    buildWith((build) => {
      build['probes'] = [{ id: 'c1', name: 'C1', place: 'cell' }];
      build['probeChecks'] = [
        {
          id: 'x',
          model: 'offset',
          points: [{ reference: { kind: 'ice' }, readings: [{ probe: 'c1', ...reading }] }],
        },
      ];
    });

  test.each([[{ reading_C: 0.1 }], [{ reading_mV: -1, terminals_C: 25 }], [{ reading_ohm: 100.1 }]])(
    'takes a reading of a check as %j',
    (reading) => {
      expect(readBuild(withReading(reading)).probeChecks[0]?.points[0]?.readings[0]).toMatchObject(reading);
    },
  );

  test.each([
    [{}, 'The reading is missing.'],
    [{ reading_F: 32 }, 'The reading is missing; "reading_F" stands there instead.'],
    [{ reading_C: 0.1, reading_mV: -1 }, 'The reading is noted as reading_C and as reading_mV.'],
  ])('refuses a reading noted as %j', (reading, what) => {
    expect(faultsOf(withReading(reading))).toMatchObject([
      { where: expect.stringContaining('probeChecks[0].points[0].readings[0]'), what },
    ]);
  });

  test('survives a round trip, unknown fields and all', () => {
    const text = buildWith((build) => {
      build['colour'] = { of: 'the shell', shades: [1, 2] };
      build['zones'] = [
        {
          id: 'z',
          name: 'Processor',
          x_mm: 1,
          y_mm: 1,
          length_mm: 9,
          width_mm: 9,
          height_mm: 1,
          paint: 'black',
        },
      ];
    });
    expect(JSON.parse(writeBuild(readBuild(text)))).toEqual(JSON.parse(text));
    expect(writeBuild(readBuild(writeBuild(readBuild(text))))).toBe(writeBuild(readBuild(text)));
  });

  test.each([
    {
      name: 'another format',
      change: (b: Record<string, unknown>) => (b['format'] = 'other'),
      where: /format/,
      remedy: /build\.json/,
    },
    {
      name: 'a newer version',
      change: (b: Record<string, unknown>) => (b['version'] = 2),
      where: /version/,
      remedy: /newer Soakbench/,
    },
    {
      name: 'a wrong unit',
      change: (b: Record<string, unknown>) =>
        (b['setups'] = [
          {
            id: 'plate',
            name: 'plate',
            layers: [{ material: 'aluminium', name: 'plate', thickness_in: 0.02 }],
          },
        ]),
      where: /setups\[0\]\.layers\[0\]\.thickness_mm/,
      remedy: /under that name/,
    },
    {
      name: 'an unknown set-up',
      change: (b: Record<string, unknown>) => (b['baseline'] = 'shiny'),
      where: /baseline/,
      remedy: /Add the set-up first/,
    },
    {
      name: 'an id used twice',
      change: (b: Record<string, unknown>) =>
        (b['setups'] = [
          { id: 'a', name: 'a', layers: [] },
          { id: 'a', name: 'b', layers: [] },
        ]),
      where: /setups\[1\]\.id/,
      remedy: /its own id/,
    },
    {
      name: 'a day of more than 24 hours',
      change: (b: Record<string, unknown>) => {
        b['duty'] = { load_h_per_day: 20, idle_h_per_day: 6, ambient_C: 25, rest_C: 22 };
      },
      where: /duty/,
      remedy: /24 hours/,
    },
    {
      name: 'a year whose days have more than 24 hours',
      change: (b: Record<string, unknown>) => {
        b['dutyYear'] = {
          activities: [
            { id: 'play', name: 'playing', h_per_day: 20, use_W: 6 },
            { id: 'read', name: 'reading', h_per_day: 5, use_W: 2 },
          ],
          charging: { habit: 'docked' },
          room: { monthly_C: [21] },
        };
      },
      where: /dutyYear\.activities/,
      remedy: /24 hours/,
    },
    {
      name: 'a charge limit that is none',
      change: (b: Record<string, unknown>) => {
        b['dutyYear'] = {
          activities: [],
          charging: { habit: 'docked', limit: 0.2 },
          room: { monthly_C: [21] },
        };
      },
      where: /dutyYear\.charging\.limit/,
      remedy: /0\.3 to 1 of a full charge/,
    },
    {
      name: 'a temperature below the coldest',
      change: (b: Record<string, unknown>) => (b['designAmbient'] = { ambient_C: -300 }),
      where: /designAmbient\.ambient_C/,
      remedy: /Enter -60 °C or more\./,
    },
    {
      name: 'an empty thickness',
      change: (b: Record<string, unknown>) =>
        (b['limits'] = [{ id: 'x', where: 'cell', state: 'any', level: 'stop', limit_C: 60, source: '' }]),
      where: /limits\[0\]\.source/,
      remedy: /./,
    },
  ])('with $name is refused by field and remedy', ({ change, where, remedy }) => {
    const [fault] = faultsOf(buildWith(change));
    expect(fault?.where).toMatch(where);
    expect(fault?.remedy).toMatch(remedy);
  });

  test('that is not JSON says so', () => {
    expect(faultsOf('{ "format": ')[0]?.what).toMatch(/not JSON/);
  });

  test('names the known set-ups where a run points to none of them', () => {
    const text = buildWith((build) => {
      build['setups'] = [{ id: 'bare', name: 'bare', layers: [] }];
      build['runs'] = [
        {
          id: 'r',
          log: { file: 'a.csv', sha256: '0'.repeat(64) },
          setup: 'bear',
          mounting: 'm1',
          session: 's1',
          recipe: {
            encoding: 'utf-8',
            delimiter: ',',
            decimal: '.',
            headerLines: 1,
            time: { style: 'interval', interval_s: 10 },
            channels: [{ column: 0, header: 'C1', unit: 'C' }],
            missing: [],
          },
        },
      ];
    });
    expect(faultsOf(text)[0]).toMatchObject({
      where: 'build.json: runs[0].setup',
      remedy: 'Use one of: bare.',
    });
  });

  test('collects all faults at once', () => {
    const text = buildWith((build) => {
      build['designAmbient'] = { ambient_C: 900 };
      build['name'] = '';
    });
    expect(faultsOf(text)).toHaveLength(2);
  });
});

test('ids come from names and never clash', () => {
  expect(idFrom('Plate on strips')).toBe('plate-on-strips');
  expect(idFrom('Kühlblech ½ mm')).toMatch(/^[a-z0-9][a-z0-9-]*$/);
  expect(idFrom('plate', ['plate', 'plate-2'])).toBe('plate-3');
  expect(idFrom('  ')).toBe('item');
});

test('a new build is valid as it stands', () => {
  const build: Build = readBuild(writeBuild(newBuild('x', 'X')));
  expect(build.limits.every(({ source }) => source.startsWith('common practice'))).toBe(true);
});
