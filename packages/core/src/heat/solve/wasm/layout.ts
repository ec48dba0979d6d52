import type { Plan } from '../level.js';

/**
 * Where everything lies in the memory of the WebAssembly engine; packages/core/assembly/level.ts says what the split and the
 * column layout are. All in bytes. Zero rows lie between split arrays, so that neighbours of edge rows read as nothing.
 */
export interface Layout {
  readonly bytes: number;
  /** The levels, one after the other, and their fields as they are to be written. */
  readonly levels: number;
  readonly fields: readonly (readonly number[])[];
  /** Room for the largest coarse grid in column layout. */
  readonly columns: number;
  /** Conductances of the finest grid, split doubles. */
  readonly east: number;
  readonly north: number;
  readonly up: number;
  readonly sink: number;
  /** Vectors of the conjugate gradients, split doubles; while a network is taken in, its four arrays in plain columns. */
  readonly x: number;
  readonly r: number;
  readonly p: number;
  readonly q: number;
  /** Whole numbers and stretches of each step, to be written where its level says. */
  readonly steps: readonly StepAddresses[];
}

interface StepAddresses {
  readonly firstX: number;
  readonly firstY: number;
  readonly ownX: number;
  readonly ownY: number;
  readonly besideX: number;
  readonly besideY: number;
  readonly stretchX: number;
  readonly stretchY: number;
}

/** Size of a level's fields, in bytes and in numbers. */
export const levelBytes = 128;

/** Takes piece after piece, each on a boundary of sixteen bytes. */
class Arena {
  next: number;

  constructor(first: number) {
    this.next = first;
  }

  take(bytes: number): number {
    const at = this.next;
    this.next += Math.ceil(bytes / 16) * 16;
    return at;
  }
}

const up4 = (count: number) => Math.ceil(count / 4) * 4;

/** Lays out the levels of a plan. The first kilobyte stays free, so that no pointer is nothing. */
export function layOut({ grids, steps, nz }: Plan): Layout {
  const arena = new Arena(1024);
  const levels = arena.take(levelBytes * grids.length);
  const runs = grids.map(({ nx }) => up4((nx + 1) >> 1));
  const zp = up4(nz);

  const addresses = steps.map(({ x, y }) => ({
    firstX: arena.take(4 * x.first.length),
    firstY: arena.take(4 * y.first.length),
    ownX: arena.take(4 * x.own.length),
    ownY: arena.take(4 * y.own.length),
    besideX: arena.take(4 * x.own.length),
    besideY: arena.take(4 * y.own.length),
    stretchX: arena.take(8 * x.first.length),
    stretchY: arena.take(8 * y.first.length),
  }));

  /** A split array of numbers of some bytes, with a zero row before it and one after. */
  const splitArray = (at: number, size: number) => {
    const row = 2 * (nz * runs[at]! + 4) * size;
    const first = arena.take(row) + row;
    arena.take(row * grids[at]!.ny);
    arena.take(row);
    return first;
  };
  const finest = () => splitArray(0, 8);
  const [east, north, up, sink] = [finest(), finest(), finest(), finest()];
  const [x, r, p, q] = [finest(), finest(), finest(), finest()];

  const plain = (at: number) => {
    const grid = grids[at];
    const size = grid ? 8 * grid.nx * grid.ny * nz : 0;
    return [arena.take(size), arena.take(size), arena.take(size), arena.take(size)];
  };
  const odd = plain(1);
  const even = plain(2);
  const coarse = grids[1];
  const columns = arena.take(coarse ? 4 * coarse.nx * coarse.ny * zp : 0);

  const fields = grids.map(({ nx, ny }, at) => {
    const reds = (nx + 1) >> 1;
    const step = addresses[at];
    const shares = step ? 4 * ny * reds * zp : 0;
    const single = () => splitArray(at, 4);
    return [
      ...[nx, ny, nz, runs[at]!, zp, reds],
      ...[single(), single(), single(), single(), single(), single()],
      ...[arena.take(shares), arena.take(shares)],
      ...(step
        ? [
            step.firstX,
            step.firstY,
            step.ownX,
            step.ownY,
            step.besideX,
            step.besideY,
            step.stretchX,
            step.stretchY,
          ]
        : [0, 0, 0, 0, 0, 0, 0, 0]),
      ...(at === 0 ? [x, r, p, q] : at % 2 === 1 ? odd : even),
    ];
  });
  return {
    bytes: arena.next + 64,
    levels,
    fields,
    columns,
    ...{ east, north, up, sink, x, r, p, q },
    steps: addresses,
  };
}
