import type { Plan } from '../level.js';

/** How the rows of each grid are shared among threads. */
export interface Shares {
  /** For each grid the first row of each thread's share, and at the end the count of rows. */
  readonly bounds: readonly Int32Array[];
  /** Grids that are shared, from the finest on; the first thread does the others by itself. */
  readonly shared: number;
}

/**
 * Rows of a share on the next coarser grid, at least: what comes to the first and last two of them waits for the neighbour,
 * and those must be others at both ends.
 */
const fewestRows = 4;
/** What the meetings of one shared grid cost, in columns that could be solved meanwhile. @assumed Six, of up to a microsecond, at a fifth of one for a column. */
const meetings = 30;

/**
 * Shares rows among threads. A share ends where a row of the coarsest shared grid ends, so that on every grid it is the same
 * part of the device; the more grids are shared, the fewer places there are for that. Chosen is what takes the least time.
 */
export function shareRows(plan: Plan, threads: number): Shares {
  const rows = plan.grids.map(({ ny }) => ny);
  let best = withBounds(plan, threads, 0, []);
  let least = timeOf(plan, best);
  for (let shared = threads === 1 ? rows.length : 1; shared < rows.length; shared++) {
    const cuts = cutRows(plan, threads, shared);
    if (cuts === null) break;
    const shares = withBounds(plan, threads, shared, cuts);
    const time = timeOf(plan, shares);
    if (time < least) [best, least] = [shares, time];
  }
  return best;
}

/** Rows of grid `shared` where a share begins, as near as can be to equal parts of the finest; null where they are too few. */
function cutRows(plan: Plan, threads: number, shared: number): number[] | null {
  const count = plan.grids[shared]?.ny ?? 0;
  if (count < threads * fewestRows) return null;
  const finest = plan.grids[0]?.ny ?? 0;
  const starts = Array.from({ length: count + 1 }, (_, row) => finestRow(plan, shared, row));
  const cuts: number[] = [];
  for (let thread = 1; thread < threads; thread++) {
    const wanted = (finest * thread) / threads;
    let cut = (cuts.at(-1) ?? 0) + fewestRows;
    const last = count - fewestRows * (threads - thread);
    while (cut < last && distance(starts[cut + 1], wanted) < distance(starts[cut], wanted)) cut++;
    cuts.push(cut);
  }
  return cuts;
}

function distance(row: number | undefined, wanted: number): number {
  return Math.abs((row ?? Number.NaN) - wanted);
}

function finestRow(plan: Plan, grid: number, row: number): number {
  let fine = row;
  for (let at = grid - 1; at >= 0; at--) fine = plan.steps[at]?.y.first[fine] ?? Number.NaN;
  return fine;
}

function withBounds(plan: Plan, threads: number, shared: number, cuts: readonly number[]): Shares {
  const bounds: Int32Array[] = [];
  let starts = cuts;
  for (let at = plan.grids.length - 1; at >= 0; at--) {
    const ny = plan.grids[at]?.ny ?? 0;
    if (at > shared || shared === 0)
      bounds[at] = Int32Array.from({ length: threads + 1 }, (_, t) => (t ? ny : 0));
    else {
      if (at < shared) starts = starts.map((row) => plan.steps[at]?.y.first[row] ?? Number.NaN);
      bounds[at] = Int32Array.from([0, ...starts, ny]);
    }
  }
  return { bounds, shared };
}

/** In columns: the longest share of the grids that are shared, with their meetings, and all of the others. */
function timeOf({ grids }: Plan, { bounds, shared }: Shares): number {
  return grids.reduce((sum, { nx, ny }, at) => {
    const own = bounds[at] ?? new Int32Array(0);
    if (at >= shared) return sum + nx * ny;
    return sum + meetings + nx * Math.max(...own.subarray(1).map((end, t) => end - (own[t] ?? 0)));
  }, 0);
}
