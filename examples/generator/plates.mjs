import { area_mm2, middleOf, overlapOf, pieceOf, sharedEdge_mm } from './plan-grid.mjs';

/**
 * One layer of the device as lumps, by column and row; null where it does not reach.
 *
 * @typedef {import('./assemble.mjs').Lump} Lump
 * @typedef {(Lump | null)[][]} Plate
 * @typedef {object} Site what every part of the device is built on
 * @property {import('./assemble.mjs').Assembly} assembly
 * @property {import('./plan-grid.mjs').Span[]} columns
 * @property {import('./plan-grid.mjs').Span[]} rows
 * @property {import('./properties.mjs').Properties} of
 * @property {import('./network.mjs').Mounting} mounting
 */

export const metre = 1e-3;
export const metre2 = 1e-6;

/** Area of a piece, or of what two pieces share. @param {import('./plan-grid.mjs').Piece} piece */
export const area_m2 = (piece, other = piece) => metre2 * area_mm2(overlapOf(piece, other));

/**
 * Cuts a layer into lumps and joins each to its neighbours, from middle to middle.
 *
 * @param {Site} site
 * @param {import('./plan-grid.mjs').Outline} outline
 * @param {{ thickness_mm: number, k_W_per_mK: number, store_J_per_m3K: number }} stuff
 * @returns {Plate}
 */
export function cutPlate(
  { assembly, columns, rows },
  outline,
  { thickness_mm, k_W_per_mK, store_J_per_m3K },
) {
  const plate = columns.map((x, column) =>
    rows.map((y) => {
      const piece = overlapOf(pieceOf(outline), { x, y });
      const stored_J_per_K = area_m2(piece) * metre * thickness_mm * store_J_per_m3K;
      return stored_J_per_K > 0 ? assembly.add(column, piece, stored_J_per_K) : null;
    }),
  );
  const meet = (one, other, along, across) => {
    if (!one || !other) return;
    const apart_mm = middleOf(other.piece[along]) - middleOf(one.piece[along]);
    const edge_mm = sharedEdge_mm(one.piece[across], other.piece[across]);
    assembly.join(one, other, (k_W_per_mK * metre * thickness_mm * edge_mm) / apart_mm);
  };
  for (const [column, line] of plate.entries()) {
    for (const [row, lump] of line.entries()) {
      meet(lump, plate[column + 1]?.[row], 'x', 'y');
      meet(lump, line[row + 1], 'y', 'x');
    }
  }
  return plate;
}

/** @param {Site} site @param {(column: number, row: number) => void} visit */
export function eachCell({ columns, rows }, visit) {
  for (const column of columns.keys()) for (const row of rows.keys()) visit(column, row);
}
