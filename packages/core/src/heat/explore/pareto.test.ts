import fc from 'fast-check';
import { expect, test } from 'vitest';
import { paretoFront } from './pareto.js';

/** By definition: kept unless another's box is nowhere greater, and is smaller or holds a point that comes first. */
function searchFront(points: readonly (readonly number[])[], steps: readonly number[]): number[] {
  const boxOf = (point: readonly number[]) =>
    point.map((value, at) => Math.floor(value / (steps[at] as number) + 0.5));
  const isBefore = (one: number, other: number) => {
    const [a, b] = [points[one] as readonly number[], points[other] as readonly number[]];
    const at = a.findIndex((value, place) => value !== b[place]);
    return at < 0 ? one < other : (a[at] as number) < (b[at] as number);
  };
  return points.flatMap((point, place) => {
    const own = boxOf(point);
    const beaten = points.some((other, otherPlace) => {
      if (otherPlace === place) return false;
      const box = boxOf(other);
      const nowhereGreater = box.every((value, at) => value <= (own[at] as number));
      const isSame = box.every((value, at) => value === own[at]);
      return nowhereGreater && (!isSame || isBefore(otherPlace, place));
    });
    return beaten ? [] : [place];
  });
}

const points = fc.integer({ min: 1, max: 5 }).chain((size) =>
  fc.tuple(
    fc.array(fc.array(fc.double({ min: 0, max: 3, noNaN: true }), { minLength: size, maxLength: size }), {
      maxLength: 60,
    }),
    fc.array(fc.constantFrom(1e-9, 0.1, 0.5, 1), { minLength: size, maxLength: size }),
  ),
);

test('the front is that of a search by definition', () => {
  fc.assert(
    fc.property(points, ([all, steps]) => {
      expect(paretoFront(all, steps)).toEqual(searchFront(all, steps));
    }),
  );
});

test('whatever is off the front is beaten by something on it', () => {
  fc.assert(
    fc.property(points, ([all, steps]) => {
      const front = paretoFront(all, steps);
      const boxOf = (place: number) =>
        (all[place] as number[]).map((value, at) => Math.floor(value / (steps[at] as number) + 0.5));
      all.forEach((_, place) => {
        const own = boxOf(place);
        expect(front.some((other) => boxOf(other).every((value, at) => value <= (own[at] as number)))).toBe(
          true,
        );
      });
    }),
  );
});
