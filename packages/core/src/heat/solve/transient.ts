import { BadInputError, found, OutOfRangeError, type Result, refused } from '../../measure/index.js';
import type { HeatNetwork } from './network.js';
import type { HeatSolver, NoField } from './solver.js';
import { Stepper } from './stepper.js';
import { dot } from './vectors.kernel.js';

/** @assumed Beyond a million steps the record alone outgrows what anyone would look at. */
const stepLimit = 1_000_000;

/** Heat released in each cell, W: constant through a phase, or written into an array at a time since the start of all. */
export type PhaseSource = Float64Array | ((after_s: number, into: Float64Array) => void);

/** A stretch of time with equal steps and a source without jumps: begin a new phase where power is switched. */
export interface TransientPhase {
  readonly duration_s: number;
  readonly steps: number;
  readonly source_W: PhaseSource;
}

/** A weighted sum of cells, followed over time: one cell, or the mean of a surface. */
export interface CellProbe {
  readonly cells: ArrayLike<number>;
  readonly weights: ArrayLike<number>;
}

export interface TransientOptions {
  readonly phases: readonly TransientPhase[];
  /**
   * `second-order` halves its error fourfold when steps halve; each phase begins with two implicit half steps, which damp
   * what a switched source would otherwise leave ringing. `backward-euler` never rings and errs in proportion to the step.
   */
  readonly scheme?: 'second-order' | 'backward-euler';
  /** Rise at the start, K; none without it. */
  readonly start_K?: Float64Array;
  readonly probes?: readonly CellProbe[];
  /** Greatest residual of a step, as a share of source and stored heat of the step; 1e-7 leaves well below 0.001 K. */
  readonly tolerance?: number;
  readonly maxIterations?: number;
  readonly isCancelled?: () => boolean;
  readonly engine?: 'typescript' | 'wasm';
  /** Solver to use again; it is left prepared for the last step. */
  readonly solver?: HeatSolver;
}

export interface TransientField {
  /** Rise at the end. */
  readonly rise_K: Float64Array;
  /** Start and end of every step. */
  readonly after_s: Float64Array;
  /** For each probe its rise at those times. */
  readonly probes_K: readonly Float64Array[];
  readonly steps: number;
  readonly iterations: number;
  /** Greatest of all steps. */
  readonly residual: number;
  /** Heat released, lost and stored over the whole, by the quadrature of the scheme itself: in = out + stored. */
  readonly balance: { readonly in_J: number; readonly out_J: number; readonly stored_J: number };
}

export type NoTransient = NoField & { readonly after_s: number };

/**
 * Rise over time, from a start, as sources come and go.
 *
 * Steps must be short beside what happens: a chip warms in seconds, a pack in an hour. Take short steps in a first phase
 * and longer ones later; the error of a run shows in a second one with half the steps. A capacity that is too small by
 * half makes everything twice as fast, and no steady measurement would tell.
 *
 * @param network with capacities; it needs no path to ambient
 * @throws BadInputError without capacities, for arrays of the wrong length, probes outside the grid
 * @throws OutOfRangeError for durations that are not above 0 or steps that are not whole numbers
 * @source [CRANK-NICOLSON-47] the second-order scheme; an implicit half step, mirrored, is the same thing
 * @source [RANNACHER-84] the implicit steps at the start
 */
