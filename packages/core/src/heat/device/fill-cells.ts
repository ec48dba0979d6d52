import { metreFromMillimetre } from '../../measure/index.js';
import type { HeatGrid } from '../solve/grid.js';
import type { LaidParts, Span } from './part.js';

/** Cells of one source of heat, each with its share of the whole. */
export interface HeatCells {
  readonly id: string;
  readonly cells: Int32Array;
  readonly shares: Float64Array;
}

/** Which part each cell belongs to: the last one laid that holds its centre. Index k + nz (i + nx j). */
export function fillCells(grid: HeatGrid, { parts }: LaidParts): Uint16Array {
  const [nx, ny, nz] = [grid.x_m.length - 1, grid.y_m.length - 1, grid.z_m.length - 1];
  const partOf = new Uint16Array(nx * ny * nz);
  parts.forEach((part, index) => {
    const [x, y, z] = [
      centresWithin(grid.x_m, part.x),
      centresWithin(grid.y_m, part.y),
      centresWithin(grid.z_m, part.z),
    ];
    for (let j = y[0]; j < y[1]; j++) {
      for (let i = x[0]; i < x[1]; i++) {
        const column = nz * (i + nx * j);
        partOf.fill(index, column + z[0], column + z[1]);
      }
    }
  });
  return partOf;
}

/** Range of cells, the end left out, whose centres lie within a span. */
export function centresWithin(edges_m: Float64Array, span: Span): [number, number] {
  const [from, to] = [metreFromMillimetre(span[0]), metreFromMillimetre(span[1])];
  let first = 0;
  while (first + 1 < edges_m.length && centreOf(edges_m, first) < from) first++;
  let end = first;
  while (end + 1 < edges_m.length && centreOf(edges_m, end) < to) end++;
  return [first, end];
}

export function centreOf(edges_m: Float64Array, index: number): number {
  return ((edges_m[index] as number) + (edges_m[index + 1] as number)) / 2;
}

export function volumeOf(grid: HeatGrid, i: number, j: number, k: number): number {
  const width = (edges: Float64Array, index: number) =>
    (edges[index + 1] as number) - (edges[index] as number);
  return width(grid.x_m, i) * width(grid.y_m, j) * width(grid.z_m, k);
}

/** Cells that give off heat, source by source, even over the volume of each. */
export function findHeatCells(grid: HeatGrid, laid: LaidParts, partOf: Uint16Array): HeatCells[] {
  const [nx, nz] = [grid.x_m.length - 1, grid.z_m.length - 1];
  const bySource = new Map<string, { cells: number[]; volumes: number[] }>();
  partOf.forEach((part, cell) => {
    const id = laid.parts[part]?.heat;
    if (id === null || id === undefined) return;
    const found = bySource.get(id) ?? { cells: [], volumes: [] };
    if (found.cells.length === 0) bySource.set(id, found);
    const k = cell % nz;
    const column = (cell - k) / nz;
    found.cells.push(cell);
    found.volumes.push(volumeOf(grid, column % nx, Math.floor(column / nx), k));
  });
  return [...bySource].map(([id, { cells, volumes }]) => {
    const whole = volumes.reduce((sum, volume) => sum + volume, 0);
    return {
      id,
      cells: Int32Array.from(cells),
      shares: Float64Array.from(volumes, (volume) => volume / whole),
    };
  });
}
