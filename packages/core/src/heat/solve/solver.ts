import { BadInputError, found, OutOfRangeError, type Result, refused } from '../../measure/index.js';
import { checkNetwork } from './check-network.js';
import { type Engine, TypescriptEngine } from './engine.js';
import { grossSquare } from './krylov.kernel.js';
import { scaleFor } from './level.js';
import type { HeatNetwork } from './network.js';
import { WasmEngine } from './wasm/engine-wasm.js';

export interface SolveOptions {
  /** Greatest residual, as a share of the source (both as root of the sum of squares), 1e-13 to 0.1. */
  readonly tolerance?: number;
  /** A field near the answer, such as that of a similar network; from nothing without it. */
  readonly start?: Float64Array;
  /** Receives the field in place of a new array; may be `start`. */
  readonly into?: Float64Array;
  readonly maxIterations?: number;
  /** Asked before each iteration. */
  readonly isCancelled?: () => boolean;
}

export interface SteadyField {
  /** Rise over ambient in each cell. */
  readonly rise_K: Float64Array;
  readonly iterations: number;
  /** Share of the source that the field leaves unexplained, computed afresh from the field. */
  readonly residual: number;
  /**
   * `rounding` where rises are so great that double precision cannot make the residual as small as asked: with next to no
   * path to ambient. The residual is then what rounding leaves.
   */
  readonly endedBy: 'tolerance' | 'rounding';
  /** Heat released, and heat lost by this field through the sinks. */
  readonly balance: { readonly in_W: number; readonly out_W: number };
}

/** Why there is no field. */
export type NoField =
  | { readonly kind: 'cancelled' }
  | { readonly kind: 'not-converged'; readonly iterations: number; readonly residual: number };

export interface HeatSolver {
  readonly engine: 'typescript' | 'wasm';
  /** How many threads share a solve: more than 1 where helpers were lent and the grid is large enough. */
  readonly threads: number;
  readonly network: HeatNetwork;
  /**
   * Takes another network. In place, without new memory, where the counts of cells are the same: half the price of a new
   * solver. Fields returned earlier stay as they are.
   *
   * @throws BadInputError as `prepareSolver` does
   */
  prepare(network: HeatNetwork): void;
  /**
   * Steady rise for a source, W in each cell.
   *
   * @throws BadInputError for a source or start of the wrong length, or with values that are not finite
   * @throws OutOfRangeError for a tolerance outside 1e-13 to 0.1
   */
  solve(source_W: Float64Array, options?: SolveOptions): Result<SteadyField, NoField>;
}

/**
 * A solver for one network and any number of sources: steady rises, unit loads for superposition, adjoints (the matrix is
 * symmetric, so an adjoint solve is a solve).
 *
 * Conjugate gradients; before each step one multigrid cycle in single precision that solves columns of cells exactly and
 * merges columns, never layers: stacks of thin layers are what it is made for. The residual is kept in double precision,
 * so the cycle limits speed and not accuracy. Conductivities that jump at random from cell to cell, which no device has,
 * cost many iterations.
 *
 * @param options engine: WebAssembly where it runs, else TypeScript; one that is asked for and cannot be is an error
 * @throws BadInputError where a conductance is negative or not finite, or a cell has no path to ambient
 * @source [SAAD-03] algorithm 9.1, preconditioned conjugate gradients
 * @source [TROTTENBERG-01] sections 5.1 and 7.7: line relaxation with semi-coarsening, coefficients that jump
 */
export function prepareSolver(
  network: HeatNetwork,
  options: { readonly engine?: 'typescript' | 'wasm' } = {},
): HeatSolver {
  return new Solver(network, options.engine);
}

class Solver implements HeatSolver {
  network: HeatNetwork;
  private machine: Engine;
  private readonly chosen: Engine['name'] | undefined;

  constructor(network: HeatNetwork, chosen: Engine['name'] | undefined) {
    this.chosen = chosen;
    this.machine =
      chosen === 'typescript' ? new TypescriptEngine() : this.orReference(() => new WasmEngine());
    this.network = network;
    this.prepare(network);
  }

  get engine() {
    return this.machine.name;
  }

  get threads() {
    return this.machine.threads;
  }

  prepare(network: HeatNetwork): void {
    const scale = scaleFor(checkNetwork(network));
    this.machine = this.orReference((machine = this.machine) => {
      machine.prepare(network, scale);
      return machine;
    });
    this.network = network;
  }

