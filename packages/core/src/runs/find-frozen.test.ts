import { describe, expect, test } from 'vitest';
import { makeNoise } from '../numerics/index.js';
import { findFrozen } from './find-frozen.js';

const load = { from_s: 3600, to_s: 10_800 };

/**
 * A soak of an hour of idle, two of load and half an hour off, a row every ten seconds: 5 K, then 20 K more with a time constant of 25
 * minutes, read with noise and to a step.
 */
function soak({
  noise_K = 0.06,
  step_K = 0.1,
  seed = 1,
  to_s = load.to_s,
  end_s = 12_600,
  level_C = 24.03,
} = {}) {
  const noise = makeNoise(seed);
  const after_s = Float64Array.from({ length: end_s / 10 + 1 }, (_, row) => 10 * row);
  const settled = (t_s: number) => (t_s <= 0 ? 0 : 1 - Math.exp(-t_s / 1500));
  const reading_C = after_s.map((at_s) => {
    const true_C = level_C + 5 + 20 * settled(at_s - load.from_s) - 25 * settled(at_s - to_s);
    return Math.round((true_C + noise_K * noise.normal()) / step_K) * step_K;
  });
  return { after_s, reading_C };
}

const stuckFrom = (reading_C: Float64Array, row: number) =>
  reading_C.map((value, each) => (each < row ? value : (reading_C[row] as number)));

describe('a probe that is stuck', () => {
  test.each([3600, 3900, 5400, 9000])(
    'from %i s to the end, through the end of the load, is found',
    (from_s) => {
      const { after_s, reading_C } = soak({ noise_K: 0 });
      const found = findFrozen(after_s, stuckFrom(reading_C, from_s / 10), load);
      expect(found?.by).toBe('load');
      expect(found?.to_s).toBe(12_600);
    },
  );

  test.each([4500, 6000])('from %i s to a log’s end under load is found by the noise it lacks', (from_s) => {
    const { after_s, reading_C } = soak({ end_s: 10_800 });
    const found = findFrozen(after_s, stuckFrom(reading_C, from_s / 10), load);
    expect(found?.by).toBe('noise');
    expect(found?.from_s).toBeLessThanOrEqual(from_s);
  });

  test.each([
    { from_s: 4500, step_K: 0.1 },
    { from_s: 4500, step_K: 0.5 },
    { from_s: 6000, step_K: 0.5 },
    { from_s: 7500, step_K: 0.1 },
  ])(
    'without noise from $from_s s to a log’s end under load, read to $step_K K, is found by the climb it broke off',
    ({ from_s, step_K }) => {
      const { after_s, reading_C } = soak({ noise_K: 0, end_s: 10_800, step_K });
      const stuck = stuckFrom(reading_C, from_s / 10);
      const other = soak({ noise_K: 0.02, end_s: 10_800, level_C: 21.4 }).reading_C;
      const company = { others_C: [other], room_C: undefined, loop_s: null };
      expect(findFrozen(after_s, stuck, load, company)?.by).toBe('climb');
      // A room that moved as far may have stopped the climb, and so may whatever stopped all of them.
      const room_C = after_s.map((at_s) => 24 - at_s / 500);
      expect(findFrozen(after_s, stuck, load, { ...company, room_C })).toBeNull();
      const all = { ...company, others_C: [stuckFrom(other, from_s / 10)] };
      expect(findFrozen(after_s, stuck, load, all)).toBeNull();
    },
  );

  test('is found where readings are missing in between', () => {
    const { after_s, reading_C } = soak();
    const stuck = stuckFrom(reading_C, 600).map((value, row) => (row % 50 === 3 ? Number.NaN : value));
    expect(findFrozen(after_s, stuck, load)?.by).toBe('load');
  });
});

describe('a steady probe is not taken for a stuck one', () => {
  // From no noise at all to more than a step, where the level lies between two steps or on the edge of one.
  const kinds = [0, 0.01, 0.02, 0.04, 0.08, 0.2].flatMap((noise_K) =>
    [0.1, 0.5].flatMap((step_K) => [24, 24.03, 24.05].map((level_C) => ({ noise_K, step_K, level_C }))),
  );

  test.each(kinds)('noise $noise_K K, step $step_K K, room $level_C °C', (kind) => {
    for (let seed = 1; seed <= 20; seed++) {
      const { after_s, reading_C } = soak({ ...kind, seed });
      expect(findFrozen(after_s, reading_C, load)).toBeNull();
    }
  });

  test.each([0, 0.01, 0.02])('nor through a night under load with %f K of noise', (noise_K) => {
    for (let seed = 1; seed <= 20; seed++) {
      const { after_s, reading_C } = soak({ noise_K, seed, to_s: 40_000, end_s: 40_000 });
      expect(findFrozen(after_s, reading_C, { ...load, to_s: 40_000 })).toBeNull();
    }
  });

  test.each(kinds)(
    'nor beside one that still climbs: noise $noise_K K, step $step_K K, room $level_C °C',
    (kind) => {
      const slow = (after_s: Float64Array) => after_s.map((at_s) => 20 + at_s / 1000);
      for (let seed = 1; seed <= 20; seed++) {
        for (const end_s of [6000, 8000, 10_800]) {
          const { after_s, reading_C } = soak({ ...kind, seed, end_s });
          const company = { others_C: [slow(after_s)], room_C: undefined, loop_s: null };
          expect(findFrozen(after_s, reading_C, { ...load, to_s: end_s }, company)).toBeNull();
        }
      }
    },
  );

  test('nor where the log goes on for less than a quarter of an hour behind the load', () => {
    const { after_s, reading_C } = soak({ noise_K: 0, end_s: 11_400 });
    expect(findFrozen(after_s, stuckFrom(reading_C, 1000), load)).toBeNull();
  });
});
