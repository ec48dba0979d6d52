import { availableParallelism } from 'node:os';
import { type HeatSolver, prepareSolver } from '@soakbench/core/heat';
import { startSolverThreads } from '@soakbench/server/solver-threads';
import type { StandardStack } from './standard-stack.js';

export const tolerance = 1e-8;

export interface Timing {
  readonly cells: number;
  readonly engine: HeatSolver['engine'];
  readonly threads: number;
  /** A new solver and its first solve: engine compiled, in the first size, and memory made. */
  readonly first_s: number;
  /** Medians of later turns of the same solver. */
  readonly setup_s: number;
  readonly solve_s: number;
  readonly iterations: number;
  /** Mean of a chip. */
  readonly chip_K: number;
  /** Greatest difference from the first field in the list; null for that one. */
  readonly differ_K: number | null;
}

interface Runner {
  readonly threads: number;
  readonly solver: HeatSolver;
  readonly first_s: number;
  readonly setups_s: number[];
  readonly solves_s: number[];
  rise_K: Float64Array;
  iterations: number;
}

/** How long a helper is given to start. */
const start_ms = 300;

/** Times one stack by every engine that this machine runs, in turns, so that what else it does meets all of them. */
export async function timeSolvers(
  { network, source_W, chip }: StandardStack,
  turns: number,
): Promise<Timing[]> {
  const solve = (solver: HeatSolver) => {
    const solved = solver.solve(source_W, { tolerance });
    if (!solved.ok) throw new Error(`The standard stack was not solved: ${solved.reason.kind}.`);
    return solved.value;
  };
  const begin = (engine: HeatSolver['engine'], threads: number): Runner => {
    const from = performance.now();
    const solver = prepareSolver(network, { engine });
    const { rise_K, iterations } = solve(solver);
    const first_s = (performance.now() - from) / 1e3;
    return { threads, solver, first_s, setups_s: [], solves_s: [], rise_K, iterations };
  };

  const runners: Runner[] = [];
  let end: (() => Promise<void>) | undefined;
  try {
    runners.push(begin('wasm', 1));
    if (availableParallelism() > 1) {
      end = startSolverThreads(1);
      const helped = begin('wasm', 2);
      // Grids that are too small to be shared are solved by one.
      if (helped.solver.threads > 1) runners.push(helped);
      await new Promise((resolve) => setTimeout(resolve, start_ms));
    }
  } catch {
    // No WebAssembly with SIMD here: the readable engine is left.
  }
  runners.push(begin('typescript', 1));

  for (let turn = 0; turn < turns; turn++) {
    for (const runner of runners) {
      const from = performance.now();
      runner.solver.prepare(network);
      const ready = performance.now();
      const { rise_K, iterations } = solve(runner.solver);
      runner.solves_s.push((performance.now() - ready) / 1e3);
      runner.setups_s.push((ready - from) / 1e3);
      Object.assign(runner, { rise_K, iterations });
    }
  }
  await end?.();

  const first = runners[0]?.rise_K ?? new Float64Array(0);
  return runners.map(({ threads, solver, first_s, setups_s, solves_s, rise_K, iterations }, at) => ({
    cells: source_W.length,
    engine: solver.engine,
    threads,
    first_s,
    // Until half-way the compiler still makes the code better.
    setup_s: median(setups_s.slice(turns >> 1)),
    solve_s: median(solves_s.slice(turns >> 1)),
    iterations,
    chip_K: chip.cells.reduce((sum, cell, place) => sum + (chip.shares[place] ?? 0) * (rise_K[cell] ?? 0), 0),
    differ_K:
      at === 0
        ? null
        : rise_K.reduce(
            (most, rise, cell) => Math.max(most, Math.abs(rise - (first[cell] ?? Number.NaN))),
            0,
          ),
  }));
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[sorted.length >> 1] as number;
}