export function solveTransient(
  network: HeatNetwork,
  options: TransientOptions,
): Result<TransientField, NoTransient> {
  const capacity = checkTransient(network, options);
  const { phases, scheme = 'second-order', start_K, probes = [], ...solveOptions } = options;
  const steps = phases.reduce((sum, phase) => sum + phase.steps, 0);
  const stepper = new Stepper(network, capacity, start_K, solveOptions);
  const began_J = dot(capacity, stepper.now);
  const record = new Record(probes, steps + 1);
  record.note(0, stepper.now);

  let phaseStart_s = 0;
  for (const { duration_s, steps: count, source_W } of phases) {
    const halves = scheme === 'second-order';
    const implicit_s = duration_s / count / (halves ? 2 : 1);
    const timeOf = (implicitSteps: number) => phaseStart_s + implicitSteps * implicit_s;
    stepper.beginPhase(implicit_s, phaseStart_s, source_W);
    for (let step = 0; step < count; step++) {
      const first = halves ? 2 * step : step;
      let done: Result<undefined, NoField>;
      if (!halves) {
        done = stepper.stepImplicitly(timeOf(first + 1), source_W);
      } else if (step === 0) {
        done = stepper.stepImplicitly(timeOf(1), source_W);
        if (done.ok) done = stepper.stepImplicitly(timeOf(2), source_W);
      } else {
        done = stepper.stepMirrored(timeOf(first + 1), timeOf(first + 2), source_W);
      }
      if (!done.ok) return refused({ ...done.reason, after_s: timeOf(first) });
      record.note(timeOf(halves ? first + 2 : first + 1), stepper.now);
    }
    phaseStart_s += duration_s;
  }
  const { now, iterations, residual, in_J, out_J } = stepper;
  const balance = { in_J, out_J, stored_J: dot(capacity, now) - began_J };
  return found({
    rise_K: now,
    after_s: record.after_s,
    probes_K: record.probes_K,
    steps,
    iterations,
    residual,
    balance,
  });
}

/** Probes at every noted time. */
class Record {
  readonly after_s: Float64Array;
  readonly probes_K: readonly Float64Array[];
  private readonly probes: readonly CellProbe[];
  private count = 0;

  constructor(probes: readonly CellProbe[], times: number) {
    this.probes = probes;
    this.after_s = new Float64Array(times);
    this.probes_K = probes.map(() => new Float64Array(times));
  }

  note(after_s: number, rise_K: Float64Array): void {
    this.after_s[this.count] = after_s;
    for (const [p, { cells, weights }] of this.probes.entries()) {
      let sum = 0;
      for (let m = 0; m < cells.length; m++) sum += weights[m]! * rise_K[cells[m]!]!;
      this.probes_K[p]![this.count] = sum;
    }
    this.count++;
  }
}

/** Returns the capacities, which a transient cannot do without. */
function checkTransient(network: HeatNetwork, options: TransientOptions): Float64Array {
  const { capacity_J_per_K: capacity } = network;
  const n = network.sink_W_per_K.length;
  const wrong = (where: string, what: string, remedy: string) => new BadInputError([{ where, what, remedy }]);
  if (!capacity) {
    throw wrong('capacity_J_per_K', 'is missing.', 'Give the heat capacity of each cell with the network.');
  }
  if (capacity.length !== n || !capacity.every((value) => value > 0 && value < Infinity)) {
    throw wrong('capacity_J_per_K', 'must be above 0 in every cell.', 'Give one value per cell.');
  }
  if (options.start_K && options.start_K.length !== n) {
    throw wrong('start_K', `has ${options.start_K.length} values for ${n} cells.`, 'Give one per cell.');
  }
  for (const { duration_s, steps, source_W } of options.phases) {
    if (!(duration_s > 0 && duration_s < Infinity)) {
      throw new OutOfRangeError('duration_s', duration_s, [Number.MIN_VALUE, Number.MAX_VALUE]);
    }
    if (!(Number.isInteger(steps) && steps >= 1 && steps <= stepLimit)) {
      throw new OutOfRangeError('steps', steps, [1, stepLimit], 'A whole number.');
    }
    if (typeof source_W !== 'function' && source_W.length !== n) {
      throw wrong('source_W', `has ${source_W.length} values for ${n} cells.`, 'Give one per cell.');
    }
  }
  for (const { cells, weights } of options.probes ?? []) {
    const inside = Array.from(cells).every((cell) => Number.isInteger(cell) && cell >= 0 && cell < n);
    if (!inside || cells.length !== weights.length) {
      throw wrong('probes', 'needs cells of the grid and one weight for each.', 'Look at index and lengths.');
    }
  }
  return capacity;
}
