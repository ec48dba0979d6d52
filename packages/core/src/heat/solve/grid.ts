import { BadInputError, type Fault, OutOfRangeError } from '../../measure/index.js';

/**
 * Edges of a tensor grid, ascending, in metres; one more than there are cells. z = 0 is the outer face of the front shell.
 * A cell (i, j, k) has the index k + nz (i + nx j) in every array: z runs fastest.
 */
export interface HeatGrid {
  readonly x_m: Float64Array;
  readonly y_m: Float64Array;
  readonly z_m: Float64Array;
}

/** Conductivity of each cell along each axis, W/mK; index k + nz (i + nx j). */
export interface CellConductivity {
  readonly kx: Float64Array;
  readonly ky: Float64Array;
  readonly kz: Float64Array;
}

/**
 * Most cells a grid may have. At about 250 bytes a cell this is the 4 GB one WebAssembly memory can hold.
 *
 * @assumed A browser refuses far earlier; grids meant for people's machines stay below a few million.
 */
export const cellLimit = 16_000_000;

/** Throws where a grid of these counts cannot be, before anything of its size is allocated. */
export function checkCounts(nx: number, ny: number, nz: number): void {
  const cells = nx * ny * nz;
  if (!(cells >= 1 && cells <= cellLimit && [nx, ny, nz].every(Number.isInteger))) {
    throw new OutOfRangeError(
      `the number of cells (${nx} x ${ny} x ${nz})`,
      cells,
      [1, cellLimit],
      'Use a coarser grid.',
    );
  }
}

function findEdgeFault(name: string, edges: Float64Array): Fault | undefined {
  if (edges.length < 2) {
    return { where: name, what: `has ${edges.length} edges.`, remedy: 'Give at least two.' };
  }
  for (let i = 0; i + 1 < edges.length; i++) {
    const size = edges[i + 1]! - edges[i]!;
    if (!(size > 0 && size < Infinity)) {
      return {
        where: `${name}[${i}]`,
        what: `the cell from ${edges[i]} to ${edges[i + 1]} m has no size.`,
        remedy: 'Edges must be finite and ascend; merge edges that coincide.',
      };
    }
  }
  return undefined;
}

/**
 * Sizes of the cells along each axis.
 *
 * @throws OutOfRangeError where there would be more than `cellLimit` cells
 * @throws BadInputError where an edge is not finite or edges do not ascend
 */
export function measureCells(grid: HeatGrid): { dx_m: Float64Array; dy_m: Float64Array; dz_m: Float64Array } {
  const { x_m, y_m, z_m } = grid;
  if (Math.min(x_m.length, y_m.length, z_m.length) > 1) {
    checkCounts(x_m.length - 1, y_m.length - 1, z_m.length - 1);
  }
  const faults = Object.entries({ x_m, y_m, z_m }).flatMap(
    ([name, edges]) => findEdgeFault(name, edges) ?? [],
  );
  if (faults.length > 0) throw new BadInputError(faults);
  return { dx_m: stepsOf(x_m), dy_m: stepsOf(y_m), dz_m: stepsOf(z_m) };
}

function stepsOf(edges: Float64Array): Float64Array {
  return Float64Array.from({ length: edges.length - 1 }, (_, i) => edges[i + 1]! - edges[i]!);
}
