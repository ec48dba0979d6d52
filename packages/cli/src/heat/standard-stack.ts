import { assembleNetwork, type HeatGrid, type HeatNetwork } from '@soakbench/core/heat';
import { metreFromMillimetre } from '@soakbench/core/measure';

type Box = readonly [x0: number, x1: number, y0: number, y1: number, z0: number, z1: number];

/** A stack to time solvers with, as bench/heat/problem.mjs has it: a board with four chips, plate, tape and pack between shells, mm. */
const lines = {
  x: [0, 15, 25, 30, 50, 62, 80, 92, 110, 122, 140, 152, 165, 190, 195, 220],
  y: [0, 10, 25, 30, 35, 40, 45, 50, 60, 70, 80, 85, 100, 110],
  z: [0, 1.5, 2, 3.2, 4.2, 5, 5.5, 5.6, 11.6, 12.5, 14],
  layers: [2, 2, 3, 2, 2, 2, 1, 5, 2, 2],
};

const chips: readonly { readonly box: Box; readonly load_W: number }[] = [
  { box: [50, 62, 40, 50, 3.2, 4.2], load_W: 2 },
  { box: [80, 92, 60, 70, 3.2, 4.2], load_W: 1.5 },
  { box: [110, 122, 35, 45, 3.2, 4.2], load_W: 1 },
  { box: [140, 152, 70, 80, 3.2, 4.2], load_W: 0.5 },
];

/** Boxes with conductivity along and through, W/mK; later ones lie over earlier ones. */
const materials: readonly (readonly [Box, number, number])[] = [
  [[0, 220, 0, 110, 0, 14], 0.03, 0.03],
  [[0, 220, 0, 110, 0, 1.5], 0.2, 0.2],
  [[0, 220, 0, 110, 12.5, 14], 0.2, 0.2],
  [[15, 165, 10, 100, 2, 3.2], 18, 0.35],
  ...chips.map(({ box }) => [box, 80, 80] as const),
  [[25, 195, 25, 85, 5, 5.5], 205, 205],
  [[25, 195, 25, 85, 5.5, 5.6], 0.2, 0.2],
  [[30, 190, 30, 80, 5.6, 11.6], 25, 0.9],
];

/** A film on every outer face, W/m2K. */
const film = 10;

export interface StandardStack {
  readonly network: HeatNetwork;
  readonly source_W: Float64Array;
  /** Mean of the first chip's cells, each with its share. */
  readonly chip: { readonly cells: readonly number[]; readonly shares: readonly number[] };
}

/** @param cell_mm wished size of a cell in plan: 3.5 gives the 60 thousand cells that are published */
export function makeStandardStack(cell_mm: number): StandardStack {
  const grid: HeatGrid = {
    x_m: divide(lines.x, (from, to) => Math.ceil((to - from) / cell_mm)),
    y_m: divide(lines.y, (from, to) => Math.ceil((to - from) / cell_mm)),
    z_m: divide(lines.z, (_, __, at) => lines.layers[at] as number),
  };
  const [nx, ny, nz] = [grid.x_m.length - 1, grid.y_m.length - 1, grid.z_m.length - 1];
  const along = new Float64Array(nx * ny * nz);
  const through = new Float64Array(nx * ny * nz);
  for (const [box, inPlane, across] of materials)
    eachCell(grid, box, (cell) => {
      along[cell] = inPlane;
      through[cell] = across;
    });
  const source_W = new Float64Array(nx * ny * nz);
  let chip: StandardStack['chip'] = { cells: [], shares: [] };
  for (const [at, { box, load_W }] of chips.entries()) {
    const cells: number[] = [];
    const volumes: number[] = [];
    eachCell(grid, box, (cell, volume) => {
      cells.push(cell);
      volumes.push(volume);
    });
    const whole = volumes.reduce((sum, volume) => sum + volume, 0);
    const shares = volumes.map((volume) => volume / whole);
    cells.forEach((cell, place) => {
      source_W[cell] = load_W * (shares[place] as number);
    });
    if (at === 0) chip = { cells, shares };
  }
  const films = { west: film, east: film, south: film, north: film, front: film, back: film };
  return { network: assembleNetwork(grid, { kx: along, ky: along, kz: through }, films), source_W, chip };
}

function divide(
  edges_mm: readonly number[],
  count: (from: number, to: number, at: number) => number,
): Float64Array {
  const edges = edges_mm.slice(1).flatMap((to, at) => {
    const from = edges_mm[at] as number;
    const cells = count(from, to, at);
    return Array.from({ length: cells }, (_, cell) => from + ((to - from) * (cell + 1)) / cells);
  });
  return Float64Array.from([edges_mm[0] as number, ...edges], metreFromMillimetre);
}

function eachCell(grid: HeatGrid, box: Box, visit: (cell: number, volume_m3: number) => void): void {
  const [nx, nz] = [grid.x_m.length - 1, grid.z_m.length - 1];
  const inside = (edges: Float64Array, from_mm: number, to_mm: number) => {
    const cells: { readonly at: number; readonly size_m: number }[] = [];
    for (let at = 0; at + 1 < edges.length; at++) {
      const [from, to] = [edges[at] as number, edges[at + 1] as number];
      const middle_mm = 500 * (from + to);
      if (middle_mm > from_mm && middle_mm < to_mm) cells.push({ at, size_m: to - from });
    }
    return cells;
  };
  const [x0, x1, y0, y1, z0, z1] = box;
  for (const y of inside(grid.y_m, y0, y1))
    for (const x of inside(grid.x_m, x0, x1))
      for (const z of inside(grid.z_m, z0, z1))
        visit(z.at + nz * (x.at + nx * y.at), x.size_m * y.size_m * z.size_m);
}
