import type { FaceName } from '../solve/faces.js';
import type { DeviceModel } from './device-model.js';
import { centreOf } from './fill-cells.js';

/** The grid and its counts: all that the faces of a device need of its model. */
type GridOfCells = Pick<DeviceModel, 'grid' | 'nx' | 'ny' | 'nz'>;

/** Rise of a face's surface, cell by cell drawn on from the two cells behind it, weighted by area. */
export function meanSurfaceRise_K(model: GridOfCells, face: FaceName, rise_K: Float64Array): number {
  const { share, step } = drawOutFace(model, face);
  let sum = 0;
  let area = 0;
  eachFaceCell(model, face, (cell, _, cellArea) => {
    const near_K = rise_K[cell] as number;
    sum += cellArea * (near_K + share * ((rise_K[cell + step] as number) - near_K));
    area += cellArea;
  });
  return sum / area;
}

/** How a face is drawn on from the cell at it and the one behind, and how far behind that one lies in the arrays. */
export function drawOutFace(
  { grid, nx, nz }: GridOfCells,
  face: FaceName,
): { readonly share: number; readonly step: number } {
  const [edges, stride] =
    face === 'front' || face === 'back'
      ? ([grid.z_m, 1] as const)
      : face === 'west' || face === 'east'
        ? ([grid.x_m, nz] as const)
        : ([grid.y_m, nx * nz] as const);
  const count = edges.length - 1;
  if (count < 2) return { share: 0, step: 0 };
  const atStart = face === 'front' || face === 'west' || face === 'south';
  const [near, far] = atStart ? [0, 1] : [count - 1, count - 2];
  const edge = edges[atStart ? 0 : count] as number;
  return {
    share: (edge - centreOf(edges, near)) / (centreOf(edges, far) - centreOf(edges, near)),
    step: atStart ? stride : -stride,
  };
}

/** Cells at a face in the order of `FaceFilms`, with their areas. */
export function eachFaceCell(
  { grid, nx, ny, nz }: GridOfCells,
  face: FaceName,
  visit: (cell: number, index: number, area_m2: number) => void,
): void {
  const size = (edges: Float64Array, at: number) => (edges[at + 1] as number) - (edges[at] as number);
  if (face === 'front' || face === 'back') {
    const k = face === 'front' ? 0 : nz - 1;
    for (let j = 0; j < ny; j++)
      for (let i = 0; i < nx; i++)
        visit(k + nz * (i + nx * j), i + nx * j, size(grid.x_m, i) * size(grid.y_m, j));
  } else if (face === 'west' || face === 'east') {
    const i = face === 'west' ? 0 : nx - 1;
    for (let j = 0; j < ny; j++)
      for (let k = 0; k < nz; k++)
        visit(k + nz * (i + nx * j), k + nz * j, size(grid.z_m, k) * size(grid.y_m, j));
  } else {
    const j = face === 'south' ? 0 : ny - 1;
    for (let i = 0; i < nx; i++)
      for (let k = 0; k < nz; k++)
        visit(k + nz * (i + nx * j), k + nz * i, size(grid.z_m, k) * size(grid.x_m, i));
  }
}
