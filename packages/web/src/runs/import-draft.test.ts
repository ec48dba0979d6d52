import { type Build, newBuild, type Recipe } from '@soakbench/core/records';
import { describe, expect, test } from 'vitest';
import {
  freeFileName,
  freshMounting,
  type ImportDraft,
  missingAnswers,
  runOfDraft,
  sameLog,
  setChannel,
  setTimeStyle,
} from './import-draft.js';

const recipe: Recipe = {
  encoding: 'utf-8',
  delimiter: ',',
  decimal: '.',
  headerLines: 1,
  time: { style: 'date', columns: [0, 1], order: 'day-month' },
  channels: [
    { column: 2, header: 'C1', probe: 'c1', unit: 'C' },
    { column: 3, header: 'A', probe: 'a', unit: 'C' },
  ],
  missing: [],
};

const build: Build = {
  ...newBuild('b', 'B'),
  probes: [
    { id: 'c1', name: 'cell 1', place: 'cell' },
    { id: 'a', name: 'ambient', place: 'ambient' },
  ],
  setups: [{ id: 'bare', name: 'bare', layers: [] }],
  runs: [
    {
      id: 'run-1-bare',
      name: 'Run 1, bare',
      log: { file: 'log.csv', sha256: 'a'.repeat(64) },
      setup: 'bare',
      mounting: 'mounting 1',
      session: 'd1',
      recipe,
    },
  ],
};

const draft: ImportDraft = {
  recipe,
  text: {},
  usesEarlier: false,
  answers: {},
  name: '',
  setup: 'bare',
  session: 'd2',
  mounting: 'mounting 2',
  charging: false,
  load_W: 5.2,
  load_u_W: undefined,
  idle_W: undefined,
  idle_u_W: undefined,
  pack_A: undefined,
  ambient_C: 21,
  ambient_u_K: undefined,
};

const question = { field: 'time.order', question: 'Day first?', options: [], chosen: 0 };

describe('what a person must say before a log is stored', () => {
  test('nothing is missing from a complete draft', () => {
    expect(missingAnswers(build, draft, [])).toEqual([]);
  });
  test('an open question keeps the log out until it is answered, although the recipe holds a choice', () => {
    expect(missingAnswers(build, draft, [question])).toEqual(['Day first?']);
    expect(missingAnswers(build, { ...draft, answers: { 'time.order': 0 } }, [question])).toEqual([]);
  });
  test('an ambient probe alone is no measurement of the device', () => {
    const only = setChannel(recipe, 2, 'C1', { probe: undefined });
    expect(missingAnswers(build, { ...draft, recipe: only }, [])).toEqual([
      'Which column belongs to which probe?',
    ]);
  });
  test('set-up and charging are asked, never assumed', () => {
    const asked = missingAnswers(build, { ...draft, setup: undefined, charging: undefined }, []);
    expect(asked).toHaveLength(2);
  });
});

describe('the run that is stored', () => {
  test('gets a name and an id of its own, and no room temperature where the room was logged', () => {
    const run = runOfDraft(build, draft, 'log-2.csv', 'b'.repeat(64));
    expect(run).toMatchObject({
      id: 'run-2-bare',
      name: 'Run 2, bare',
      setup: 'bare',
      mounting: 'mounting 2',
    });
    expect(run.conditions).toEqual({ load_W: 5.2, charging: false });
  });
  test('keeps the noted room temperature where no ambient probe was logged', () => {
    const without = setChannel(recipe, 3, 'A', { probe: undefined });
    const run = runOfDraft(build, { ...draft, recipe: without }, 'x.csv', 'b'.repeat(64));
    expect(run.conditions).toMatchObject({ ambient_C: 21 });
  });
});

describe('recipes as they are corrected', () => {
  test('a column that was kept unused loses its probe field, for the record knows no empty probe', () => {
    const changed = setChannel(recipe, 2, 'C1', { probe: undefined });
    expect(changed.channels[0]).toEqual({ column: 2, header: 'C1', unit: 'C' });
  });
  test('a column nobody took for a temperature can be taken', () => {
    const changed = setChannel(recipe, 4, 'C2', { probe: 'c2' });
    expect(changed.channels.at(-1)).toEqual({ column: 4, header: 'C2', probe: 'c2', unit: 'C' });
  });
  test('a time style of one column keeps the first', () => {
    expect(setTimeStyle(recipe, 'elapsed').time).toEqual({ style: 'elapsed', columns: [0], unit: 's' });
    expect(setTimeStyle(recipe, 'iso').time).toEqual({ style: 'iso', columns: [0, 1] });
    expect(setTimeStyle(setTimeStyle(recipe, 'interval'), 'clock').time).toEqual({
      style: 'clock',
      columns: [0],
    });
  });
});

test('a second log of the same name gets a free one', () => {
  expect(freeFileName(build, 'log.csv')).toBe('log-2.csv');
  expect(freeFileName(build, 'other.csv')).toBe('other.csv');
});

test('a new mounting is one that no run has', () => {
  expect(freshMounting(build)).toBe('mounting 2');
});

test('bytes that are already there are recognised', () => {
  expect(sameLog(build, 'a'.repeat(64))?.id).toBe('run-1-bare');
  expect(sameLog(build, 'b'.repeat(64))).toBeUndefined();
});

test('a column is made the cold junction, and given to a probe again', () => {
  const cold = setChannel(recipe, 2, 'C1', { probe: undefined, coldJunction: true });
  expect(cold.channels[0]).toEqual({ column: 2, header: 'C1', unit: 'C', coldJunction: true });
  expect(setChannel(cold, 2, 'C1', { probe: 'c1', coldJunction: false }).channels[0]).toEqual(
    recipe.channels[0],
  );
  expect(setChannel(recipe, 2, 'C1', { unit: 'mV' }).channels[0]?.unit).toBe('mV');
});
