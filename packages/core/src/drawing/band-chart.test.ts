import { describe, expect, test } from 'vitest';
import { type BandView, drawBands } from './band-chart.js';
import { type CourseView, drawCourses } from './course-chart.js';
import type { Drawing, Shape } from './shape.js';
import { boxesOverlap, findTextBoxes } from './text-width.js';

const widths = [1120, 912, 656, 350, 320];

function expectLegible(drawing: Drawing, width: number): void {
  const boxes = findTextBoxes(drawing.shapes);
  for (const [index, box] of boxes.entries()) {
    expect(box.left, box.words).toBeGreaterThanOrEqual(-0.5);
    expect(box.right, box.words).toBeLessThanOrEqual(width + 0.5);
    expect(box.top, box.words).toBeGreaterThanOrEqual(0);
    expect(box.bottom, box.words).toBeLessThanOrEqual(drawing.height);
    for (const other of boxes.slice(index + 1))
      expect(boxesOverlap(box, other, -0.5), `"${box.words}" over "${other.words}" at ${width}`).toBe(false);
  }
}
const walk = (shapes: readonly Shape[]): Shape[] =>
  shapes.flatMap((shape) => [shape, ...walk(shape.children ?? [])]);
const numbersOf = (shape: Shape | undefined) =>
  (String(shape?.attrs['d']).match(/-?\d+(\.\d+)?/g) ?? []).map(Number);

const bands: BandView = {
  label: 'Capacity.',
  unit: '%',
  atUnit: 'years',
  level: 80,
  range: [40, 100],
  panels: ['bare', 'polyimide film', 'plate', 'plate on strips'].map((name, index) => ({
    name,
    figure: '80 % after 0.4 to 4.0 years',
    isChosen: index === 2,
    points: [0, 1, 2, 3, 4, 5].map((at) => ({
      at,
      thin: [100 - 12 * at, 100 - 2 * at] as const,
      thick: [100 - 8 * at, 100 - 4 * at] as const,
    })),
  })),
};
const hours = Array.from({ length: 24 }, (_, hour) => hour);
const courses: CourseView = {
  label: 'The year.',
  panels: [
    {
      title: 'Through the year, by month',
      lines: [
        { words: 'warmest', look: 'peak', values_C: Array.from({ length: 12 }, () => 49) },
        { words: 'cell, mean', look: 'cell', values_C: Array.from({ length: 12 }, () => 29) },
        { words: 'room', look: 'room', values_C: Array.from({ length: 12 }, () => 25) },
      ],
      charge: Array.from({ length: 12 }, () => 0.8),
      marks: [...'JFMAMJJASOND'].map((words, at) => ({ at, words })),
    },
    {
      title: 'A day in July, by hour',
      lines: [{ words: 'cell', look: 'cell', values_C: hours.map((hour) => (hour > 16 ? 49 : 25)) }],
      charge: hours.map((hour) => hour / 23),
      marks: [0, 6, 12, 18].map((at) => ({ at, words: String(at) })),
    },
  ],
};

describe.each(widths)('in %d px', (width) => {
  test('bands: every word stands free', () => expectLegible(drawBands(bands, width), width));
  test('courses: every word stands free', () => expectLegible(drawCourses(courses, width), width));
});

describe('bands', () => {
  const shapes = walk(drawBands(bands, 1120).shapes);

  test('have a narrow band within a wide one, and no middle line', () => {
    const [wide, narrow] = [
      shapes.find(({ attrs }) => attrs['class'] === 'faint'),
      shapes.find(({ attrs }) => attrs['class'] === 'inkf'),
    ];
    const heights = (shape: Shape | undefined) => numbersOf(shape).filter((_, index) => index % 2 === 1);
    expect(Math.max(...heights(narrow))).toBeLessThan(Math.max(...heights(wide)));
    expect(shapes.filter(({ attrs }) => attrs['class'] === 'ac')).toEqual([]);
  });

  test('return the first one as an outline in each of the others', () => {
    const outlines = shapes.filter(({ attrs }) => attrs['class'] === 'hl dash');
    expect(outlines).toHaveLength(bands.panels.length - 1);
  });

  test('stand one below the other where there is no room beside', () => {
    const rows = drawBands(bands, 350).height / drawBands(bands, 1120).height;
    expect(rows).toBe(4);
  });
});

test('the fuller the pack, the higher its line; the same temperature at the same height in each panel', () => {
  const shapes = walk(drawCourses(courses, 1120).shapes);
  const charge = numbersOf(shapes.filter(({ attrs }) => attrs['class'] === 'ac')[1]);
  expect(charge[1]).toBeGreaterThan(charge.at(-1) ?? 0);
  const cells = shapes.filter(({ attrs }) => attrs['class'] === 'ln');
  const peaks = shapes.filter(({ tag }) => tag === 'circle');
  expect(numbersOf(cells[1]).at(-1)).toBe(peaks[0]?.attrs['cy']);
});
