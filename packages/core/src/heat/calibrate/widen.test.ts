import { describe, expect, test } from 'vitest';
import { wideningFor } from './widen.js';

const usual = { modelError: 0.02 };

describe('the model’s own error', () => {
  test('within what was soaked is widened by what leaving out has shown, and doubled where nothing could be left out', () => {
    expect(wideningFor(usual, { widening: 1.3, beyond: null }, 0)).toBe(1.3);
    expect(wideningFor(usual, null, 0)).toBe(2);
  });

  test('beyond it is never narrower than within', () => {
    for (const left of [
      null,
      { widening: 1.7, beyond: null },
      { widening: 1.7, beyond: { widening: 1, layers: 2 } },
    ])
      for (let leaves = 1; leaves < 4; leaves++)
        expect(wideningFor(usual, left, leaves)).toBeGreaterThanOrEqual(wideningFor(usual, left, leaves - 1));
  });

  test('beyond it follows the set-ups that left the others as far, and grows from there as errors that add in squares', () => {
    const left = { widening: 1, beyond: { widening: 1.5, layers: 1 } };
    expect(wideningFor(usual, left, 1)).toBe(1.5);
    // Three steps of which one was tested: √(1 + 3) over √(1 + 1).
    expect(wideningFor(usual, left, 3)).toBeCloseTo(1.5 * Math.SQRT2, 12);
    // None was tested: its usual error doubled, and one more for the step.
    expect(wideningFor(usual, { widening: 1, beyond: null }, 1)).toBeCloseTo(2 * Math.SQRT2, 12);
  });

  test('beyond it is no less than usual, however well the soaks were followed', () => {
    const left = { widening: 1, beyond: { widening: 1, layers: 1 } };
    const share = (modelError: number, leaves: number) =>
      modelError * wideningFor({ modelError }, left, leaves);
    expect(share(0.005, 0)).toBe(0.005);
    expect(share(0.005, 1)).toBeCloseTo(0.02, 12);
    expect(share(0.04, 1)).toBeCloseTo(0.04, 12);
  });
});
