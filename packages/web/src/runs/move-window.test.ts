import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { moveWindow, zoomWindow } from './move-window.js';

describe('the window of a chart', () => {
  test('narrows about the time that is pointed at, which keeps its place', () => {
    expect(zoomWindow(null, 1000, 0.5, 250, 10)).toEqual([125, 625]);
    expect(zoomWindow([200, 600], 1000, 0.5, 600, 10)).toEqual([400, 600]);
  });

  test('is none once it is as wide as the run', () => {
    expect(zoomWindow([200, 600], 1000, 3, 400, 10)).toBeNull();
    expect(moveWindow(null, 1000, 50)).toBeNull();
  });

  test('stays within the run and never gets shorter than the least, whatever is asked', () => {
    const move = fc.record({
      factor: fc.double({ min: 0.01, max: 4, noNaN: true }),
      about_s: fc.double({ min: -500, max: 1500, noNaN: true }),
      by_s: fc.double({ min: -2000, max: 2000, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(move, { minLength: 1, maxLength: 12 }), (moves) => {
        let window_s: readonly [number, number] | null = null;
        for (const { factor, about_s, by_s } of moves) {
          window_s = moveWindow(zoomWindow(window_s, 1000, factor, about_s, 10), 1000, by_s);
          if (window_s === null) continue;
          expect(window_s[0]).toBeGreaterThanOrEqual(0);
          expect(window_s[1]).toBeLessThanOrEqual(1000);
          // Nine digits of a thousand seconds: rounding, no more.
          expect(window_s[1] - window_s[0]).toBeGreaterThanOrEqual(10 - 1e-9);
        }
      }),
    );
  });
});
