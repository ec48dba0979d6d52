import { crossSquares, placeOnEdge } from './isotherm.kernel.js';

/** A field at the knots of a tensor grid; `level_C[i + x.length * j]` belongs to `x[i]`, `y[j]`. */
export interface KnotField {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly level_C: Float32Array;
}

/** A line of one level: x and y in turn. It ends where it began, or at the edge of the field. */
export interface Isotherm {
  readonly level_C: number;
  readonly points: Float64Array;
  readonly isClosed: boolean;
}

/**
 * Lines along which a field has one level.
 *
 * Between knots the field is taken to run straight, so a line is off by what the field bends within one cell. Where it is as flat as the
 * level itself, there is no line to speak of, and what is drawn follows rounding.
 *
 * @param level_C one level, °C or whatever the field is in
 * @returns lines, each once
 * @source [LORENSEN-CLINE-87] in its form for the plane
 */
export function traceIsotherms({ x, y, level_C: field }: KnotField, level_C: number): Isotherm[] {
  const [n, m] = [x.length, y.length];
  const pairs = new Int32Array(4 * n * m);
  const count = crossSquares(n, m, field, level_C, pairs);
  return chainPairs(pairs.subarray(0, count)).map((edges) => {
    const points = new Float64Array(2 * edges.length);
    edges.forEach((edge, index) => {
      placeOnEdge(edge, n, x, y, field, level_C, points, 2 * index);
    });
    return { level_C, points, isClosed: edges.length > 2 && edges[0] === edges.at(-1) };
  });
}

/** Pieces of line, each between two edges, strung together: an edge belongs to two pieces, at the border to one. */
function chainPairs(pairs: Int32Array): number[][] {
  const next = new Map<number, number[]>();
  const link = (from: number, to: number) => {
    const known = next.get(from);
    if (known === undefined) next.set(from, [to]);
    else known.push(to);
  };
  for (let at = 0; at + 1 < pairs.length; at += 2) {
    link(pairs[at] as number, pairs[at + 1] as number);
    link(pairs[at + 1] as number, pairs[at] as number);
  }
  const take = (from: number): number | undefined => {
    const to = next.get(from)?.pop();
    if (to === undefined) return undefined;
    const back = next.get(to);
    back?.splice(back.indexOf(from), 1);
    return to;
  };
  const follow = (from: number): number[] => {
    const chain = [from];
    for (let to = take(from); to !== undefined; to = take(to)) chain.push(to);
    return chain;
  };
  const lines: number[][] = [];
  // Open lines first, from their ends; what is left then runs in rings.
  for (const [edge, ends] of next) if (ends.length === 1) lines.push(follow(edge));
  for (const [edge, ends] of next) if (ends.length > 0) lines.push(follow(edge));
  return lines;
}

/**
 * Knots of a field given cell by cell: the middles of the cells, and the border with the values of the cells along it, so that lines
 * and colours reach to the edge.
 *
 * @param edges_x one more than there are columns; `edges_y` one more than rows
 */
export function knotsOfCells(edges_x: Float64Array, edges_y: Float64Array, values: Float32Array): KnotField {
  const [columns, rows] = [edges_x.length - 1, edges_y.length - 1];
  const [x, y] = [knotsAlong(edges_x), knotsAlong(edges_y)];
  const level_C = new Float32Array(x.length * y.length);
  for (let j = 0; j < y.length; j++) {
    const row = Math.min(rows - 1, Math.max(0, j - 1));
    for (let i = 0; i < x.length; i++) {
      const column = Math.min(columns - 1, Math.max(0, i - 1));
      level_C[i + x.length * j] = values[column + columns * row] as number;
    }
  }
  return { x, y, level_C };
}

function knotsAlong(edges: Float64Array): Float64Array {
  const cells = edges.length - 1;
  return Float64Array.from({ length: cells + 2 }, (_, index) => {
    if (index === 0) return edges[0] as number;
    if (index > cells) return edges[cells] as number;
    return ((edges[index - 1] as number) + (edges[index] as number)) / 2;
  });
}

/** The field at a place, straight between knots; beyond the border, that of the border. */
export function levelAt({ x, y, level_C }: KnotField, at_x: number, at_y: number): number {
  const [i, s] = placeAmong(x, at_x);
  const [j, t] = placeAmong(y, at_y);
  const value = (di: number, dj: number) => level_C[i + di + x.length * (j + dj)] as number;
  return (1 - t) * ((1 - s) * value(0, 0) + s * value(1, 0)) + t * ((1 - s) * value(0, 1) + s * value(1, 1));
}

/** The interval a place lies in, and how far along it. */
function placeAmong(knots: Float64Array, at: number): [index: number, share: number] {
  let low = 0;
  let high = knots.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((knots[middle] as number) <= at) low = middle;
    else high = middle;
  }
  const [from, to] = [knots[low] as number, knots[low + 1] as number];
  return [low, Math.max(0, Math.min(1, (at - from) / (to - from)))];
}
