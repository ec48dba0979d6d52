import { describe, expect, test } from 'vitest';
import { findPhases } from './find-phases.js';

/** A probe on a chip: a third of its rise follows the power within seconds, the rest settles slowly. */
function rise_K(after_s: number): number {
  return 12 * (1 - Math.exp(-after_s / 4)) + 28 * (1 - Math.exp(-after_s / 1500));
}

describe('a probe that follows the power within seconds', () => {
  const interval_s = 10;
  const after_s = Float64Array.from({ length: 1230 }, (_, row) => row * interval_s);
  const since = (at_s: number, from_s: number) => (at_s > from_s ? rise_K(at_s - from_s) : 0);

  // The run is looked at in 240 points of about 51 s, and a change may fall anywhere between two of them: the offs are spread over one
  // place of the search, two points. The log has a row each 10 s, and rounding of 0.1 K hides nothing of a jump of 12 K.
  test.each(Array.from({ length: 11 }, (_, step) => 10_400 + step * interval_s))(
    'load from 3300 s to %d s is found to two rows',
    (off_s) => {
      const hot = after_s.map((at_s) => Math.round(10 * (since(at_s, 3300) - since(at_s, off_s))) / 10);
      const cell = hot.map((value) => value / 2);
      const { phases } = findPhases(after_s, [hot, cell]);
      expect(phases.map(({ kind }) => kind)).toEqual(['idle', 'load', 'cool']);
      expect(Math.abs((phases[1]?.from_s ?? 0) - 3300)).toBeLessThanOrEqual(2 * interval_s);
      expect(Math.abs((phases[1]?.to_s ?? 0) - off_s)).toBeLessThanOrEqual(2 * interval_s);
    },
  );
});
