import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drawIntervals } from './interval-plot.js';
import type { IntervalRow, IntervalView } from './interval-view.js';
import type { Drawing, Shape } from './shape.js';
import { boxesOverlap, findTextBoxes } from './text-width.js';

const widths = [912, 656, 350, 320];

function expectLegible(drawing: Drawing, width: number): void {
  const boxes = findTextBoxes(drawing.shapes);
  for (const [index, box] of boxes.entries()) {
    expect(box.left, box.words).toBeGreaterThanOrEqual(-0.5);
    expect(box.right, box.words).toBeLessThanOrEqual(width + 0.5);
    expect(box.top, box.words).toBeGreaterThanOrEqual(0);
    expect(box.bottom, box.words).toBeLessThanOrEqual(drawing.height);
    for (const other of boxes.slice(index + 1)) {
      expect(boxesOverlap(box, other, -0.5), `"${box.words}" over "${other.words}" in ${width} px`).toBe(
        false,
      );
    }
  }
}

function walk(shapes: readonly Shape[]): Shape[] {
  return shapes.flatMap((shape) => [shape, ...walk(shape.children ?? [])]);
}

const row = (name: string, value: number, more: Partial<IntervalRow> = {}): IntervalRow => ({
  name: [{ words: name }],
  mark: { value, thick: [value - 0.5, value + 0.5], thin: [value - 1.2, value + 1.2] },
  figure: `${value} ± 0.5 K`,
  note: '3 runs',
  ...more,
});

const rises: IntervalView = {
  label: 'Rises.',
  unit: 'K',
  hasGuides: true,
  rows: [
    row('bare', 23.9, { runs: [23.5, 24.3] }),
    row('plate', 20.9, { isChosen: true, runs: [20.3, 21.5] }),
  ],
};
const states: IntervalView = {
  label: 'States.',
  unit: '°C',
  references: [
    { at: 32, words: 'design ambient 32' },
    { at: 35, words: 'prefer below 35', isDotted: true },
  ],
  rows: [
    row('charging, device idle', 41.6, {
      limit: { at: 45, words: 'limit 45', kind: 'limit' },
      valueWords: '41.6',
      look: 'wear',
      note: 'wear',
    }),
    row('charging while recording', 54.6, {
      limit: { at: 45, words: 'limit 45', kind: 'limit' },
      valueWords: '54.6',
      look: 'stop',
      note: 'stop',
    }),
    {
      ...row('standby', 0),
      mark: null,
      absent: 'no run was charged',
      limit: { at: 60, words: 'limit 60', kind: 'limit' },
      look: 'none',
      note: 'not measured',
      figure: '',
    },
  ],
};
const differences: IntervalView = {
  label: 'Differences.',
  unit: 'K',
  zero: { at: 0, words: 'no difference', toward: 'cooler →' },
  rows: [
    row('plate', 3, { look: 'shown', note: 'shown' }),
    row('plate on spacer strips cooler than polyimide film', 1.1, {
      isFirm: false,
      look: 'not-shown',
      note: 'not shown',
    }),
  ],
};

describe.each(widths)('interval plots in %i px', (width) => {
  test.each([rises, states, differences])('$label are legible', (view) => {
    const drawing = drawIntervals(view, width);
    expect(drawing.width).toBe(width);
    expectLegible(drawing, width);
  });

  test('stay legible with any names and values', () => {
    const anyRow = fc.record({
      name: fc.string({ minLength: 1, maxLength: 60 }),
      value: fc.double({ min: -50, max: 200, noNaN: true }),
      u: fc.double({ min: 0, max: 20, noNaN: true }),
      isFirm: fc.boolean(),
      isPlain: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(anyRow, { maxLength: 6 }), (all) => {
        const rows = all.map(({ name, value, u, isFirm, isPlain }) =>
          row(name, value, {
            mark: { value, thick: [value - u, value + u], thin: [value - 2 * u, value + 2 * u] },
            figure: `${value.toFixed(1)} ± ${u.toFixed(1)} K`,
            isFirm,
            limit: isPlain ? undefined : { at: 45, words: 'limit 45', kind: 'limit' },
            valueWords: isPlain ? undefined : value.toFixed(1),
          }),
        );
        expectLegible(drawIntervals({ ...states, rows }, width), width);
      }),
      { numRuns: 40 },
    );
  });
});

test('an interval is a dot with two strokes about it, and nothing starts at zero', () => {
  const shapes = walk(drawIntervals(rises, 912).shapes);
  const [thin, thick] = ['thin', 'thick'].map((name) => {
    const found = shapes.find((shape) => shape.attrs['class'] === name);
    return (
      String(found?.attrs['d'])
        .match(/[\d.]+/g)
        ?.map(Number) ?? []
    );
  });
  const dot = shapes.find((shape) => shape.tag === 'circle' && shape.attrs['class'] === 'pt');
  const middle = Number(dot?.attrs['cx']);
  // Drawn to a tenth of a pixel, so centres may differ by as much.
  expect(Math.abs(((thick?.[0] ?? 0) + (thick?.[2] ?? 0)) / 2 - middle)).toBeLessThan(0.11);
  expect(Math.abs(((thin?.[0] ?? 0) + (thin?.[2] ?? 0)) / 2 - middle)).toBeLessThan(0.11);
  expect((thin?.[2] ?? 0) - (thin?.[0] ?? 0)).toBeCloseTo(
    (1.2 / 0.5) * ((thick?.[2] ?? 0) - (thick?.[0] ?? 0)),
    0,
  );
  expect(shapes.some((shape) => shape.tag === 'rect')).toBe(false);
  // 23.9 K and 20.9 K: the axis of rises does not reach down to zero.
  expect(findTextBoxes(shapes).some((box) => box.words === '0')).toBe(false);
});

test('what is not shown is dashed and has no thick stroke', () => {
  const [firm, doubtful] = differences.rows;
  const classes = (one: IntervalRow | undefined) =>
    walk(drawIntervals({ ...differences, rows: one ? [one] : [] }, 656).shapes).map((shape) =>
      String(shape.attrs['class'] ?? ''),
    );
  expect(classes(firm)).toContain('thick');
  expect(classes(firm)).toContain('thin');
  expect(classes(doubtful)).toContain('thin dash');
  expect(classes(doubtful)).not.toContain('thick');
});

test('a limit is a hatched stroke, a lower bound an open end, an absent mark its reason', () => {
  const classes = walk(drawIntervals(states, 656).shapes).map((shape) => String(shape.attrs['class'] ?? ''));
  expect(classes.filter((each) => each === 'lim')).toHaveLength(3);
  const words = findTextBoxes(drawIntervals(states, 656).shapes).map((box) => box.words);
  expect(words).toContain('no run was charged');
  const bound = row('charging', 40, { mark: { value: 40, thick: [39, 41], thin: [38, 42], atLeast: true } });
  const arrows = walk(drawIntervals({ ...rises, rows: [bound] }, 656).shapes).filter((shape) =>
    String(shape.attrs['d']).includes('l5 4'),
  );
  expect(arrows).toHaveLength(1);
});

test('no rows, or rows with one value, still give a drawing', () => {
  for (const view of [
    { ...rises, rows: [] },
    { ...rises, rows: [row('one', 5, { mark: { value: 5, thick: [5, 5], thin: [5, 5] } })] },
  ]) {
    const drawing = drawIntervals(view, 350);
    expect(drawing.height).toBeGreaterThan(20);
    expect(JSON.stringify(drawing.shapes)).not.toMatch(/NaN|null|Infinity/);
  }
});
