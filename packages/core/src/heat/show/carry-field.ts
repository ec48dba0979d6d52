import type { HeatGrid } from '../solve/grid.js';

/**
 * A field moved from one grid to another: a start for the next solve that is near the answer, when a layer has grown by a little and the
 * cells are other ones.
 *
 * Depths are matched by their share of the whole, so that what lay in the pack lies in the pack again.
 */
export function carryField(from: HeatGrid, rise_K: Float64Array, to: HeatGrid): Float64Array {
  const [along, across, down] = [
    nearest(from.x_m, to.x_m),
    nearest(from.y_m, to.y_m),
    nearest(from.z_m, to.z_m),
  ];
  const [fromX, fromZ] = [from.x_m.length - 1, from.z_m.length - 1];
  const carried = new Float64Array(along.length * across.length * down.length);
  let cell = 0;
  for (const j of across) {
    for (const i of along) {
      const column = fromZ * (i + fromX * j);
      for (const k of down) carried[cell++] = rise_K[column + k] as number;
    }
  }
  return carried;
}

/** For each cell of the new grid the old one at the same share of the whole length. */
function nearest(from: Float64Array, to: Float64Array): Int32Array {
  const scale = (from.at(-1) as number) / (to.at(-1) as number);
  let index = 0;
  return Int32Array.from({ length: to.length - 1 }, (_, cell) => {
    const at = (scale * ((to[cell] as number) + (to[cell + 1] as number))) / 2;
    while (index + 2 < from.length && (from[index + 1] as number) <= at) index++;
    return index;
  });
}
