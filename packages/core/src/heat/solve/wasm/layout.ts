import type { Plan } from '../level.js';

/**
 * Where everything lies in the memory of the WebAssembly engine; packages/core/assembly/heat/level.ts says what the split and the
 * column layout are. All in bytes. Zero rows lie between split arrays, so that neighbours of edge rows read as nothing.
 */
export interface Layout {
  readonly bytes: number;
  /** What a solve is about, as it is to be written: see Work in packages/core/assembly/heat/level.ts. */
  readonly work: number;
  readonly workFields: readonly number[];
  /** The levels, one after the other, and their fields as they are to be written. */
  readonly levels: number;
  readonly fields: readonly (readonly number[])[];
  /** Vectors of the conjugate gradients, split doubles; while a network is taken in, its four arrays in plain columns. */
  readonly x: number;
  readonly r: number;
  readonly p: number;
  readonly q: number;
  /** Whole numbers and stretches of each step, to be written where its level says. */
  readonly steps: readonly StepAddresses[];
  /** Where each level finds how its rows are shared: to be written as well. */
  readonly bounds: readonly number[];
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

/** Memory before this is where threads meet; see packages/core/assembly/heat/threads.ts. It also keeps any pointer from being nothing. */
export const firstByte = 1024;

/** Size of a level's fields, in bytes; the last of those in use says whether it is not shared, and hangs on the network. */
export const levelBytes = 128;
export const aloneAt = 120;

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

/** Lays out the levels of a plan for a number of threads. */
export function layOut({ grids, steps, nz }: Plan, threads: number): Layout {
  const arena = new Arena(firstByte);
  const work = arena.take(64);
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
  const sums = arena.take(8 * (grids[0]?.ny ?? 0));

  const bounds = grids.map(() => arena.take(4 * (threads + 1)));
  const fields = grids.map(({ nx, ny }, at) => {
    const reds = (nx + 1) >> 1;
    const step = addresses[at];
    const shares = step ? 4 * ny * reds * zp : 0;
    const single = () => splitArray(at, 4);
    const columns = (rows: number) => arena.take(4 * nx * rows * zp);
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
      ...(at === 0 ? [0, 0, 0] : [columns(ny), columns(ny), columns(ny + 1)]),
      bounds[at]!,
    ];
  });
  return {
    bytes: arena.next + 64,
    work,
    workFields: [levels, grids.length, east, north, up, sink, x, r, p, q, sums],
    levels,
    fields,
    ...{ x, r, p, q },
    steps: addresses,
    bounds,
  };
}
