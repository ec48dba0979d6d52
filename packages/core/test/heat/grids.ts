import type { CellConductivity, FaceFilms, FaceName, HeatGrid } from '../../src/heat/index.js';
import { faceNames } from '../../src/heat/index.js';
import type { Noise } from '../../src/numerics/index.js';

/** Edges of equal cells. */
export function divide(length_m: number, cells: number): Float64Array {
  return Float64Array.from({ length: cells + 1 }, (_, i) => (length_m * i) / cells);
}

/** Edges from the sizes of the cells. */
export function stack(sizes_m: readonly number[]): Float64Array {
  const edges = [0];
  for (const size of sizes_m) edges.push(edges.at(-1)! + size);
  return Float64Array.from(edges);
}

/** One edge length in x and y: a bar, or a column, of one square metre or of what is given. */
export function column(z_m: Float64Array, side_m = 1): HeatGrid {
  return { x_m: divide(side_m, 1), y_m: divide(side_m, 1), z_m };
}

export function countsOf({ x_m, y_m, z_m }: HeatGrid) {
  const [nx, ny, nz] = [x_m.length - 1, y_m.length - 1, z_m.length - 1];
  return { nx, ny, nz, n: nx * ny * nz };
}

export interface Cell {
  readonly i: number;
  readonly j: number;
  readonly k: number;
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly volume: number;
}

/** A value for each cell, from its indices, centre and volume. */
export function perCell(grid: HeatGrid, value: (cell: Cell) => number): Float64Array {
  const { nx, nz, n } = countsOf(grid);
  const middle = (edges: Float64Array, at: number) => 0.5 * (edges[at]! + edges[at + 1]!);
  const size = (edges: Float64Array, at: number) => edges[at + 1]! - edges[at]!;
  return Float64Array.from({ length: n }, (_, c) => {
    const k = c % nz;
    const i = Math.floor(c / nz) % nx;
    const j = Math.floor(c / nz / nx);
    const [x, y, z] = [middle(grid.x_m, i), middle(grid.y_m, j), middle(grid.z_m, k)];
    return value({ i, j, k, x, y, z, volume: size(grid.x_m, i) * size(grid.y_m, j) * size(grid.z_m, k) });
  });
}

/** The same conductivity along all axes, or one for each. */
export function conducting(
  grid: HeatGrid,
  k: (cell: Cell) => number | readonly [number, number, number],
): CellConductivity {
  const axis = (at: 0 | 1 | 2) =>
    perCell(grid, (cell) => {
      const value = k(cell);
      return typeof value === 'number' ? value : value[at];
    });
  return { kx: axis(0), ky: axis(1), kz: axis(2) };
}

/** Films on the named faces; the others are adiabatic. */
export function filmsOn(films: Partial<Record<FaceName, number>>): FaceFilms {
  return Object.fromEntries(faceNames.map((face) => [face, films[face] ?? 0])) as unknown as FaceFilms;
}

export function filmsAll(film: number): FaceFilms {
  return Object.fromEntries(faceNames.map((face) => [face, film])) as unknown as FaceFilms;
}

/** A boxy device drawn by chance: uneven cells, blocks of materials from foil to air, films on every face. */
export function drawDevice(noise: Noise, most = 12) {
  const draw = (low: number, high: number) => low + (high - low) * noise.uniform();
  const spread = (low: number, high: number) => low * (high / low) ** noise.uniform();
  const edges = (low: number, high: number) =>
    stack(Array.from({ length: Math.floor(draw(1, most + 0.999)) }, () => spread(low, high)));
  const grid = { x_m: edges(5e-4, 1e-2), y_m: edges(5e-4, 1e-2), z_m: edges(5e-5, 2e-3) };
  const { nx, ny, nz } = countsOf(grid);
  const blocks = Array.from({ length: 6 }, () => {
    const range = (count: number) => [draw(-1, count), draw(0, count + 1)].sort((a, b) => a - b);
    return { x: range(nx), y: range(ny), z: range(nz), kxy: spread(0.03, 400), kz: spread(0.03, 400) };
  });
  const inside = (range: number[], at: number) => at >= range[0]! && at < range[1]!;
  const conductivity = conducting(grid, ({ i, j, k }) => {
    const block = blocks.findLast((b) => inside(b.x, i) && inside(b.y, j) && inside(b.z, k));
    return block ? [block.kxy, block.kxy, block.kz] : 0.1;
  });
  const films = Object.fromEntries(faceNames.map((face) => [face, spread(1, 100)])) as unknown as FaceFilms;
  const source_W = perCell(grid, () => (noise.uniform() < 0.2 ? noise.uniform() : 0));
  source_W[0] = 1;
  return { grid, conductivity, films, source_W };
}

/** Where a function changes sign between two points, to the last digits; for exact solutions to test against. */
export function bisect(f: (x: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  const sign = Math.sign(f(low));
  for (let step = 0; step < 200; step++) {
    const middle = 0.5 * (low + high);
    if (Math.sign(f(middle)) === sign) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}
