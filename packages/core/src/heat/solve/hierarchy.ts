import { haveSameShape, lettersOf, type Network, type Plan, planLevels } from './level.js';
import { coarsenNetwork, copyAcross, factorColumns, weighX, weighY } from './level.kernel.js';
import type { HeatNetwork } from './network.js';

/** One grid of the hierarchy in single precision; letters as in cycle.kernel.ts. */
export interface Level {
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  /** Cells of padding before the first and after the last. */
  readonly o: number;
  readonly gE: Float32Array;
  readonly gN: Float32Array;
  readonly inv: Float32Array;
  readonly l: Float32Array;
  readonly wx: Float32Array;
  readonly wy: Float32Array;
  readonly f: Float32Array;
  readonly x: Float32Array;
}

export interface Hierarchy {
  plan: Plan;
  levels: readonly Level[];
  /** Two networks in turn hold the coarse grids while they are made. */
  spare: readonly [Network, Network];
}

/** Allocates a hierarchy, or takes the buffers of an earlier one where they fit, and fills it from the network. */
export function prepareHierarchy(network: HeatNetwork, scale: number, earlier?: Hierarchy): Hierarchy {
  const plan = planLevels(network);
  const hierarchy =
    earlier && haveSameShape(earlier.plan, plan)
      ? earlier
      : {
          plan,
          levels: plan.grids.map((grid, at) => makeLevel(plan, at, grid.nx, grid.ny)),
          spare: makeSpare(plan),
        };
  hierarchy.plan = plan;
  fillLevels(hierarchy, lettersOf(network), scale);
  return hierarchy;
}

function makeLevel({ nz, steps }: Plan, at: number, nx: number, ny: number): Level {
  const o = nx * nz;
  const padded = () => new Float32Array(nx * ny * nz + 2 * o);
  const reds = at < steps.length ? ((nx * ny + 1) >> 1) * nz : 0;
  return {
    nx,
    ny,
    nz,
    o,
    gE: padded(),
    gN: padded(),
    inv: padded(),
    l: padded(),
    wx: new Float32Array(reds),
    wy: new Float32Array(reds),
    f: padded(),
    x: padded(),
  };
}

function makeSpare({ grids, nz }: Plan): readonly [Network, Network] {
  const networkFor = (at: number) => {
    const grid = grids[at];
    const n = grid ? grid.nx * grid.ny * nz : 0;
    return {
      E: new Float64Array(n),
      N: new Float64Array(n),
      U: new Float64Array(n),
      s: new Float64Array(n),
    };
  };
  return [networkFor(2), networkFor(1)];
}

function fillLevels({ plan, levels, spare }: Hierarchy, finest: Network, scale: number): void {
  let network = finest;
  for (const [at, level] of levels.entries()) {
    const { nx, ny, nz, o } = level;
    factorColumns(network, nx, ny, nz, o, scale, level.inv, level.l);
    const step = plan.steps[at];
    if (!step) return;
    copyAcross(network, nx * ny * nz, o, scale, level.gE, level.gN);
    weighX(network, nx, ny, nz, step.x.own, step.besideX, step.x.first, level.wx);
    weighY(network, nx, ny, nz, step.y.own, step.besideY, step.y.first, level.wy);
    const coarse = spare[(at + 1) % 2 === 1 ? 1 : 0];
    coarsenNetwork(network, nx, nz, step.x.first, step.y.first, step.stretchX, step.stretchY, coarse);
    network = coarse;
  }
}
