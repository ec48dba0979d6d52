import type { FaceName } from '../solve/faces.js';
import type { LaidModel } from './device-model.js';
import type { CellShapes, FaceCells } from './fill-network.kernel.js';
import { findOuterFaces, type OuterFace } from './outer-faces.js';

/** An outer face of a device on its grid. */
export interface FaceLayout extends FaceCells, OuterFace {
  /** Front and back: heat leaves through the sheet, not along it. */
  readonly isLevel: boolean;
}

/** All six, with the law that each follows. */
export function layFaces(
  { nx, nz, laid, surroundings }: LaidModel,
  { dx, dy, dz }: CellShapes,
): FaceLayout[] {
  const shell = laid.parts.find(({ role }) => role === 'shell');
  const plane = nx * nz;
  const [x, y, z] = [
    { sizes: dx, stride: nz },
    { sizes: dy, stride: plane },
    { sizes: dz, stride: 1 },
  ];
  const across: Readonly<Record<FaceName, readonly [depth: typeof x, a: typeof x, b: typeof x]>> = {
    front: [z, x, y],
    back: [z, x, y],
    west: [x, z, y],
    east: [x, z, y],
    south: [y, z, x],
    north: [y, z, x],
  };
  return findOuterFaces(laid, surroundings, shell?.emissivity ?? 0.9).map((outer): FaceLayout => {
    const [{ sizes, stride }, a, b] = across[outer.face];
    const count = sizes.length;
    const atStart = outer.face === 'front' || outer.face === 'west' || outer.face === 'south';
    const depth = sizes[atStart ? 0 : count - 1] as number;
    const behind = sizes[atStart ? 1 : count - 2] as number;
    return {
      ...outer,
      first: atStart ? 0 : (count - 1) * stride,
      strideA: a.stride,
      strideB: b.stride,
      sizesA: a.sizes,
      sizesB: b.sizes,
      depth,
      inward: count < 2 ? 0 : atStart ? stride : -stride,
      // The surface lies outside both cells.
      drawn: count < 2 ? 0 : -depth / (depth + behind),
      isLevel: outer.face === 'front' || outer.face === 'back',
    };
  });
}

/** Cells of a face with their areas, m². */
export function cellsOfFace({ first, strideA, strideB, sizesA, sizesB }: FaceCells): {
  readonly cells: Int32Array;
  readonly areas_m2: Float64Array;
} {
  const countA = sizesA.length;
  const cells = new Int32Array(countA * sizesB.length);
  const areas_m2 = new Float64Array(cells.length);
  for (let at = 0; at < cells.length; at++) {
    const [a, b] = [at % countA, Math.floor(at / countA)];
    cells[at] = first + a * strideA + b * strideB;
    areas_m2[at] = (sizesA[a] as number) * (sizesB[b] as number);
  }
  return { cells, areas_m2 };
}
