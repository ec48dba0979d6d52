import { metreFromMillimetre, millimetreFromMetre } from '../../measure/index.js';
import type { LaidParts } from '../device/part.js';
import type { HeatGrid } from '../solve/grid.js';

/** The cells that one plane runs through. Small enough to be sent from a worker to its page with every move of a hand. */
export interface FieldSlice {
  /** Where the plane lies: depth of a plan, distance across of a section, mm. */
  readonly at_mm: number;
  /** Edges of the cells, mm: along the device, and across it (plan) or from the front (section). */
  readonly x_mm: Float64Array;
  readonly y_mm: Float64Array;
  /** Above the room, cell by cell, x running fastest. */
  readonly rise_K: Float32Array;
}

/** Planes worth looking at from above, by name. */
export type PlaneName = 'pack' | 'shield' | 'board' | 'front-shell' | 'back-shell';

/** Within a part, not on its face: at a face two cells meet. */
const inside_mm = 1e-3;

/** Sheets that spread heat; films and tape follow what lies next to them. */
const spreads_W_per_mK = 20;

/** Depth of a named plane in a set-up, mm from the front; null where there is none, such as the shield of a bare pack. */
export function depthOfPlane(laid: LaidParts, name: PlaneName): number | null {
  switch (name) {
    case 'pack':
      return laid.depths.pack + inside_mm;
    case 'board':
      return laid.depths.boardBack - inside_mm;
    case 'front-shell':
      return inside_mm;
    case 'back-shell':
      return laid.thickness_mm - inside_mm;
    case 'shield': {
      const layers = laid.parts.filter(({ role }) => role === 'layer');
      const shield = layers.reduce<(typeof layers)[number] | null>(
        (best, part) =>
          part.kInPlane_W_per_mK >= spreads_W_per_mK && (best === null || carriedBy(part) > carriedBy(best))
            ? part
            : best,
        null,
      );
      return shield === null ? null : (shield.z[0] + shield.z[1]) / 2;
    }
  }
}

/** How much a sheet carries along itself: what makes it the shield. */
function carriedBy({ kInPlane_W_per_mK, z }: LaidParts['parts'][number]): number {
  return kInPlane_W_per_mK * (z[1] - z[0]);
}

export function slicePlan(grid: HeatGrid, rise_K: Float64Array, depth_mm: number): FieldSlice {
  const [nx, ny, nz] = [grid.x_m.length - 1, grid.y_m.length - 1, grid.z_m.length - 1];
  const k = cellHolding(grid.z_m, depth_mm);
  const slice = new Float32Array(nx * ny);
  for (let column = 0; column < nx * ny; column++) slice[column] = rise_K[k + nz * column] as number;
  return {
    at_mm: depth_mm,
    x_mm: grid.x_m.map(millimetreFromMetre),
    y_mm: grid.y_m.map(millimetreFromMetre),
    rise_K: slice,
  };
}

export function sliceSection(grid: HeatGrid, rise_K: Float64Array, across_mm: number): FieldSlice {
  const [nx, nz] = [grid.x_m.length - 1, grid.z_m.length - 1];
  const j = cellHolding(grid.y_m, across_mm);
  const slice = new Float32Array(nx * nz);
  for (let k = 0; k < nz; k++) {
    for (let i = 0; i < nx; i++) slice[i + nx * k] = rise_K[k + nz * (i + nx * j)] as number;
  }
  return {
    at_mm: across_mm,
    x_mm: grid.x_m.map(millimetreFromMetre),
    y_mm: grid.z_m.map(millimetreFromMetre),
    rise_K: slice,
  };
}

/** The cell a place lies in; on an edge, the one behind it; beyond the ends, the last one. */
export function cellHolding(edges_m: Float64Array, at_mm: number): number {
  const at = metreFromMillimetre(at_mm);
  let index = 0;
  while (index + 2 < edges_m.length && (edges_m[index + 1] as number) <= at) index++;
  return index;
}
