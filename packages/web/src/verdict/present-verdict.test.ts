import type { Margin } from '@soakbench/core/compare';
import { defaultLimits, type Limit } from '@soakbench/core/records';
import { describe, expect, test } from 'vitest';
import { coolEnoughWords, highestAmbients, levelWords, limitSources } from './present-verdict.js';

const [prefer, charging, discharging] = defaultLimits as [Limit, Limit, Limit];

const margin = (part: Partial<Margin>): Margin => ({
  setup: 'plate',
  limit: discharging,
  use: 'discharging-load',
  title: 'in use, full load',
  probe: 'c1',
  expected_C: { value: 53, u: 0.4, dof: 6 },
  margin_K: 7,
  atLeast_K: 6.2,
  highestAmbient_C: 38.3,
  level: 'holds',
  lowerBound: false,
  missing: null,
  evidence: [],
  ...part,
});
const passed = margin({
  limit: charging,
  use: 'charging-load',
  title: 'charging at full load',
  margin_K: -9.6,
  highestAmbient_C: 21.4,
  level: 'stop',
});
const unknown = margin({
  limit: charging,
  use: 'charging-idle',
  title: 'charging, device idle',
  expected_C: null,
  margin_K: null,
  highestAmbient_C: null,
  level: 'unknown',
});

describe('is it cool enough, in a sentence', () => {
  test('each state that passes its limit is named with how far', () => {
    expect(coolEnoughWords([margin({}), passed])).toBe(
      '1 of 2 states holds. Charging at full load passes its limit by 9.6 K.',
    );
  });
  test('a limit that only the doubt passes is not called passed', () => {
    const within = margin({ margin_K: 0.4, level: 'stop' });
    expect(coolEnoughWords([within])).toContain('within the doubt');
    expect(coolEnoughWords([within])).not.toContain('passes');
  });
  test('what was not measured is named, and does not count as holding', () => {
    const words = coolEnoughWords([margin({}), unknown]);
    expect(words).toContain('in 1 state.');
    expect(words).toContain('Not measured: charging, device idle.');
  });
  test('a preferred level is no limit: passing it fails nothing', () => {
    const worn = margin({ limit: prefer, margin_K: -18, level: 'look' });
    expect(coolEnoughWords([margin({}), worn])).toBe('Every limit that could be judged holds, in 1 state.');
  });
  test('of two limits on one state the tighter one is judged', () => {
    const tighter = margin({
      limit: { ...discharging, id: 'sheet', limit_C: 50 },
      margin_K: -3,
      level: 'stop',
    });
    expect(coolEnoughWords([margin({}), tighter])).toContain('by 3.0 K');
    expect(highestAmbients({ zones: [] }, [margin({}), tighter])).toHaveLength(1);
  });
  test('without any judged state nothing is claimed', () => {
    expect(coolEnoughWords([unknown])).toMatch(/^Not known/);
  });
  test('the word safe is never used', () => {
    for (const margins of [[margin({})], [passed], [unknown], []]) {
      expect(coolEnoughWords(margins)).not.toMatch(/safe/i);
    }
  });
});

test('a bound on the ambient is printed as one', () => {
  expect(highestAmbients({ zones: [] }, [margin({ lowerBound: true })])[0]?.highest).toMatch(/^below 38\.3/);
});

test('limits with one source are named together', () => {
  expect(limitSources([margin({}), passed])).toEqual([
    'Common practice, no source: replace by the pack’s own sheet: cell, discharging 60 °C; cell, charging 45 °C.',
  ]);
});

test('the preferred level is the lowest of those for cells, and null where there is none', () => {
  expect(levelWords({ limits: [...defaultLimits, { ...prefer, id: 'p2', limit_C: 32.5 }] })).toBe('32.5');
  expect(levelWords({ limits: [discharging] })).toBeNull();
});
