import { describe, expect, test } from 'vitest';
import { runChartScales, traceLine } from './run-chart-scales.js';
import type { RunChartView } from './run-chart-view.js';
import { RunChartWindows } from './window-run-chart.js';

const width_px = 600;

function viewOf(level_C: Float64Array): RunChartView {
  return {
    label: 'a long run',
    after_s: Float64Array.from(level_C, (_, row) => row),
    span_s: level_C.length - 1,
    lines: [{ probe: 'pack', name: 'pack', shortName: 'pack', role: 'chosen', level_C }],
    phases: [],
    plateau: null,
    flags: [],
  };
}

/** A slow climb with noise that repeats only after 99 991 rows, so that no block is like another. */
const noisy = Float64Array.from(
  { length: 400_000 },
  (_, row) => 25 + row / 1e5 + ((row * 7919) % 99_991) / 1e5,
);

function tracedWithin(view: RunChartView, window_s: readonly [number, number]) {
  const seen = new RunChartWindows(view).over(window_s, width_px);
  const at = runChartScales(seen, width_px);
  const [line] = seen.lines;
  if (line === undefined) throw new Error('The view has a line.');
  return { at, trace: traceLine(seen, line, at), rows: line.level_C.length };
}

describe('a window of a long run', () => {
  test.each([
    [0, 399_999],
    [1000, 399_000],
    [123_456, 223_456],
    [200_000, 201_500],
  ])('from %i to %i s reaches in each pixel column as high and as low as the readings do', (from, to) => {
    const { at, trace, rows } = tracedWithin(viewOf(noisy), [from, to]);
    expect(rows).toBeLessThanOrEqual(Math.max(2 * 4 * 4 * width_px + 4, 16 * 4 * width_px));
    // Derived here from all rows: a block may hang over into the next column, so neighbours are taken together.
    const tops = new Map<number, number>();
    for (let row = from; row <= to; row++) {
      const column = Math.floor(at.x(row));
      const y = at.y(noisy[row] as number);
      tops.set(column, Math.min(tops.get(column) ?? Number.POSITIVE_INFINITY, y));
    }
    const around = (get: (column: number) => number | undefined, column: number) =>
      Math.min(...[-1, 0, 1].map((by) => get(column + by) ?? Number.POSITIVE_INFINITY));
    for (let column = Math.ceil(at.left) + 2; column < at.right - 2; column++) {
      const own = tops.get(column) as number;
      expect(around((each) => trace.top[each], column)).toBeLessThanOrEqual(own + 1e-9);
      expect(trace.top[column] as number).toBeGreaterThanOrEqual(
        around((each) => tops.get(each), column) - 1e-9,
      );
    }
  });

  test('keeps the one spike, whichever part of the run is shown', () => {
    const spiked = Float64Array.from(noisy);
    spiked[150_001] = 80;
    for (const window_s of [
      [0, 399_999],
      [100_000, 200_000],
      [149_000, 151_000],
    ] as const) {
      const { at, trace } = tracedWithin(viewOf(spiked), window_s);
      expect(Math.min(...trace.top.filter((y) => !Number.isNaN(y)))).toBeCloseTo(at.y(80), 9);
    }
  });

  test('is one line where no reading is missing, rising or falling, and breaks where many are', () => {
    const rising = Float64Array.from({ length: 400_000 }, (_, row) => 20 + row / 1e5);
    expect(tracedWithin(viewOf(rising), [0, 300_000]).trace.parts).toHaveLength(1);
    expect(tracedWithin(viewOf(rising.toReversed()), [0, 300_000]).trace.parts).toHaveLength(1);
    const open = Float64Array.from(rising, (level, row) =>
      row > 100_000 && row < 110_000 ? Number.NaN : level,
    );
    expect(tracedWithin(viewOf(open), [0, 300_000]).trace.parts).toHaveLength(2);
  });
});