  /**
   * The reference takes over, more slowly, where no engine was asked for and WebAssembly cannot do it: no SIMD, compiling
   * forbidden by a page's policy, no memory of that size.
   */
  private orReference(attempt: (machine?: Engine) => Engine): Engine {
    try {
      return attempt();
    } catch (error) {
      if (this.chosen || this.machine?.name === 'typescript') throw error;
      const reference = new TypescriptEngine();
      return this.machine ? attempt(reference) : reference;
    }
  }

  solve(source_W: Float64Array, options: SolveOptions = {}): Result<SteadyField, NoField> {
    const { tolerance = 1e-8, start, into, maxIterations = 200, isCancelled } = options;
    if (!(tolerance >= 1e-13 && tolerance <= 0.1)) {
      throw new OutOfRangeError('tolerance', tolerance, [1e-13, 0.1]);
    }
    const n = this.network.sink_W_per_K.length;
    const { norm, in_W } = checkSource(source_W, n);
    if (start && start.length !== n) throw wrongLength('start', start, n);
    if (into && into.length !== n) throw wrongLength('into', into, n);
    const rise_K = into ?? new Float64Array(n);
    if (norm === 0) {
      rise_K.fill(0);
      const balance = { in_W: 0, out_W: 0 };
      return found({ rise_K, iterations: 0, residual: 0, endedBy: 'tolerance', balance });
    }

    const { machine } = this;
    machine.begin(start, 1 / norm);
    let iterations = 0;
    for (;;) {
      // A residual carried along by recursion drifts from the true one: convergence is claimed only on the true one.
      let left = Math.sqrt(machine.findResidual(source_W)) / norm;
      if (iterations === 0 && !Number.isFinite(left)) throw notFinite('start', start);
      const reached = left <= tolerance;
      if (reached || iterations > 0) machine.read(rise_K);
      if (reached || (iterations > 0 && left <= this.roundingOf(rise_K) / norm)) {
        const endedBy = reached ? 'tolerance' : 'rounding';
        return found({
          rise_K,
          iterations,
          residual: left,
          endedBy,
          balance: { in_W, out_W: this.lossOf(rise_K) },
        });
      }
      let product = Number.NaN;
      while (left > tolerance) {
        if (isCancelled?.()) return refused({ kind: 'cancelled' });
        if (iterations >= maxIterations)
          return refused({ kind: 'not-converged', iterations, residual: left });
        const next = machine.precondition();
        const slope = machine.direct(product > 0 ? next / product : 0);
        const now = Math.sqrt(machine.advance(next / slope)) / norm;
        // Numbers beyond the range of doubles or, in the cycle, of single precision.
        if (!Number.isFinite(now)) return refused({ kind: 'not-converged', iterations, residual: left });
        left = now;
        product = next;
        iterations++;
      }
    }
  }

  /** What rounding may leave of a residual: a few times the precision of a double in each term of each row. */
  private roundingOf(rise_K: Float64Array): number {
    const { nx, ny, nz, ...network } = this.network;
    const [E, N] = [network.east_W_per_K, network.north_W_per_K];
    const [U, s] = [network.up_W_per_K, network.sink_W_per_K];
    return 4 * Number.EPSILON * Math.sqrt(grossSquare({ E, N, U, s }, nx, ny, nz, rise_K));
  }

  private lossOf(rise_K: Float64Array): number {
    const { sink_W_per_K } = this.network;
    let out_W = 0;
    for (let c = 0; c < rise_K.length; c++) out_W += sink_W_per_K[c]! * rise_K[c]!;
    return out_W;
  }
}

/** Root of the sum of squares, and the sum. */
function checkSource(source_W: Float64Array, n: number): { norm: number; in_W: number } {
  if (source_W.length !== n) throw wrongLength('source_W', source_W, n);
  let squares = 0;
  let in_W = 0;
  for (let c = 0; c < n; c++) {
    const heat = source_W[c]!;
    squares += heat * heat;
    in_W += heat;
  }
  if (Number.isFinite(squares)) return { norm: Math.sqrt(squares), in_W };
  throw notFinite('source_W', source_W);
}

function notFinite(where: string, values: Float64Array = new Float64Array(0)): BadInputError {
  const at = values.findIndex((value) => !Number.isFinite(value));
  return new BadInputError([
    { where: `${where}[${at}]`, what: `is ${values[at]}.`, remedy: 'It must be finite.' },
  ]);
}

function wrongLength(where: string, values: Float64Array, n: number): BadInputError {
  return new BadInputError([
    { where, what: `has ${values.length} values for ${n} cells.`, remedy: 'Give one per cell.' },
  ]);
}
