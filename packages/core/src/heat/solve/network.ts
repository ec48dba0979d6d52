import { BadInputError } from '../../measure/index.js';
import { fillEast, fillNorth, fillUp, findSeams, measureRange } from './assemble.kernel.js';
import { addSinks, type FaceFilms, faceNames } from './faces.js';
import { type CellConductivity, type HeatGrid, measureCells } from './grid.js';

/** Contact resistance, m2K/W, of the face between a cell and the next one east, north or up; the index is the cell's. */
export interface ContactResistance {
  readonly east?: Float64Array;
  readonly north?: Float64Array;
  readonly up?: Float64Array;
}

/** What the solver would like to know of the lines of cells; it decides which of them merge on coarser grids. */
export interface GridLines {
  readonly dx_m: Float64Array;
  /** Sizes in y, stretched so that heat spreads alike in both directions. */
  readonly dy_m: Float64Array;
  /** 1 where the material changes somewhere between line i and i + 1, by more than a factor of two. */
  readonly seamsX: Uint8Array;
  readonly seamsY: Uint8Array;
}

/**
 * Conductances between the cells of a tensor grid and to ambient. The unknown is the rise over ambient: in each cell,
 * sink * rise + sum over neighbours of conductance * (rise - rise of neighbour) = heat released.
 * Solvers read these arrays again while they solve: change a network by making another, or prepare again.
 */
export interface HeatNetwork {
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  /** To the cell i + 1; 0 in the last of a row. */
  readonly east_W_per_K: Float64Array;
  /** To the cell j + 1; 0 in the last. */
  readonly north_W_per_K: Float64Array;
  /** To the cell k + 1; 0 in the last. */
  readonly up_W_per_K: Float64Array;
  /** To ambient, through outer faces. */
  readonly sink_W_per_K: Float64Array;
  readonly capacity_J_per_K?: Float64Array;
  readonly lines?: GridLines;
}

interface NetworkOptions {
  readonly contact?: ContactResistance;
  /** Heat capacity by volume of each cell, J/m3K; needed for transients. */
  readonly capacity_J_per_m3K?: Float64Array;
  /** A network that is no longer needed: its arrays are written over where the counts of cells are the same. */
  readonly into?: HeatNetwork;
}

/**
 * Conductances of a grid of boxes: cell-centred finite volumes, two-point fluxes.
 *
 * Materials are constant within a cell, and their axes are those of the grid: an oblique or curved boundary becomes a
 * staircase. Under a small source the grid error dwarfs every other; compare set-ups on one grid, and state the error
 * from two.
 *
 * @param grid edges, m, ascending
 * @param conductivity W/mK, above 0, one per cell
 * @param films W/m2K, 0 to Infinity, on the six outer faces
 * @throws OutOfRangeError where there would be too many cells
 * @throws BadInputError for edges that do not ascend, conductivities that are not positive, negative films, resistances
 *   or capacities, and arrays of the wrong length
 * @source [PATANKAR-80] section 4.2-3: the conductance of a face from the resistances of the two half cells in series
 */
export function assembleNetwork(
  grid: HeatGrid,
  conductivity: CellConductivity,
  films: FaceFilms,
  options: NetworkOptions = {},
): HeatNetwork {
  const { dx_m, dy_m, dz_m } = measureCells(grid);
  const [nx, ny, nz] = [dx_m.length, dy_m.length, dz_m.length];
  const n = nx * ny * nz;
  const { kx, ky, kz } = conductivity;
  const { contact = {}, capacity_J_per_m3K } = options;
  const sumX = checkCells('conductivity.kx', kx, n, 'positive');
  const sumY = checkCells('conductivity.ky', ky, n, 'positive');
  checkCells('conductivity.kz', kz, n, 'positive');
  for (const [name, values] of Object.entries(contact)) {
    if (values) checkCells(`contact.${name}`, values, n, 'not negative');
  }

  const { into } = options;
  const reused = into?.nx === nx && into.ny === ny && into.nz === nz ? into : undefined;
  const east = reused?.east_W_per_K ?? new Float64Array(n);
  const north = reused?.north_W_per_K ?? new Float64Array(n);
  const up = reused?.up_W_per_K ?? new Float64Array(n);
  const sink = reused?.sink_W_per_K.fill(0) ?? new Float64Array(n);
  fillEast(kx, dx_m, dy_m, dz_m, contact.east, east);
  fillNorth(ky, dx_m, dy_m, dz_m, contact.north, north);
  fillUp(kz, dx_m, dy_m, dz_m, contact.up, up);
  for (const face of faceNames) addSinks(face, dx_m, dy_m, dz_m, conductivity, films[face], sink);

  const spread = Math.sqrt(sumX / sumY);
  return {
    nx,
    ny,
    nz,
    east_W_per_K: east,
    north_W_per_K: north,
    up_W_per_K: up,
    sink_W_per_K: sink,
    ...(capacity_J_per_m3K && {
      capacity_J_per_K: capacitiesOf(grid, capacity_J_per_m3K),
    }),
    lines: {
      dx_m,
      dy_m: dy_m.map((size) => size * spread),
      seamsX: findSeams(kx, nx, ny, nz, true),
      seamsY: findSeams(ky, nx, ny, nz, false),
    },
  };
}

/** Heat capacity of each cell, J/K, from that by volume. @throws BadInputError where one is not positive */
export function capacitiesOf(grid: HeatGrid, capacity_J_per_m3K: Float64Array): Float64Array {
  const { dx_m, dy_m, dz_m } = measureCells(grid);
  const [nx, nz] = [dx_m.length, dz_m.length];
  checkCells('capacity_J_per_m3K', capacity_J_per_m3K, nx * dy_m.length * nz, 'positive');
  return capacity_J_per_m3K.map((capacity, c) => {
    const column = Math.floor(c / nz);
    return capacity * dz_m[c % nz]! * dx_m[column % nx]! * dy_m[Math.floor(column / nx)]!;
  });
}

function checkCells(
  where: string,
  values: Float64Array,
  n: number,
  rule: 'positive' | 'not negative',
): number {
  if (values.length !== n) {
    throw new BadInputError([
      { where, what: `has ${values.length} values for ${n} cells.`, remedy: 'Give one per cell.' },
    ]);
  }
  const { sum, least } = measureRange(values);
  if (Number.isFinite(sum) && (rule === 'positive' ? least > 0 : least >= 0)) return sum;
  const at = values.findIndex((v) => !(rule === 'positive' ? v > 0 && v < Infinity : v >= 0 && v < Infinity));
  throw new BadInputError([
    { where: `${where}[${at}]`, what: `is ${values[at]}.`, remedy: `It must be finite and ${rule}.` },
  ]);
}
