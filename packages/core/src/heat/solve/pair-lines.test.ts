import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Axis, besideOf, coarsenAxis, pairLines, stretchOf } from './pair-lines.js';

const axes = fc
  .array(fc.tuple(fc.double({ min: 1e-5, max: 1, noNaN: true }), fc.boolean()), {
    minLength: 1,
    maxLength: 40,
  })
  .map((lines) => ({
    sizes: Float64Array.from(lines, ([size]) => size),
    seams: Uint8Array.from(lines.slice(1), ([, seam]) => (seam ? 1 : 0)),
  }));

test('every step merges something until one line is left, keeps the length, and pairs only neighbours', () => {
  fc.assert(
    fc.property(axes, axes, (x, y) => {
      let [a, b]: [Axis, Axis] = [x, y];
      for (let steps = 0; a.sizes.length * b.sizes.length > 1; steps++) {
        expect(steps).toBeLessThan(x.sizes.length + y.sizes.length);
        const pairing = pairLines(a, b);
        const [coarseA, coarseB] = [coarsenAxis(a, pairing.x), coarsenAxis(b, pairing.y)];
        const before = a.sizes.length + b.sizes.length;
        expect(coarseA.sizes.length + coarseB.sizes.length).toBeLessThan(before);
        for (const [fine, coarse, { own, first }] of [
          [a, coarseA, pairing.x],
          [b, coarseB, pairing.y],
        ] as const) {
          const length = (sizes: Float64Array) => sizes.reduce((sum, size) => sum + size, 0);
          expect(Math.abs(length(coarse.sizes) / length(fine.sizes) - 1)).toBeLessThan(1e-12);
          for (let line = 0; line < own.length; line++) {
            const count = first[own[line]! + 1]! - first[own[line]!]!;
            expect(count === 1 || count === 2).toBe(true);
            expect(line - first[own[line]!]! < count).toBe(true);
          }
        }
        [a, b] = [coarseA, coarseB];
      }
    }),
    { numRuns: 200 },
  );
});

test('the narrowest merge first, a change of material last, and one width holds for both axes', () => {
  const x = { sizes: Float64Array.of(1, 1, 1, 1, 8, 8), seams: Uint8Array.of(0, 1, 0, 0, 0) };
  const y = { sizes: Float64Array.of(4, 4), seams: Uint8Array.of(0) };
  const { x: alongX, y: alongY } = pairLines(x, y);
  // Pairs of width 2 and up to three times that: not the pairs of 9 and 16, nor y's of 8.
  expect([...alongX.own]).toEqual([0, 0, 1, 1, 2, 3]);
  expect([...alongY.own]).toEqual([0, 1]);
  expect([...besideOf(alongX)]).toEqual([0, 1, 0, 2, 2, 3]);
  const coarse = coarsenAxis(x, alongX);
  expect([...coarse.sizes]).toEqual([2, 2, 8, 8]);
  expect([...coarse.seams]).toEqual([1, 0, 0]);
  // Centres 1 apart across the gap between the pairs were 2 apart afterwards; 4.5 became 5; 8 stayed.
  expect([...stretchOf(x, coarse, alongX)]).toEqual([1, 2 / 4, 9 / 10, 1]);
});
