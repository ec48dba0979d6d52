import { metreFromMillimetre } from '../../measure/index.js';
import { checkCounts, type HeatGrid } from '../solve/grid.js';
import type { LaidParts, Span } from './part.js';

/** How finely a device is cut into cells. */
export interface GridWish {
  /** Along and across the device, mm. */
  readonly cell_mm: number;
  /** The same over the zones, where heat enters and temperatures bend most. */
  readonly zoneCell_mm: number;
  /** Through the device, mm; every part but a film is at least two cells. */
  readonly depth_mm: number;
  /** True for the same grid with its cells merged two by two, along every axis. */
  readonly merged?: boolean;
}

/** What a model is computed on unless asked otherwise: some 60 to 100 thousand cells for a hand-held device. */
export const usualGrid: GridWish = { cell_mm: 4, zoneCell_mm: 3, depth_mm: 3 };

/** What calibrations and predictions are computed on: fast enough for hundreds of solves, and its error is stated with each figure. */
export const soakGrid: GridWish = { cell_mm: 6, zoneCell_mm: 4, depth_mm: 4 };

/** The same grid with its cells merged two by two: an eighth of the cells. Their difference tells the error of the grid. */
export function coarsen(wish: GridWish): GridWish {
  return wish.merged === true
    ? {
        cell_mm: 2 * wish.cell_mm,
        zoneCell_mm: 2 * wish.zoneCell_mm,
        depth_mm: 2 * wish.depth_mm,
        merged: true,
      }
    : { ...wish, merged: true };
}

/** Edges in plan closer than this are taken as one, mm: half of it is what shears and rulers are good for. @assumed */
const sameEdge_mm = 0.25;
/** Depths are typed in hundredths. */
const sameDepth_mm = 1e-4;

/**
 * A grid whose lines follow every edge of every part, divided evenly between them.
 *
 * Set-ups that are compared need the same lines in plan, or the error of the grid differs between them: pass all of them.
 *
 * @param laid the set-up to cut
 * @param others set-ups whose edges in plan it shall share
 * @throws OutOfRangeError where there would be too many cells
 */
export function layGrid(laid: LaidParts, others: readonly LaidParts[], wish: GridWish): HeatGrid {
  const all = [laid, ...others];
  const inPlan = (axis: 'x' | 'y', size_mm: number) =>
    divide(
      mergeEdges(
        [0, size_mm, ...all.flatMap(({ parts }) => parts.flatMap((part) => [...part[axis]]))],
        sameEdge_mm,
      ),
      (from, to) =>
        countCells(to - from, isOverZone(laid, axis, from, to) ? wish.zoneCell_mm : wish.cell_mm, wish),
    );
  const depths = mergeEdges([0, laid.thickness_mm, ...laid.parts.flatMap(({ z }) => [...z])], sameDepth_mm);
  const grid = {
    x_m: inPlan('x', laid.length_mm),
    y_m: inPlan('y', laid.width_mm),
    z_m: divide(
      depths,
      (from, to) => (to - from < film_mm ? 1 : countCells(to - from, wish.depth_mm, wish)),
      crowdEnds,
    ),
  };
  checkCounts(grid.x_m.length - 1, grid.y_m.length - 1, grid.z_m.length - 1);
  return grid;
}

/** What is thinner passes heat straight through, which one cell does exactly, mm. @assumed thinner than what curves a temperature here */
const film_mm = 0.2;

/** Cells of an interval: an even number, so that they can be merged two by two. */
function countCells(length_mm: number, wish_mm: number, { merged = false }: GridWish): number {
  const pairs = Math.max(1, Math.ceil(length_mm / (2 * wish_mm) - 1e-9));
  return merged ? pairs : 2 * pairs;
}

/** Sorted, and those closer than `least` to the one before left out; the two ends always stay. */
function mergeEdges(edges: readonly number[], least: number): number[] {
  const sorted = [...edges].sort((one, other) => one - other);
  const last = sorted.at(-1) as number;
  const merged = [sorted[0] as number];
  for (const edge of sorted) if (edge - (merged.at(-1) as number) >= least) merged.push(edge);
  if (last - (merged.at(-1) as number) > 0) merged[merged.length - 1] = last;
  return merged;
}

function isOverZone(laid: LaidParts, axis: 'x' | 'y', from: number, to: number): boolean {
  const middle = (from + to) / 2;
  const holds = (span: Span) => span[0] < middle && middle < span[1];
  return laid.parts.some((part) => part.heat !== null && part.role === 'zone' && holds(part[axis]));
}

/** Finer towards both faces of a part, where heat enters and a probe sits: a thick pack bends its temperature there. */
function crowdEnds(part: number): number {
  return (1 - Math.cos(Math.PI * part)) / 2;
}

/** Edges in metres, each interval cut into its count of cells. */
function divide(
  edges_mm: readonly number[],
  count: (from: number, to: number) => number,
  placeEdge: (part: number) => number = (part) => part,
): Float64Array {
  const edges: number[] = [];
  for (let index = 0; index + 1 < edges_mm.length; index++) {
    const [from, to] = [edges_mm[index] as number, edges_mm[index + 1] as number];
    const cells = count(from, to);
    for (let cell = 0; cell < cells; cell++) edges.push(from + (to - from) * placeEdge(cell / cells));
  }
  edges.push(edges_mm.at(-1) as number);
  return Float64Array.from(edges, metreFromMillimetre);
}
