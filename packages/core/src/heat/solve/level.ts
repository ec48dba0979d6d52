import type { HeatNetwork } from './network.js';
import { type Axis, besideOf, coarsenAxis, type LinePairing, pairLines, stretchOf } from './pair-lines.js';

/** Conductances of one grid, in double precision: east, north, up and to ambient, W/K. Letters as in the kernels. */
export interface Network {
  readonly E: Float64Array;
  readonly N: Float64Array;
  readonly U: Float64Array;
  readonly s: Float64Array;
}

/** The conductances of a network by their letters; its own arrays, not copies. */
export function lettersOf(network: HeatNetwork): Network {
  return {
    E: network.east_W_per_K,
    N: network.north_W_per_K,
    U: network.up_W_per_K,
    s: network.sink_W_per_K,
  };
}

/** How one grid goes over into the next coarser one. */
export interface Step {
  readonly x: LinePairing;
  readonly y: LinePairing;
  /** Coarse line beside each fine line, for the correction. */
  readonly besideX: Int32Array;
  readonly besideY: Int32Array;
  /** Stretch of the gap before each coarse line. */
  readonly stretchX: Float64Array;
  readonly stretchY: Float64Array;
}

/** The grids of a hierarchy, finest first, the last a single column; `steps[l]` leads from grid l to l + 1. */
export interface Plan {
  readonly nz: number;
  readonly grids: readonly { readonly nx: number; readonly ny: number }[];
  readonly steps: readonly Step[];
}

/** Grids are merged in x and y only, never in z, until one column is left: its line solve is exact. */
export function planLevels(network: HeatNetwork): Plan {
  const { nx, ny, nz, lines } = network;
  let x: Axis = lines
    ? { sizes: lines.dx_m, seams: lines.seamsX }
    : { sizes: new Float64Array(nx).fill(1), seams: new Uint8Array(nx) };
  let y: Axis = lines
    ? { sizes: lines.dy_m, seams: lines.seamsY }
    : { sizes: new Float64Array(ny).fill(1), seams: new Uint8Array(ny) };
  const grids = [{ nx, ny }];
  const steps: Step[] = [];
  while (x.sizes.length * y.sizes.length > 1) {
    const pairing = pairLines(x, y);
    const coarseX = coarsenAxis(x, pairing.x);
    const coarseY = coarsenAxis(y, pairing.y);
    steps.push({
      ...pairing,
      besideX: besideOf(pairing.x),
      besideY: besideOf(pairing.y),
      stretchX: stretchOf(x, coarseX, pairing.x),
      stretchY: stretchOf(y, coarseY, pairing.y),
    });
    x = coarseX;
    y = coarseY;
    grids.push({ nx: x.sizes.length, ny: y.sizes.length });
  }
  return { nz, grids, steps };
}

/** Whether two plans need the same buffers, so that those of one can serve the other. */
export function haveSameShape(a: Plan, b: Plan): boolean {
  return (
    a.nz === b.nz &&
    a.grids.length === b.grids.length &&
    a.grids.every(({ nx, ny }, l) => nx === b.grids[l]!.nx && ny === b.grids[l]!.ny)
  );
}

/** Power of two that brings a network's greatest conductance near 1, where single precision has the most room. */
export function scaleFor(greatest_W_per_K: number): number {
  return 2 ** -Math.round(Math.log2(greatest_W_per_K));
}
