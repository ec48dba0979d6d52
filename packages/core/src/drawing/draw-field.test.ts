import { describe, expect, test } from 'vitest';
import { drawField } from './draw-field.js';
import { type FieldView, placeInFrame } from './field-view.js';
import { drawingText, type Shape } from './shape.js';
import { temperatureColour } from './temperature-scale.js';
import { boxesOverlap, findTextBoxes } from './text-width.js';

const anchors = { ambient_C: 32, lowestLimit_C: 45 };

/** As many cells as the finer grid of a hand-held device has in one plane, warm in the middle. */
function makeView(more: Partial<FieldView> = {}): FieldView {
  const x_mm = Float64Array.from({ length: 91 }, (_, index) => (148 * index) / 90);
  const y_mm = Float64Array.from({ length: 36 }, (_, index) => (58 * index) / 35);
  const level_C = new Float32Array(90 * 35);
  for (let j = 0; j < 35; j++) {
    for (let i = 0; i < 90; i++)
      level_C[i + 90 * j] = 42 + 22 * Math.exp(-(((i - 45) / 25) ** 2) - ((j - 17) / 12) ** 2);
  }
  return {
    kind: 'plan',
    label: 'Predicted temperature',
    x_mm,
    y_mm,
    level_C,
    anchors,
    outlines: [
      { look: 'device', x: [0, 148], y: [0, 58] },
      { look: 'zone', x: [52, 66], y: [20, 36], name: 'processor' },
    ],
    marks: [
      { tag: 'C1', x_mm: 59, y_mm: 28, level_C: 63.94 },
      { tag: 'Z1', x_mm: 60, y_mm: 28, level_C: null },
    ],
    cut_mm: 28,
    ...more,
  };
}

const flatten = (shapes: readonly Shape[]): Shape[] =>
  shapes.flatMap((shape) => [shape, ...flatten(shape.children ?? [])]);

describe('a plan on paper', () => {
  const drawing = drawField(makeView(), 680, true);
  const all = flatten(drawing.shapes);

  test('is true to scale', () => {
    expect(drawing.stretch).toBe(1);
    expect(drawing.frame.height / drawing.frame.width).toBeCloseTo(58 / 148, 10);
  });

  test('stays small: run by run, not cell by cell', () => {
    expect(drawingText(drawing).length).toBeLessThan(75_000);
  });

  test('covers the field once: the areas of its colours add up to the frame', () => {
    let sum = 0;
    for (const { attrs } of all) {
      if (attrs['shape-rendering'] !== 'crispEdges') continue;
      for (const [, left, top, right, bottom] of String(attrs['d']).matchAll(
        /M([\d.]+) ([\d.]+)H([\d.]+)V([\d.]+)H/g,
      ))
        sum += (Number(right) - Number(left)) * (Number(bottom) - Number(top));
    }
    // Corners are rounded to tenths of a pixel: each edge of the frame may be off by 0.05.
    const { width, height } = drawing.frame;
    expect(Math.abs(sum - width * height)).toBeLessThan(0.1 * (width + height));
  });

  test('has the colours of the one scale, and lines at round temperatures that are named', () => {
    expect(drawing.step_K).toBe(5);
    const fills = all.flatMap(({ attrs }) => (attrs['fill'] === undefined ? [] : [attrs['fill']]));
    expect(fills).toContain(temperatureColour(63.125, anchors));
    const words = all.flatMap(({ tag, text }) => (tag === 'text' ? [text] : []));
    expect(words).toEqual(expect.arrayContaining(['45', '50', '55', '60', 'C1 63.9']));
  });

  test.each([280, 350, 440, 680, 912])('no words stand on others at %d px', (width) => {
    for (const kind of ['plan', 'section'] as const) {
      const boxes = findTextBoxes(drawField(makeView({ kind }), width, true).shapes);
      boxes.forEach((one, index) => {
        for (const other of boxes.slice(index + 1))
          expect(boxesOverlap(one, other, 0), `${one.words} on ${other.words}`).toBe(false);
      });
    }
  });
});

test('a section runs down from the front, stretched by a stated factor', () => {
  const y_mm = Float64Array.from({ length: 36 }, (_, index) => (23.2 * index) / 35);
  const { frame, stretch } = drawField(makeView({ kind: 'section', y_mm, cut_mm: null }), 600, false);
  expect(frame.height / 23.2 / (frame.width / 148)).toBeCloseTo(stretch, 10);
  expect(stretch).toBeGreaterThan(1);
  const place = placeInFrame(frame, frame.left, frame.top);
  expect(place).toEqual({ x_mm: 0, y_mm: 0 });
});

test('a plan has its origin at the lower left, and nothing beyond the frame has a place', () => {
  const { frame } = drawField(makeView(), 600, false);
  const corner = placeInFrame(frame, frame.left + frame.width, frame.top);
  expect(corner?.x_mm).toBeCloseTo(148, 9);
  expect(corner?.y_mm).toBeCloseTo(58, 9);
  expect(placeInFrame(frame, frame.left - 1, frame.top)).toBeNull();
});

test('an even field has one colour and no lines', () => {
  const drawing = drawField(makeView({ level_C: new Float32Array(90 * 35).fill(40) }), 600, true);
  expect(drawing.step_K).toBeNull();
  const iso = flatten(drawing.shapes).find(({ attrs }) => attrs['class'] === 'iso');
  expect(iso?.attrs['d']).toBe('');
});
