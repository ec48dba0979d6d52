import { describe, expect, test } from 'vitest';
import type { Pace } from '../calibrate/time-constants.js';
import { presentPaces } from './present-paces.js';

const build = {
  setups: [
    { id: 'bare', name: 'bare', layers: [] },
    { id: 'plate', name: 'plate', layers: [] },
  ],
};
const pace = (setup: string, measured_s: number | null, model_s: number, differs = false): Pace => ({
  setup,
  model_s,
  measured_s,
  spread_s: measured_s === null ? null : 40,
  runs: measured_s === null ? 0 : 3,
  differs,
});

describe('how slowly set-ups settle', () => {
  test('is not spoken of where nothing was compared', () => {
    expect(presentPaces(build, { paces: [] })).toBeNull();
  });

  test('says in words that it disagrees, which way, and what that puts in doubt', () => {
    const shown = presentPaces(build, {
      paces: [pace('bare', 3000, 1500, true), pace('plate', 1650, 1500)],
    });
    expect(shown?.sentence).toMatch(/disagrees for bare, by more than/);
    expect(shown?.sentence).toMatch(/more slowly than the model: something heavy is missing/);
    expect(shown?.sentence).toMatch(/should be taken from the runs/);
    expect(shown?.rows.map(({ words, differs }) => [words, differs])).toEqual([
      ['settles 2.0 times as slowly as modelled, in 3 runs', true],
      ['settles 1.1 times as slowly as modelled, in 3 runs; tables explain that much', false],
    ]);
    expect(shown?.rows[0]?.measured).toBe('50.0 ± 0.7 min');
  });

  test('says that all lean one way, though each is within what tables explain', () => {
    const lean = presentPaces(build, { paces: [pace('bare', 1800, 1500), pace('plate', 1750, 1500)] });
    expect(lean?.sentence).toMatch(/agree as far.*slower one in all of them/);
    const mixed = presentPaces(build, { paces: [pace('bare', 1800, 1500), pace('plate', 1400, 1500)] });
    expect(mixed?.sentence).not.toMatch(/in all of them/);
  });

  test('names the other way round, and agreement, and a set-up without a measured one', () => {
    const fast = presentPaces(build, { paces: [pace('bare', 1000, 2000, true)] });
    expect(fast?.sentence).toMatch(/settles faster than the model/);
    expect(fast?.rows[0]?.words).toBe('settles 2.0 times as fast as modelled, in 3 runs');
    const alike = presentPaces(build, { paces: [pace('bare', 1510, 1500), pace('plate', null, 1400)] });
    expect(alike?.sentence).toMatch(/agree as far as tables of heat capacities go, in the one set-up/);
    expect(alike?.rows.map(({ words }) => words)).toEqual(['as modelled', 'nothing to hold it against']);
    expect(presentPaces(build, { paces: [pace('plate', null, 1400)] })?.sentence).toMatch(/is not checked/);
  });
});
