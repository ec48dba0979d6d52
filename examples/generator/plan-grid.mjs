/**
 * The device in plan: a grid of cells, cut by the same lines through all its layers. Where a layer begins or ends within a cell, its
 * piece is that part of the cell; the outer cells reach as far out as anything does.
 *
 * @typedef {{ x_mm: number, y_mm: number, length_mm: number, width_mm: number }} Outline
 * @typedef {{ from: number, to: number }} Span mm
 * @typedef {{ x: Span, y: Span }} Piece
 * @typedef {{ x_mm: readonly number[], y_mm: readonly number[] }} Lines inner lines; one cell more than lines each way
 */

/**
 * Lines at the edges of processor and pack, through C1 and between the cells; the others where the temperature bends less. Against
 * three times as many lines each way, rises at the cells and their differences to bare differ by less than 0.7 K. The
 * demo's device is this network; one cut finer would be another device.
 *
 * @type {Lines}
 */
export const demoLines = {
  x_mm: [27, 44, 63, 73, 83, 86, 100, 120, 145],
  y_mm: [13, 27, 47, 63],
};

/** @param {Span} one @param {Span} other @returns {Span} */
function meet(one, other) {
  return { from: Math.max(one.from, other.from), to: Math.min(one.to, other.to) };
}

/** @param {Span} span */
const lengthOf = ({ from, to }) => Math.max(0, to - from);

/** @param {Span} span */
export const middleOf = ({ from, to }) => (from + to) / 2;

/** @param {Outline} outline @returns {Piece} */
export function pieceOf({ x_mm, y_mm, length_mm, width_mm }) {
  return { x: { from: x_mm, to: x_mm + length_mm }, y: { from: y_mm, to: y_mm + width_mm } };
}

/** @param {Piece} one @param {Piece} other @returns {Piece} */
export function overlapOf(one, other) {
  return { x: meet(one.x, other.x), y: meet(one.y, other.y) };
}

/** @param {Piece} piece @returns {number} mm2; 0 where nothing is left */
export function area_mm2({ x, y }) {
  return lengthOf(x) * lengthOf(y);
}

/** @param {readonly number[]} lines @returns {Span[]} */
export function spansBetween(lines) {
  const edges = [Number.NEGATIVE_INFINITY, ...lines, Number.POSITIVE_INFINITY];
  return edges.slice(1).map((to, index) => ({ from: edges[index], to }));
}

/** Length in mm of the edge at which two neighbours in a row or column meet. @param {Span} one @param {Span} other */
export const sharedEdge_mm = (one, other) => lengthOf(meet(one, other));
