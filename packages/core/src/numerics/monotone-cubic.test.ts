import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { passMonotone } from './monotone-cubic.js';

describe('a monotone curve through points', () => {
  // Independent program: PchipInterpolator of SciPy 1.17 through the same points.
  test('agrees with an independent program', () => {
    const curve = passMonotone([0, 1, 3, 4, 4.5], [0, 2, 2.5, 2.5, 6]);
    const theirs = [
      [0.3, 0.7811013513513513],
      [0.9, 1.9278445945945943],
      [2, 2.3716216216216215],
      [3.5, 2.5],
      [4.2, 3.284],
      [4.4, 5.0386666666666695],
    ] as const;
    for (const [x, y] of theirs) expect(curve.at(x)).toBeCloseTo(y, 12);
  });

  // The same program. The three-point formula would leave the first point at 3.5, three and a half times the chord: it is held to three.
  test('holds its slope at an end back as that program does', () => {
    const curve = passMonotone([0, 1, 2], [0, 1, -3]);
    expect(curve.slopeAt(0)).toBeCloseTo(3, 14);
    expect(curve.at(0.25)).toBeCloseTo(0.578125, 14);
    expect(curve.at(0.5)).toBeCloseTo(0.875, 14);
  });

  test('is the straight line where the points lie on one', () => {
    const curve = passMonotone([0, 1, 5], [1, 3, 11]);
    expect(curve.at(2.5)).toBeCloseTo(6, 14);
    expect(curve.slopeAt(0.5)).toBeCloseTo(2, 14);
    expect(passMonotone([0, 2], [0, 1]).at(1)).toBe(0.5);
  });

  const rising = fc
    .array(
      fc.record({
        dx: fc.double({ min: 0.1, max: 5, noNaN: true }),
        dy: fc.double({ min: 0, max: 9, noNaN: true }),
      }),
      {
        minLength: 1,
        maxLength: 12,
      },
    )
    .map((steps) => {
      const xs = [0];
      const ys = [0];
      for (const { dx, dy } of steps) {
        xs.push((xs.at(-1) as number) + dx);
        ys.push((ys.at(-1) as number) + dy);
      }
      return { xs, ys };
    });

  // Laws of the method: it meets each point and never turns round between them; its slope is that of its values.
  test('rises through rising points, whatever they are', () => {
    fc.assert(
      fc.property(rising, ({ xs, ys }) => {
        const curve = passMonotone(xs, ys);
        for (const [i, x] of xs.entries()) expect(curve.at(x)).toBeCloseTo(ys[i] as number, 9);
        const end = xs.at(-1) as number;
        let before = -1e-9;
        for (let part = 0; part <= 200; part++) {
          const y = curve.at((end * part) / 200);
          expect(y).toBeGreaterThanOrEqual(before - 1e-9);
          before = y;
        }
      }),
    );
  });

  test('has the slope its own values have', () => {
    const curve = passMonotone([0, 1, 3, 4, 4.5], [0, 2, 2.5, 2.7, 6]);
    for (const x of [0.4, 1.7, 3.2, 4.3]) {
      const apart = 1e-6;
      const seen = (curve.at(x + apart) - curve.at(x - apart)) / (2 * apart);
      expect(curve.slopeAt(x)).toBeCloseTo(seen, 7);
    }
  });
});
