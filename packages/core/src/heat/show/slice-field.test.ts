import { describe, expect, test } from 'vitest';
import type { LaidParts, Part } from '../device/part.js';
import { cellHolding, depthOfPlane, slicePlan, sliceSection } from './slice-field.js';

const grid = {
  x_m: Float64Array.of(0, 0.01, 0.03, 0.06),
  y_m: Float64Array.of(0, 0.02, 0.05),
  z_m: Float64Array.of(0, 0.001, 0.003, 0.007, 0.01),
};

/** Every cell holds its own middle, written out as one number: x and y in mm, z in tenths. */
function numbered({ x_m, y_m, z_m }: typeof grid) {
  const middle = (edges: Float64Array, at: number) =>
    500 * ((edges[at] as number) + (edges[at + 1] as number));
  const field: number[] = [];
  for (let j = 0; j + 1 < y_m.length; j++)
    for (let i = 0; i + 1 < x_m.length; i++)
      for (let k = 0; k + 1 < z_m.length; k++)
        field.push(1000 * middle(x_m, i) + middle(y_m, j) + middle(z_m, k) / 100);
  return Float64Array.from(field);
}
const field = numbered(grid);
const single = (value: number) => Math.fround(value);

test('a plan has the cells at one depth, rows running across the device', () => {
  const slice = slicePlan(grid, field, 5);
  expect([...slice.x_mm]).toEqual([0, 10, 30, 60]);
  expect([...slice.y_mm]).toEqual([0, 20, 50]);
  expect([...slice.rise_K]).toEqual([5010.05, 20010.05, 45010.05, 5035.05, 20035.05, 45035.05].map(single));
});

test('a section has the cells at one place across, rows running from the front to the back', () => {
  const slice = sliceSection(grid, field, 30);
  expect([...slice.y_mm]).toEqual([0, 1, 3, 7, 10]);
  expect([...slice.rise_K.slice(0, 3)]).toEqual([5035.005, 20035.005, 45035.005].map(single));
  expect([...slice.rise_K.slice(9)]).toEqual([5035.085, 20035.085, 45035.085].map(single));
});

test('a place on an edge lies in the cell behind it, one beyond the end in the last', () => {
  expect([0, 0.999, 1, 2.99, 3, 10, 99].map((at) => cellHolding(grid.z_m, at))).toEqual([
    0, 0, 1, 1, 2, 3, 3,
  ]);
});

describe('the plane of the shield', () => {
  const layer = (name: string, k: number, z: [number, number]) =>
    ({ role: 'layer', name, kInPlane_W_per_mK: k, z }) as unknown as Part;
  const laid = (parts: Part[]) =>
    ({ parts, thickness_mm: 23, depths: { pack: 10, boardBack: 5.4 } }) as unknown as LaidParts;

  test('is the sheet that carries most along itself, conductivity times thickness', () => {
    const parts = [
      layer('film', 0.2, [5, 5.1]),
      layer('graphite', 1000, [5.1, 5.2]),
      layer('plate', 200, [5.2, 6.2]),
    ];
    expect(depthOfPlane(laid(parts), 'shield')).toBeCloseTo(5.7, 12);
  });
  test('is nowhere where nothing spreads heat', () => {
    expect(depthOfPlane(laid([layer('film', 0.2, [5, 5.1])]), 'shield')).toBeNull();
  });
  test('other planes lie just within what they are named for', () => {
    expect(depthOfPlane(laid([]), 'pack')).toBeGreaterThan(10);
    expect(depthOfPlane(laid([]), 'board')).toBeLessThan(5.4);
    expect(depthOfPlane(laid([]), 'back-shell')).toBeLessThan(23);
  });
});
