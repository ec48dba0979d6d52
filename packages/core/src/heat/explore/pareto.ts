/**
 * Which of many points no other one beats: as small as it in everything and smaller in something.
 *
 * Differences below a step do not count: points are held against each other on a lattice, and of those in one place of it the first in
 * lexicographic order stays. Without that, a thousandth of a kelvin would keep hundreds on the front.
 *
 * @param points what is to be small, in the same order for each
 * @param steps of the lattice, above 0, one for each
 * @returns places in `points`, ascending
 * @source [LAUMANNS-02] dominance among boxes
 */
export function paretoFront(points: readonly (readonly number[])[], steps: readonly number[]): number[] {
  const boxes = points.map((point) =>
    point.map((value, at) => Math.floor(value / (steps[at] as number) + 0.5)),
  );
  const order = points.map((_, place) => place).sort((a, b) => compare(boxes, points, a, b));
  const front: number[] = [];
  // In lexicographic order whoever beats a point stands before it, and so does whoever beats that one.
  for (const place of order) {
    const here = boxes[place] as number[];
    if (
      !front.some((other) => (boxes[other] as number[]).every((value, at) => value <= (here[at] as number)))
    )
      front.push(place);
  }
  return front.sort((one, other) => one - other);
}

function compare(
  boxes: readonly (readonly number[])[],
  points: readonly (readonly number[])[],
  a: number,
  b: number,
): number {
  return (
    lexicographic(boxes[a] as number[], boxes[b] as number[]) ||
    lexicographic(points[a] as number[], points[b] as number[]) ||
    a - b
  );
}

function lexicographic(one: readonly number[], other: readonly number[]): number {
  for (const [at, value] of one.entries()) {
    const difference = value - (other[at] as number);
    if (difference !== 0) return difference;
  }
  return 0;
}
