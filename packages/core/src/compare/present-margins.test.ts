import { describe, expect, test } from 'vitest';
import type { Build, Limit } from '../records/index.js';
import type { Margin } from './margin.js';
import { presentMargins } from './present-margins.js';

const limit = (level: Limit['level'], limit_C: number, more: Partial<Limit> = {}): Limit => ({
  id: `${level}${limit_C}`,
  where: 'cell',
  state: 'any',
  level,
  limit_C,
  source: 'made up',
  ...more,
});

const margin = (
  use: Margin['use'],
  title: string,
  of: Limit,
  expected: number | null,
  level: Margin['level'],
  more: Partial<Margin> = {},
): Margin => ({
  setup: 'plate',
  limit: of,
  use,
  title,
  probe: 'c1',
  expected_C: expected === null ? null : { value: expected, u: 0.4, dof: 6 },
  margin_K: expected === null ? null : of.limit_C - expected,
  atLeast_K: null,
  highestAmbient_C: null,
  level,
  lowerBound: false,
  missing: null,
  evidence: [],
  ...more,
});

const build: Pick<Build, 'setups' | 'zones' | 'designAmbient'> = {
  setups: [{ id: 'plate', name: 'plate', layers: [] }],
  zones: [{ id: 'cpu', name: 'processor', x_mm: 0, y_mm: 0, length_mm: 1, width_mm: 1, height_mm: 1 }],
  designAmbient: { ambient_C: 32 },
};

const prefer = limit('prefer', 35);
const margins: Margin[] = [
  margin('stored', 'stored', prefer, 32, 'holds'),
  margin('charging-idle', 'charging', limit('stop', 45), 41.6, 'holds'),
  margin('charging-idle', 'charging', prefer, 41.6, 'stop'),
  margin('charging-load', 'charging while recording', limit('stop', 45), 54.6, 'stop'),
  margin('discharging-load', 'recording', limit('stop', 60), 52.9, 'holds'),
  margin('discharging-load', 'recording', limit('stop', 70, { where: 'zone', zone: 'cpu' }), 69, 'look'),
  margin('discharging-idle', 'standby', limit('stop', 60), null, 'unknown', {
    missing: 'no run was settled at idle',
  }),
  margin('charging-idle', 'charging', limit('stop', 45), 30, 'holds', { setup: 'bare' }),
];

describe('margins as states against limits', () => {
  const view = presentMargins(build, margins, 'plate');

  test('make one row for each use and each thing a limit speaks of', () => {
    expect(view?.rows.map((row) => row.name.map((run) => run.words).join(' '))).toEqual([
      'stored',
      'charging',
      'charging while recording',
      'recording',
      'recording processor',
      'standby',
    ]);
  });

  test('judge by shape and word, the stop limit before the preferred level', () => {
    expect(view?.rows.map((row) => row.note)).toEqual([
      'prefer',
      'wear',
      'stop',
      'wear',
      'look',
      'not measured',
    ]);
    expect(view?.rows.map((row) => row.limit?.at)).toEqual([35, 45, 45, 60, 70, 60]);
  });

  test('name what is missing instead of drawing a value', () => {
    expect(view?.rows[5]?.mark).toBeNull();
    expect(view?.rows[5]?.absent).toBe('no run was settled at idle');
    expect(view?.label).toContain('standby, no run was settled at idle');
  });

  test('say the ambient and the preferred level once, as lines through all rows', () => {
    expect(view?.references?.map((each) => each.words)).toEqual(['design ambient 32', 'prefer below 35']);
  });

  test('draw a lower bound open, and never call it good', () => {
    const bound = presentMargins(
      build,
      [margin('charging-idle', 'charging', limit('stop', 45), 33, 'holds', { lowerBound: true })],
      'plate',
    );
    expect(bound?.rows[0]?.mark?.atLeast).toBe(true);
    expect(bound?.rows[0]?.valueWords).toBe('≥ 33.0');
    expect(bound?.rows[0]?.figure).toBe('≤ 12.0 K');
    expect(bound?.rows[0]?.look).toBe('look');
  });

  test('are not drawn without a design ambient', () => {
    expect(presentMargins({ ...build, designAmbient: undefined }, margins, 'plate')).toBeNull();
    expect(presentMargins(build, margins, 'film')).toBeNull();
  });
});
