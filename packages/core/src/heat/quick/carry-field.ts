import type { LaidModel } from '../device/device-model.js';
import { centreOf } from '../device/fill-cells.js';

/** What carrying needs of a model: its grid, and where its parts lie. */
type Cells = Pick<LaidModel, 'grid' | 'nx' | 'ny' | 'nz'> & {
  readonly laid: Pick<LaidModel['laid'], 'depths' | 'thickness_mm'>;
};

/**
 * A field of one set-up as a first guess for another: each cell takes the nearest one in plan, and at the same share of the way through the
 * same part of the device. Where the cells are as many each way it is the field itself.
 */
export function carryField(from: Cells, rise_K: Float64Array, to: Cells): Float64Array {
  const isSame = from.nx === to.nx && from.ny === to.ny && from.nz === to.nz;
  if (isSame) return rise_K;
  const x = nearest(from.grid.x_m, to.grid.x_m);
  const y = nearest(from.grid.y_m, to.grid.y_m);
  const z = nearest(from.grid.z_m, to.grid.z_m, (depth_mm) => mapDepth(depth_mm, to, from));
  const carried = new Float64Array(to.nx * to.ny * to.nz);
  for (let j = 0; j < to.ny; j++)
    for (let i = 0; i < to.nx; i++) {
      const column = from.nz * ((x[i] as number) + from.nx * (y[j] as number));
      const cell = to.nz * (i + to.nx * j);
      for (let k = 0; k < to.nz; k++) carried[cell + k] = rise_K[column + (z[k] as number)] as number;
    }
  return carried;
}

/** For each cell of a new axis the cell of the old one whose centre lies nearest. */
function nearest(old_m: Float64Array, new_m: Float64Array, map = (at_mm: number) => at_mm): Int32Array {
  const count = old_m.length - 1;
  return Int32Array.from({ length: new_m.length - 1 }, (_, index) => {
    const at = map(centreOf(new_m, index) * 1e3) * 1e-3;
    let best = 0;
    while (
      best + 1 < count &&
      Math.abs(centreOf(old_m, best + 1) - at) <= Math.abs(centreOf(old_m, best) - at)
    )
      best++;
    return best;
  });
}

/** A depth of one set-up in another: from landmark to landmark, so that the pack stays the pack. */
function mapDepth(depth_mm: number, from: Cells, to: Cells): number {
  const [here, there] = [landmarksOf(from), landmarksOf(to)];
  let at = 0;
  while (at + 2 < here.length && depth_mm > (here[at + 1] as number)) at++;
  const [low, high] = [here[at] as number, here[at + 1] as number];
  const share = high > low ? (depth_mm - low) / (high - low) : 0.5;
  return (there[at] as number) + share * ((there[at + 1] as number) - (there[at] as number));
}

function landmarksOf({ laid: { depths, thickness_mm } }: Cells): number[] {
  return [
    0,
    depths.board,
    depths.boardBack,
    depths.layers,
    depths.pack,
    depths.packBack,
    depths.backShell,
    thickness_mm,
  ];
}
