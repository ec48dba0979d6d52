import type { HeatGrid } from '../solve/grid.js';
import type { LaidParts } from './part.js';

/**
 * Every stretch of air between two solid faces, column by column: the gaps whose conductance hangs on thickness, faces and temperature.
 * One entry per stretch; `first` and `last` are cells, `front` and `back` the solid cells that face it.
 */
export interface Gaps {
  readonly count: number;
  readonly first: Int32Array;
  readonly last: Int32Array;
  readonly thickness_m: Float64Array;
  /** 1 / (1/e + 1/e - 1) of the two faces. */
  readonly emissivity: Float64Array;
  /** The part most of the stretch belongs to, which says what scales it. */
  readonly part: Uint16Array;
}

export function findGaps(grid: HeatGrid, { parts }: LaidParts, partOf: Uint16Array): Gaps {
  const nz = grid.z_m.length - 1;
  const isAir = parts.map(({ role }) => role === 'air');
  const first: number[] = [];
  const last: number[] = [];
  const thickness_m: number[] = [];
  const emissivity: number[] = [];
  const part: number[] = [];
  for (let column = 0; column < partOf.length; column += nz) {
    for (let k = 0; k < nz; k++) {
      if (!isAir[partOf[column + k] as number]) continue;
      let end = k;
      while (end + 1 < nz && isAir[partOf[column + end + 1] as number]) end++;
      first.push(column + k);
      last.push(column + end);
      thickness_m.push((grid.z_m[end + 1] as number) - (grid.z_m[k] as number));
      const faces = [k - 1, end + 1].map((face) =>
        face < 0 || face >= nz ? 1 : (parts[partOf[column + face] as number]?.emissivity ?? 1),
      );
      emissivity.push(1 / faces.reduce((sum, each) => sum + 1 / each, -1));
      part.push(thickestPart(grid, partOf, column, k, end));
      k = end;
    }
  }
  return {
    count: first.length,
    first: Int32Array.from(first),
    last: Int32Array.from(last),
    thickness_m: Float64Array.from(thickness_m),
    emissivity: Float64Array.from(emissivity),
    part: Uint16Array.from(part),
  };
}

function thickestPart(grid: HeatGrid, partOf: Uint16Array, column: number, from: number, to: number): number {
  const depths = new Map<number, number>();
  for (let k = from; k <= to; k++) {
    const part = partOf[column + k] as number;
    depths.set(part, (depths.get(part) ?? 0) + (grid.z_m[k + 1] as number) - (grid.z_m[k] as number));
  }
  return [...depths].reduce((most, each) => (each[1] > most[1] ? each : most))[0];
}
