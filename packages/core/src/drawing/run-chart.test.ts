import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decimate, usualSpacing } from './decimate.kernel.js';
import { drawRunChart } from './run-chart.js';
import { runChartScales, traceLine } from './run-chart-scales.js';
import type { RunChartLine, RunChartView } from './run-chart-view.js';
import type { Shape } from './shape.js';
import { boxesOverlap, findTextBoxes } from './text-width.js';

function walk(shapes: readonly Shape[]): Shape[] {
  return shapes.flatMap((shape) => [shape, ...walk(shape.children ?? [])]);
}

const seconds = (count: number, step_s: number) =>
  Float64Array.from({ length: count }, (_, row) => row * step_s);

function line(
  probe: string,
  name: string,
  role: RunChartLine['role'],
  level: (after_s: number) => number,
  after_s: Float64Array,
): RunChartLine {
  return { probe, name, shortName: probe.toUpperCase(), role, level_C: after_s.map(level) };
}

/** Idle, load, cool as an exponential would have them; enough like a run to lay a chart out. */
function warm(idle: number, load: number, after_s: number): number {
  if (after_s < 3300) return 25 + idle * (1 - Math.exp(-after_s / 1200));
  if (after_s < 10_500) return 25 + load - (load - idle) * Math.exp(-(after_s - 3300) / 1400);
  return 25 + load * Math.exp(-(after_s - 10_500) / 1100);
}

function makeView(more: Partial<RunChartView> = {}): RunChartView {
  const after_s = seconds(1290, 10);
  return {
    label: 'Run 7.',
    after_s,
    span_s: 12_890,
    lines: [
      line('z1', 'Z1 processor', 'other', (t) => warm(12, 32, t) + Math.sin(t / 57), after_s),
      line('c1', 'C1 cell 1', 'chosen', (t) => warm(7.5, 21.6, t), after_s),
      line('c2', 'C2 cell 2', 'other', (t) => (t > 5640 && t < 5820 ? Number.NaN : warm(7, 20, t)), after_s),
      line('a', 'ambient', 'ambient', () => 25, after_s),
    ],
    phases: [
      { kind: 'idle', from_s: 0, to_s: 3300 },
      { kind: 'load', from_s: 3300, to_s: 10_500 },
      { kind: 'cool', from_s: 10_500, to_s: 12_890 },
    ],
    plateau: {
      level_C: 46.6,
      u_K: 0.25,
      from_s: 3300,
      to_s: 10_500,
      words: 'C1 cell 1, plateau 46.6 ± 0.3 °C',
      shortWords: 'C1 46.6 ± 0.3',
      curve: [
        { after_s: 3300, level_C: 32 },
        { after_s: 10_500, level_C: 46.6 },
      ],
      settled_s: [7980, 10_500],
      timeConstant: { tau_s: 1446, level_C: 41, words: 'time constant 24.1 ± 0.6 min', shortWords: '24 min' },
    },
    flags: [
      { number: 1, at_s: 9000, title: 'ambient drift' },
      { number: 2, at_s: 5640, title: 'dropout' },
      { number: 3, at_s: 9050, title: 'looped load' },
    ],
    ...more,
  };
}

