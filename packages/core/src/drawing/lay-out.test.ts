import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { hatchRect } from './make-shape.js';
import { placeInRows } from './place-words.js';
import { spreadAlong } from './spread.js';
import { boxesOverlap, runsWidth_px, shortenWords, textBox, textWidth_px, wrapRuns } from './text-width.js';
import { findTicks, findTimeTicks } from './ticks.js';

// Advance widths of DejaVu Sans 2.37 in 1/2048 em, from its horizontal metrics table.
test.each([
  ['0', 1303],
  ['i', 569],
  ['W', 2025],
  ['m', 1995],
  [' ', 651],
  ['−', 1716],
])('an estimate of "%s" is not narrower than the widest face', (character, units) => {
  const drawn = (units / 2048) * 12;
  expect(textWidth_px(character)).toBeGreaterThanOrEqual(drawn - 1e-9);
  expect(textWidth_px(character)).toBeLessThan(1.25 * drawn);
});

describe('words', () => {
  test('are shortened to what they may take', () => {
    expect(shortenWords('short', 100)).toBe('short');
    const cut = shortenWords('a very long name of a layer', 80);
    expect(cut.endsWith('…')).toBe(true);
    expect(textWidth_px(cut)).toBeLessThanOrEqual(80);
  });

  test('are broken into lines that fit, whatever they are', () => {
    fc.assert(
      fc.property(
        fc.array(fc.string({ maxLength: 40 }), { maxLength: 8 }),
        fc.integer({ min: 40, max: 300 }),
        (words, width) => {
          const lines = wrapRuns(
            words.map((each, index) => ({ words: each, quiet: index % 2 === 1 })),
            width,
            3,
          );
          expect(lines.length).toBeLessThanOrEqual(3);
          for (const line of lines) expect(runsWidth_px(line)).toBeLessThanOrEqual(width + 1e-9);
        },
      ),
    );
  });

  test('keep all their letters when they fit', () => {
    const lines = wrapRuns(
      [{ words: 'plate + gap' }, { words: 'cooler than', quiet: true }, { words: 'polyimide film' }],
      200,
      3,
    );
    expect(lines.map((line) => line.map((run) => run.words).join('')).join(' ')).toBe(
      'plate + gap cooler than polyimide film',
    );
  });

  test('above a plot never touch and never stand out', () => {
    const words = fc.record({
      at: fc.integer({ min: -50, max: 400 }),
      length: fc.integer({ min: 1, max: 20 }),
    });
    fc.assert(
      fc.property(fc.array(words, { maxLength: 8 }), (all) => {
        const wished = all.map(({ at, length }) => ({
          at,
          words: 'x'.repeat(length),
          anchors: ['middle', 'start', 'end'] as const,
        }));
        const placed = placeInRows(wished, 0, 350);
        const boxes = placed.map((each) =>
          textBox(textWidth_px(each.words), each.x, each.row * 20, each.anchor),
        );
        for (const [index, box] of boxes.entries()) {
          expect(box.left).toBeGreaterThanOrEqual(-1e-9);
          expect(box.right).toBeLessThanOrEqual(350 + 1e-9);
          for (const other of boxes.slice(index + 1)) expect(boxesOverlap(box, other, -1e-6)).toBe(false);
        }
      }),
    );
  });
});

describe('spreading along a line', () => {
  test('leaves alone what does not collide', () => {
    expect(spreadAlong([10, 50, 90], [20, 20, 20], 0, 100)).toEqual([10, 50, 90]);
  });

  // Derived here: of all places 20 apart, the sum of squared shifts is least where the mean shift is zero.
  test('shares a collision equally', () => {
    expect(spreadAlong([50, 50, 50], [20, 20, 20], 0, 100)).toEqual([30, 50, 70]);
    expect(spreadAlong([5, 6], [20, 20], 0, 100)).toEqual([10, 30]);
  });

  test('keeps order, distance and range for any wishes that fit', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: -50, max: 600, noNaN: true }), fc.integer({ min: 1, max: 40 })), {
          maxLength: 12,
        }),
        (things) => {
          const sorted = [...things].sort((one, other) => one[0] - other[0]);
          const sizes = sorted.map(([, size]) => size);
          const places = spreadAlong(
            sorted.map(([wish]) => wish),
            sizes,
            0,
            500,
          );
          for (const [index, place] of places.entries()) {
            const half = (sizes[index] ?? 0) / 2;
            expect(place - half).toBeGreaterThanOrEqual(-1e-6);
            expect(place + half).toBeLessThanOrEqual(500 + 1e-6);
            if (index > 0)
              expect(place - half).toBeGreaterThanOrEqual(
                (places[index - 1] ?? 0) + (sizes[index - 1] ?? 0) / 2 - 1e-6,
              );
          }
        },
      ),
    );
  });
});

describe('ticks', () => {
  test.each([
    [24.2, 58.1, 8, 5, [25, 30, 35, 40, 45, 50, 55]],
    [-2.3, 6.1, 6, 2, [-2, 0, 2, 4, 6]],
    [0.98, 1.62, 5, 0.2, [1, 1.2, 1.4, 1.6]],
  ])('of %d to %d are the round numbers a person would choose', (low, high, most, step, values) => {
    const ticks = findTicks(low, high, most);
    expect(ticks.step).toBeCloseTo(step, 12);
    expect(ticks.values.length).toBe(values.length);
    for (const [index, value] of values.entries()) expect(ticks.values[index]).toBeCloseTo(value, 12);
  });

  test('stay few and inside for any range', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e3, max: 1e3, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
        fc.integer({ min: 2, max: 20 }),
        (low, span, most) => {
          const { values, step } = findTicks(low, low + span, most);
          expect(values.length).toBeLessThanOrEqual(most + 1);
          for (const value of values) {
            expect(value).toBeGreaterThanOrEqual(low - 1e-6 * step);
            expect(value).toBeLessThanOrEqual(low + span + 1e-6 * step);
          }
        },
      ),
    );
  });

  test('of time are minutes, hours and days', () => {
    expect(findTimeTicks(12_900, 8)).toEqual([0, 1800, 3600, 5400, 7200, 9000, 10_800, 12_600]);
    expect(findTimeTicks(300, 6)).toEqual([0, 60, 120, 180, 240, 300]);
    expect(findTimeTicks(10 * 86_400, 5)).toEqual([0, 172_800, 345_600, 518_400, 691_200, 864_000]);
  });
});

test('hatching stays inside its rectangle and fills it', () => {
  const d = hatchRect(10, 20, 110, 50);
  const numbers = (d.match(/-?[\d.]+/g) ?? []).map(Number);
  for (let index = 0; index < numbers.length; index += 2) {
    expect(numbers[index]).toBeGreaterThanOrEqual(10);
    expect(numbers[index]).toBeLessThanOrEqual(110);
    expect(numbers[index + 1]).toBeGreaterThanOrEqual(20);
    expect(numbers[index + 1]).toBeLessThanOrEqual(50);
  }
  // Strokes lie 7 apart along each edge: (100 + 30) / 7 of them.
  expect(d.match(/M/g)?.length).toBe(18);
  expect(hatchRect(10, 20, 10, 50)).toBe('');
});
