import { expect, test } from 'vitest';
import { knotsOfCells } from './isotherm.js';
import { paintField, temperatureTable } from './paint-field.js';
import { temperatureColour } from './temperature-scale.js';

const anchors = { ambient_C: 32, lowestLimit_C: 45 };
const table = temperatureTable(anchors);

const hexOf = (pixel: number) =>
  `#${[0, 8, 16].map((shift) => ((pixel >> shift) & 255).toString(16).padStart(2, '0')).join('')}`;

test('the table is the scale: opaque, light at the ambient, dark at its top', () => {
  expect(table).toHaveLength(256);
  expect(table.every((pixel) => pixel >>> 24 === 255)).toBe(true);
  // Half a step of the table in from either end.
  expect(hexOf(table[0] as number)).toBe(temperatureColour(32 + 20 / 256, anchors));
  expect(hexOf(table[128] as number)).toBe(temperatureColour(32 + (128.5 / 256) * 40, anchors));
});

test('an even slope is painted as one: each pixel has the colour of its middle', () => {
  // 40 columns of 1 mm, from 32 °C to 72 °C.
  const edges = Float64Array.from({ length: 41 }, (_, index) => index);
  const levels = Float32Array.from({ length: 40 }, (_, index) => 32.5 + index);
  const knots = knotsOfCells(edges, Float64Array.of(0, 1), levels);
  const pixels = paintField(knots, anchors, table, { width_px: 160, height_px: 2, isDown: true });
  for (let pixel = 4; pixel < 156; pixel++) {
    const level = 32 + (pixel + 0.5) / 4;
    expect(pixels[pixel]).toBe(table[Math.floor(((level - 32) / 40) * 256)]);
  }
});

test('up on the device is up in a plan, and the front is up in a section', () => {
  const knots = knotsOfCells(Float64Array.of(0, 1), Float64Array.of(0, 1, 2), Float32Array.of(33, 70));
  const plan = paintField(knots, anchors, table, { width_px: 1, height_px: 2, isDown: false });
  const section = paintField(knots, anchors, table, { width_px: 1, height_px: 2, isDown: true });
  expect([...plan].reverse()).toEqual([...section]);
  expect(hexOf(section[0] as number)).toBe(hexOf(table[Math.floor((1 / 40) * 256)] as number));
});

test('beyond the ends of the scale the end colours stay', () => {
  const knots = knotsOfCells(Float64Array.of(0, 1), Float64Array.of(0, 1), Float32Array.of(-20));
  const [cold] = paintField(knots, anchors, table, { width_px: 1, height_px: 1, isDown: true });
  expect(cold).toBe(table[0]);
  knots.level_C.fill(400);
  const [hot] = paintField(knots, anchors, table, { width_px: 1, height_px: 1, isDown: true });
  expect(hot).toBe(table[255]);
});