describe('decimation', () => {
  const series = fc.array(
    fc.oneof(
      { weight: 9, arbitrary: fc.double({ min: -20, max: 120, noNaN: true }) },
      { weight: 1, arbitrary: fc.constant(Number.NaN) },
    ),
    { maxLength: 400 },
  );

  test('keeps the extremes of every pixel column exactly, with at most two readings in each', () => {
    fc.assert(
      fc.property(series, fc.double({ min: 0.01, max: 3, noNaN: true }), (levels, perSecond) => {
        const times = levels.map((_, row) => row);
        const { rows } = decimate(times, levels, 0, perSecond, 1);
        const columns = new Map<number, number[]>();
        for (const [row, level] of levels.entries()) {
          if (Number.isNaN(level)) continue;
          const column = Math.floor(row * perSecond);
          columns.set(column, [...(columns.get(column) ?? []), level]);
        }
        const kept = new Map<number, number[]>();
        for (const row of rows) {
          const column = Math.floor(row * perSecond);
          kept.set(column, [...(kept.get(column) ?? []), levels[row] ?? Number.NaN]);
        }
        expect([...kept.keys()]).toEqual([...columns.keys()]);
        for (const [column, all] of columns) {
          const some = kept.get(column) ?? [];
          expect(some.length).toBeLessThanOrEqual(2);
          expect(Math.min(...some)).toBe(Math.min(...all));
          expect(Math.max(...some)).toBe(Math.max(...all));
        }
        expect([...rows].sort((one, other) => one - other)).toEqual(rows);
      }),
    );
  });

  test('breaks the line where readings are missing, and only there', () => {
    const times = Array.from({ length: 20 }, (_, row) => row * 10);
    const levels = times.map((_, row) => (row === 7 || row === 8 ? Number.NaN : 20 + row));
    const { rows, breaks } = decimate(times, levels, 0, 1, 10);
    expect(breaks.map((at) => rows[at])).toEqual([0, 9]);
  });

  test('breaks the line where the logger stood still', () => {
    const times = [0, 10, 20, 30, 200, 210, 220];
    const { rows, breaks } = decimate(
      times,
      times.map(() => 20),
      0,
      1,
      10,
    );
    expect(breaks.map((at) => rows[at])).toEqual([0, 4]);
  });

  test('does not break a channel that is logged less often than the rows come', () => {
    const times = Array.from({ length: 60 }, (_, row) => row);
    const levels = times.map((_, row) => (row % 3 === 0 ? 20 + row : Number.NaN));
    expect(usualSpacing(times, levels)).toBe(3);
    expect(decimate(times, levels, 0, 1, 3).breaks).toEqual([0]);
  });

  test('draws a million rows with at most two points per pixel, and still shows the one spike', () => {
    const after_s = seconds(1_000_000, 0.0129);
    const spike = 654_321;
    const level_C = after_s.map((_, row) => (row === spike ? 99 : 30 + Math.sin(row)));
    const view = makeView({
      after_s,
      span_s: 12_900,
      lines: [{ probe: 'c1', name: 'C1', shortName: 'C1', role: 'chosen', level_C }],
      plateau: null,
    });
    const scales = runChartScales(view, 912);
    const [chosen] = view.lines;
    if (chosen === undefined) throw new Error('The view has one line.');
    const points = traceLine(view, chosen, scales).parts.flat();
    expect(points.length).toBeLessThanOrEqual(2 * (scales.right - scales.left + 1));
    expect(Math.min(...points.map(([, y]) => y))).toBe(scales.y(99));
  });
});

describe.each([912, 656, 350, 320])('the run chart in %i px', (width) => {
  const many = Array.from({ length: 12 }, (_, index) => {
    const after_s = makeView().after_s as Float64Array;
    return line(
      `p${index}`,
      `a rather long name ${index}`,
      'other',
      (t) => warm(8 + 0.3 * index, 22 + 0.5 * index, t),
      after_s,
    );
  });
  const silent = makeView().lines.map((each) => ({
    ...each,
    level_C: new Float64Array(1290).fill(Number.NaN),
  }));
  test.each([
    ['with a plateau and flags', makeView()],
    ['without a plateau', makeView({ plateau: null })],
    ['with sixteen probes', makeView({ lines: [...makeView().lines, ...many] })],
    [
      'with a phase too short for its name',
      makeView({
        phases: [
          { kind: 'idle', from_s: 0, to_s: 60 },
          { kind: 'load', from_s: 60, to_s: 12_890 },
        ],
      }),
    ],
    ['without readings', makeView({ lines: silent, plateau: null })],
    ['without rows', makeView({ after_s: [], lines: [], phases: [], flags: [], plateau: null, span_s: 0 })],
  ])('%s has every text inside and none over another', (_, view) => {
    const drawing = drawRunChart(view, width);
    const boxes = findTextBoxes(drawing.shapes);
    for (const [index, box] of boxes.entries()) {
      expect(box.left, box.words).toBeGreaterThanOrEqual(-0.5);
      expect(box.right, box.words).toBeLessThanOrEqual(width + 0.5);
      expect(box.bottom, box.words).toBeLessThanOrEqual(drawing.height);
      for (const other of boxes.slice(index + 1))
        expect(boxesOverlap(box, other, -0.5), `"${box.words}" over "${other.words}"`).toBe(false);
    }
    expect(JSON.stringify(drawing.shapes)).not.toMatch(/NaN|null|Infinity/);
  });
});

