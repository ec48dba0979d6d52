import { BadInputError } from '../../measure/index.js';
import { fitFilms } from './assemble.kernel.js';
import { type CellConductivity, type HeatGrid, measureCells } from './grid.js';

/** The outer faces: west and east end x, south and north end y, front (z = 0) and back end z. */
export const faceNames = ['west', 'east', 'south', 'north', 'front', 'back'] as const;
export type FaceName = (typeof faceNames)[number];

/**
 * Film coefficient on each outer face, W/m2K: one number, or one for each cell of the face. 0 is adiabatic, Infinity a
 * wall held at ambient. Order of the cells: k + nz j on west and east, k + nz i on south and north, i + nx j on front
 * and back.
 */
export type FaceFilms = { readonly [face in FaceName]: number | Float64Array };

/**
 * Conductance from the centre of each cell at one outer face to ambient, W/K; order of the cells as in `FaceFilms`.
 * Heat lost through the face is this times the rise of the cell; the face itself is at that heat over film times area.
 *
 * @throws BadInputError for a film that is negative or not a number
 */
export function faceSinks_W_per_K(
  grid: HeatGrid,
  conductivity: CellConductivity,
  face: FaceName,
  film_W_per_m2K: number | Float64Array,
): Float64Array {
  const { dx_m, dy_m, dz_m } = measureCells(grid);
  return sinksOf(face, dx_m, dy_m, dz_m, conductivity, film_W_per_m2K).conductance;
}

/** Along a face cells are (a, b) with index a + counts b; `first` and the strides lead to their index in the grid. */
function faceShape(face: FaceName, nx: number, ny: number, nz: number) {
  const plane = nx * nz;
  switch (face) {
    case 'west':
      return { first: 0, strideA: 1, strideB: plane };
    case 'east':
      return { first: (nx - 1) * nz, strideA: 1, strideB: plane };
    case 'south':
      return { first: 0, strideA: 1, strideB: nz };
    case 'north':
      return { first: (ny - 1) * plane, strideA: 1, strideB: nz };
    case 'front':
      return { first: 0, strideA: nz, strideB: plane };
    case 'back':
      return { first: nz - 1, strideA: nz, strideB: plane };
  }
}

function sinksOf(
  face: FaceName,
  dx_m: Float64Array,
  dy_m: Float64Array,
  dz_m: Float64Array,
  conductivity: CellConductivity,
  film: number | Float64Array,
) {
  const shape = faceShape(face, dx_m.length, dy_m.length, dz_m.length);
  const [k, depths, sizesA, sizesB] =
    face === 'west' || face === 'east'
      ? [conductivity.kx, dx_m, dz_m, dy_m]
      : face === 'south' || face === 'north'
        ? [conductivity.ky, dy_m, dz_m, dx_m]
        : [conductivity.kz, dz_m, dx_m, dy_m];
  const atStart = face === 'west' || face === 'south' || face === 'front';
  const depth = depths[atStart ? 0 : depths.length - 1]!;
  const count = sizesA.length * sizesB.length;
  const given = typeof film === 'number' ? new Float64Array(count).fill(film) : film;
  if (given.length !== count) {
    throw new BadInputError([
      {
        where: `films.${face}`,
        what: `has ${given.length} values for ${count} cells.`,
        remedy: 'Give one number, or one for each cell of the face.',
      },
    ]);
  }
  const wrong = given.findIndex((h) => !(h >= 0));
  if (wrong >= 0) {
    throw new BadInputError([
      {
        where: `films.${face}`,
        what: `is ${given[wrong]} W/m2K.`,
        remedy: 'A film is 0 (adiabatic) or more.',
      },
    ]);
  }
  const conductance = new Float64Array(count);
  fitFilms(k, shape.first, shape.strideA, shape.strideB, depth, sizesA, sizesB, given, conductance);
  return { conductance, shape, countA: sizesA.length };
}

/** Adds the conductances of one face to the sinks of its cells. */
export function addSinks(
  face: FaceName,
  dx_m: Float64Array,
  dy_m: Float64Array,
  dz_m: Float64Array,
  conductivity: CellConductivity,
  film: number | Float64Array,
  sink: Float64Array,
): void {
  const { conductance, shape, countA } = sinksOf(face, dx_m, dy_m, dz_m, conductivity, film);
  for (let f = 0; f < conductance.length; f++) {
    const c = shape.first + (f % countA) * shape.strideA + Math.floor(f / countA) * shape.strideB;
    sink[c] = sink[c]! + conductance[f]!;
  }
}
