import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Isotherm, knotsOfCells, levelAt, traceIsotherms } from './isotherm.js';

/** A field of a formula at uneven knots, as a device's grid has them. */
function sample(count: number, formula: (x: number, y: number) => number, span = 1) {
  const knots = Float64Array.from({ length: count }, (_, index) => {
    const share = index / (count - 1);
    return span * (2 * (share + 0.05 * Math.sin(2 * Math.PI * share)) - 1);
  });
  const level_C = new Float32Array(count * count);
  knots.forEach((y, j) => {
    knots.forEach((x, i) => {
      level_C[i + count * j] = formula(x, y);
    });
  });
  return { x: knots, y: knots, level_C };
}

const pointsOf = ({ points }: Isotherm) =>
  Array.from({ length: points.length / 2 }, (_, index): [number, number] => [
    points[2 * index] as number,
    points[2 * index + 1] as number,
  ]);

/** Area within a closed line, by the sum over its sides. */
function areaOf(line: Isotherm): number {
  const points = pointsOf(line);
  let twice = 0;
  points.forEach(([x, y], index) => {
    const [nextX, nextY] = points[(index + 1) % points.length] as [number, number];
    twice += x * nextY - nextX * y;
  });
  return Math.abs(twice) / 2;
}

describe('lines of a known field', () => {
  test('an even slope has straight lines, exact to the digits of single precision', () => {
    const [line, ...others] = traceIsotherms(
      sample(17, (x, y) => 2 * x + y),
      0.4,
    );
    expect(others).toEqual([]);
    expect(line?.isClosed).toBe(false);
    // Values of size 3 in single precision are good to 2e-7 each.
    for (const [x, y] of pointsOf(line as Isotherm)) expect(Math.abs(2 * x + y - 0.4)).toBeLessThan(1e-6);
    const ends = [pointsOf(line as Isotherm)[0], pointsOf(line as Isotherm).at(-1)] as [number, number][];
    for (const [x, y] of ends) expect(Math.max(Math.abs(x), Math.abs(y))).toBeCloseTo(1, 6);
  });

  test('a bowl has rings; they enclose the area of a circle, four times as nearly for cells half as long', () => {
    const errors = [33, 65].map((count) => {
      const lines = traceIsotherms(
        sample(count, (x, y) => x * x + y * y),
        0.5,
      );
      expect(lines).toHaveLength(1);
      expect(lines[0]?.isClosed).toBe(true);
      return Math.abs(areaOf(lines[0] as Isotherm) - Math.PI * 0.5);
    });
    // Straight between knots: the error falls with the square of the cells. A fifth of slack, because the crossings fall anywhere in a cell.
    const order = Math.log2((errors[0] as number) / (errors[1] as number));
    expect(order).toBeGreaterThan(1.8);
    expect(order).toBeLessThan(2.2);
  });

  test('the lines of a source and a sink, the logarithm of two distances, are Apollonian circles', () => {
    // Points whose distances to (±0.5, 0) stand as e to 1 lie on a circle about (0.5 coth 1, 0) of radius 0.5 / sinh 1.
    const field = sample(257, (x, y) =>
      Math.log(Math.hypot(x + 0.5, y + 1e-9) / Math.hypot(x - 0.5, y + 1e-9)),
    );
    const lines = traceIsotherms(field, 1);
    expect(lines).toHaveLength(1);
    for (const [x, y] of pointsOf(lines[0] as Isotherm)) {
      const radius = Math.hypot(x - 0.5 / Math.tanh(1), y);
      // Cells are 0.01 long and the field bends by some 1/r² = 10 per length twice: 0.01² × 10 / 8.
      expect(Math.abs(radius - 0.5 / Math.sinh(1))).toBeLessThan(5e-4);
    }
  });

  test('a saddle is passed on both sides without a crossing', () => {
    const above = traceIsotherms(
      { x: Float64Array.of(0, 1), y: Float64Array.of(0, 1), level_C: Float32Array.of(1, 0, 0, 1) },
      0.4,
    );
    const below = traceIsotherms(
      { x: Float64Array.of(0, 1), y: Float64Array.of(0, 1), level_C: Float32Array.of(1, 0, 0, 1) },
      0.6,
    );
    expect(above).toHaveLength(2);
    expect(below).toHaveLength(2);
    // The middle is 0.5. At 0.4 the two low corners (1, 0) and (0, 1) are cut off; at 0.6 the two high ones.
    const cornerOf = (line: Isotherm) =>
      pointsOf(line)
        .reduce(([x, y], [px, py]) => [x + px / 2, y + py / 2], [0, 0])
        .map(Math.round);
    expect(above.map(cornerOf).sort()).toEqual([
      [0, 1],
      [1, 0],
    ]);
    expect(below.map(cornerOf).sort()).toEqual([
      [0, 0],
      [1, 1],
    ]);
  });

  test('a level that is nowhere has no line', () => {
    expect(
      traceIsotherms(
        sample(9, (x) => x),
        3,
      ),
    ).toEqual([]);
  });
});

test('whatever the field, every line closes or ends at the border, and every point of it has the level', () => {
  fc.assert(
    fc.property(
      fc.array(fc.float({ min: -1, max: 1, noNaN: true }), { minLength: 30, maxLength: 30 }),
      fc.float({ min: Math.fround(-0.9), max: Math.fround(0.9), noNaN: true }),
      (values, level) => {
        const field = {
          x: Float64Array.of(0, 1, 2, 4, 5, 7),
          y: Float64Array.of(0, 2, 3, 5, 6),
          level_C: Float32Array.from(values),
        };
        for (const line of traceIsotherms(field, level)) {
          const points = pointsOf(line);
          const isAtBorder = ([x, y]: [number, number]) => x === 0 || x === 7 || y === 0 || y === 6;
          if (!line.isClosed)
            for (const end of [points[0], points.at(-1)])
              expect(isAtBorder(end as [number, number])).toBe(true);
          for (const [x, y] of points) expect(Math.abs(levelAt(field, x, y) - level)).toBeLessThan(1e-5);
        }
      },
    ),
  );
});

test('cells become knots at their middles, and the border has what the cells along it have', () => {
  const field = knotsOfCells(Float64Array.of(0, 2, 4), Float64Array.of(0, 1), Float32Array.of(10, 20));
  expect([...field.x]).toEqual([0, 1, 3, 4]);
  expect([...field.y]).toEqual([0, 0.5, 1]);
  expect([...field.level_C.slice(4, 8)]).toEqual([10, 10, 20, 20]);
  expect(levelAt(field, 2, 0.5)).toBe(15);
  expect(levelAt(field, -5, 9)).toBe(10);
});
