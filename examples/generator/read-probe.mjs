import { middleOf } from './plan-grid.mjs';

/** A zone's probe reads its lump. @param {import('./assemble.mjs').Lump} lump @param {number} size */
export function readLump(lump, size) {
  const weights = new Float64Array(size);
  weights[lump.node] = 1;
  return weights;
}

/**
 * A probe on the pack's face, as weights on the lumps' temperatures: in a straight line, both ways, between the middles of the pieces
 * around it. Each piece of the face has the mean of what meets there, weighted by the conductances.
 *
 * @param {{ x_mm: number, y_mm: number }} place
 * @param {import('./plates.mjs').Plate} plate the pack's outermost
 * @param {import('./lay-setup.mjs').Face[][]} faces
 * @param {number} size
 */
export function readFace(place, plate, faces, size) {
  const weights = new Float64Array(size);
  const columns = plate.map((line) => line.find((lump) => lump !== null));
  const rows = plate.find((line) => line.some((lump) => lump !== null)) ?? [];
  for (const [column, x] of between(place.x_mm, columns, 'x')) {
    for (const [row, y] of between(place.y_mm, rows, 'y')) {
      const face = faces[column][row];
      const all = face.reduce((sum, [, bond]) => sum + bond, 0);
      for (const [lump, bond] of face) weights[lump.node] += (x * y * bond) / all;
    }
  }
  return weights;
}

/** The two pieces whose middles a place lies between, and how much of each; beyond the last middle, the last one alone. */
function between(at_mm, lumps, axis) {
  const middles = lumps.flatMap((lump, index) =>
    lump ? [{ index, middle: middleOf(lump.piece[axis]) }] : [],
  );
  const next = middles.findIndex(({ middle }) => middle >= at_mm);
  if (next <= 0) return [[middles.at(next).index, 1]];
  const [low, high] = [middles[next - 1], middles[next]];
  const part = (at_mm - low.middle) / (high.middle - low.middle);
  return [
    [low.index, 1 - part],
    [high.index, part],
  ];
}