test('every probe is named, at its line or under the chart', () => {
  const view = makeView({ plateau: null });
  for (const width of [912, 350]) {
    const words = findTextBoxes(drawRunChart(view, width).shapes).map((box) => box.words);
    for (const { name, shortName } of view.lines)
      expect(
        words.some((each) => each === name || each === shortName),
        name,
      ).toBe(true);
  }
});

test('two probes never share both dash and weight among the first six', () => {
  const after_s = seconds(100, 60);
  const lines = Array.from({ length: 6 }, (_, index) =>
    line(`p${index}`, `P${index}`, 'other', () => 30 + index, after_s),
  );
  const drawn = walk(
    drawRunChart(makeView({ after_s, span_s: 5940, lines, plateau: null, flags: [] }), 656).shapes,
  ).filter((shape) => 'data-probe' in shape.attrs);
  expect(
    new Set(drawn.map((shape) => `${shape.attrs['class']} ${shape.attrs['stroke-dasharray']}`)).size,
  ).toBe(6);
});

test('a probe keeps its dash whichever probe is chosen', () => {
  const dashOf = (chosen: string) => {
    const lines = makeView().lines.map((each) => ({
      ...each,
      role:
        each.probe === chosen
          ? ('chosen' as const)
          : each.probe === 'a'
            ? ('ambient' as const)
            : ('other' as const),
    }));
    const shapes = walk(drawRunChart(makeView({ lines, plateau: null }), 656).shapes);
    return String(shapes.find((shape) => shape.attrs['data-probe'] === 'c2')?.attrs['stroke-dasharray']);
  };
  expect(dashOf('z1')).toBe(dashOf('c1'));
  expect(dashOf('z1')).not.toBe('undefined');
});

test('a dropout leaves a gap in the drawn line', () => {
  const drawn = walk(drawRunChart(makeView(), 912).shapes).find(
    (shape) => shape.attrs['data-probe'] === 'c2',
  );
  expect(String(drawn?.attrs['d']).match(/M/g)).toHaveLength(2);
});

test('the scale turns places back into times, kept within the run', () => {
  const scales = runChartScales(makeView(), 656);
  fc.assert(
    fc.property(fc.double({ min: 0, max: 12_890, noNaN: true }), (after_s) => {
      expect(Math.abs(scales.invert(scales.x(after_s)) - after_s)).toBeLessThan(1e-6);
    }),
  );
  expect(scales.invert(-100)).toBe(0);
  expect(scales.invert(5000)).toBe(12_890);
  expect(scales.y(50)).toBeLessThan(scales.y(40));
});

test('phases, plateau, settled window and flags are all there, each with its words', () => {
  const drawing = drawRunChart(makeView(), 912);
  const words = findTextBoxes(drawing.shapes).map((box) => box.words);
  expect(words).toEqual(
    expect.arrayContaining([
      'idle 0:55',
      'load 2:00',
      'cool 0:40',
      'settled',
      '1',
      '2',
      '3',
      'time constant 24.1 ± 0.6 min',
    ]),
  );
  expect(words).toContain('C1 cell 1, plateau 46.6 ± 0.3 °C');
  const titles = walk(drawing.shapes).filter((shape) => shape.tag === 'title');
  expect(titles.map((shape) => shape.text)).toContain('2: dropout');
});
