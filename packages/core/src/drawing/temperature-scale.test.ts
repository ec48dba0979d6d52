import { describe, expect, test } from 'vitest';
import { hexFromOklab, oklabFromHex } from './oklab.kernel.js';
import {
  drawTemperatureScale,
  temperatureAnchors,
  temperatureColour,
  temperatureScaleTop_C,
  temperatureStops,
} from './temperature-scale.js';
import { boxesOverlap, findTextBoxes } from './text-width.js';

const anchors = { ambient_C: 32, lowestLimit_C: 45 };

// [WPT-CSS-COLOR] oklab-001.html gives the OKLab coordinates of #008000 to five digits of L, a and b.
test('green has the published OKLab coordinates', () => {
  const [lightness, a, b] = oklabFromHex('#008000');
  expect(Math.abs(lightness - 0.51975)).toBeLessThanOrEqual(5e-6);
  expect(Math.abs(a - -0.1403)).toBeLessThanOrEqual(5e-5);
  expect(Math.abs(b - 0.10768)).toBeLessThanOrEqual(5e-6);
});

// [WPT-CSS-COLOR] oklab-005.html and oklab-007.html, per cent of full scale; half a step of 1/255 is 0.196 %.
test.each([
  { oklab: [0.5, 0.05, 0] as const, published: [48.477, 34.29, 38.412] },
  { oklab: [0.55, 0, -0.2] as const, published: [27.888, 38.072, 89.414] },
])('OKLab $oklab is the published screen colour', ({ oklab, published }) => {
  const hex = hexFromOklab(oklab);
  for (const [index, percent] of published.entries()) {
    const channel = Number.parseInt(hex.slice(1 + 2 * index, 3 + 2 * index), 16) / 2.55;
    expect(Math.abs(channel - percent)).toBeLessThanOrEqual(0.2);
  }
});

describe('the temperature scale', () => {
  const levels = Array.from({ length: 401 }, (_, step) => 32 + step / 10);
  const walked = levels.map((level_C) => oklabFromHex(temperatureColour(level_C, anchors)));

  test('gets darker all along, so that a grey print still orders it', () => {
    // A screen colour is rounded to 1/255, which moves lightness by up to about 0.002; over 1 K it must fall by more.
    for (let step = 10; step < walked.length; step += 10) {
      expect(walked[step]?.[0]).toBeLessThan(walked[step - 10]?.[0] ?? 0);
    }
    // Black to white is 1: more than half of it is used, so that neighbours differ in grey as well.
    expect((walked[0]?.[0] ?? 0) - (walked.at(-1)?.[0] ?? 0)).toBeGreaterThan(0.6);
  });

  test('takes equally visible steps', () => {
    const stops = temperatureStops.map(oklabFromHex);
    const steps = stops.slice(1).map((stop, index) => {
      const before = stops[index] ?? stop;
      return Math.hypot(stop[0] - before[0], stop[1] - before[1], stop[2] - before[2]);
    });
    const mean = steps.reduce((sum, step) => sum + step, 0) / steps.length;
    for (const step of steps) expect(Math.abs(step / mean - 1)).toBeLessThan(0.05);
  });

  test('has the same colours for the same share of ambient to limit in every build', () => {
    const other = { ambient_C: 20, lowestLimit_C: 46 };
    expect(temperatureColour(20, other)).toBe(temperatureColour(32, anchors));
    expect(temperatureColour(46, other)).toBe(temperatureColour(45, anchors));
    expect(temperatureScaleTop_C(anchors)).toBeCloseTo(72, 9);
  });

  test('keeps its end colours beyond its ends, also for what is no temperature', () => {
    expect(temperatureColour(-40, anchors)).toBe(temperatureStops[0]);
    expect(temperatureColour(300, anchors)).toBe(temperatureStops.at(-1));
    expect(temperatureColour(Number.NaN, anchors)).toBe(temperatureStops[0]);
  });

  test('is anchored at the lowest limit that says stop and lies above the ambient', () => {
    const limit = (level: 'prefer' | 'stop', limit_C: number) =>
      ({ id: 'x', where: 'cell', state: 'any', level, limit_C, source: 'made up' }) as const;
    const limits = [limit('prefer', 35), limit('stop', 60), limit('stop', 45), limit('stop', 20)];
    expect(temperatureAnchors({ designAmbient: { ambient_C: 32 }, limits })).toEqual(anchors);
    expect(temperatureAnchors({ limits: [] })).toEqual({ ambient_C: 25, lowestLimit_C: 38 });
  });

  test.each([656, 350, 240])('is drawn in %i px without texts touching', (width) => {
    const marks = [
      { level_C: 32, words: 'design ambient' },
      { level_C: 45, words: 'charging limit' },
      { level_C: 47, words: 'discharging limit' },
      { level_C: 90, words: 'beyond the scale' },
    ];
    const drawing = drawTemperatureScale(anchors, marks, width);
    const boxes = findTextBoxes(drawing.shapes);
    for (const [index, box] of boxes.entries()) {
      expect(box.left).toBeGreaterThanOrEqual(0);
      expect(box.right).toBeLessThanOrEqual(width);
      expect(box.bottom).toBeLessThanOrEqual(drawing.height);
      for (const other of boxes.slice(index + 1)) expect(boxesOverlap(box, other)).toBe(false);
    }
    expect(drawing.label).toContain('charging limit 45');
  });
});
