import { found, type Result } from '../../measure/index.js';
import type { HeatNetwork } from './network.js';
import { type HeatSolver, type NoField, prepareSolver, type SolveOptions } from './solver.js';
import type { PhaseSource } from './transient.js';
import { addStorage, average, dotAt, extrapolate, loadStep, mirror, total } from './transient.kernel.js';

/** Moves a field forward in time, step by step, in buffers of its own. */
export class Stepper {
  /** Rise at the end of the last step. */
  readonly now: Float64Array;
  iterations = 0;
  residual = 0;
  in_J = 0;
  out_J = 0;
  private readonly network: HeatNetwork;
  private readonly capacity: Float64Array;
  private readonly options: SolveOptions;
  private readonly engine: 'typescript' | 'wasm' | undefined;
  private solver: HeatSolver | undefined;
  private implicit_s = 0;
  private readonly sink: Float64Array;
  private readonly load: Float64Array;
  /** Cells that lose heat to ambient: few beside all. */
  private readonly losing: Int32Array;
  /** Heat of a step; of a source that changes, also what it is at the end of the last step. */
  private heat: Float64Array;
  private heat_W = 0;
  private readonly changing: Float64Array;
  private readonly changingAtEnd: Float64Array;
  /** The last three fields and their times, newest last: the next one is guessed from them. */
  private past: { after_s: number; field: Float64Array }[] = [];
  private spare: Float64Array[];

  constructor(
    network: HeatNetwork,
    capacity: Float64Array,
    start_K: Float64Array | undefined,
    options: SolveOptions & { engine?: 'typescript' | 'wasm'; solver?: HeatSolver },
  ) {
    const n = capacity.length;
    const { engine, solver, ...solveOptions } = options;
    this.network = network;
    this.capacity = capacity;
    this.engine = engine;
    this.solver = solver;
    this.options = solveOptions;
    this.now = start_K ? Float64Array.from(start_K) : new Float64Array(n);
    this.sink = new Float64Array(n);
    this.load = new Float64Array(n);
    this.changing = new Float64Array(n);
    this.changingAtEnd = new Float64Array(n);
    this.heat = this.changing;
    this.losing = Int32Array.from(network.sink_W_per_K.keys()).filter((c) => network.sink_W_per_K[c]! > 0);
    this.spare = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  }

  /** A new phase: steps of this length, and no use of what came before for guesses. */
  beginPhase(implicit_s: number, after_s: number, source: PhaseSource): void {
    this.heat = typeof source === 'function' ? this.changing : source;
    this.heat_W = total(this.heat);
    if (implicit_s !== this.implicit_s) {
      addStorage(this.network.sink_W_per_K, this.capacity, implicit_s, this.sink);
      const stepping = { ...this.network, sink_W_per_K: this.sink };
      if (this.solver) this.solver.prepare(stepping);
      else this.solver = prepareSolver(stepping, this.engine ? { engine: this.engine } : {});
      this.implicit_s = implicit_s;
    }
    this.spare.push(...this.past.map(({ field }) => field));
    const field = this.spare.pop()!;
    field.set(this.now);
    this.past = [{ after_s, field }];
  }

  /** Backward Euler over one implicit step that ends at a time. */
  stepImplicitly(end_s: number, source: PhaseSource): Result<undefined, NoField> {
    if (typeof source === 'function') {
      source(end_s, this.changingAtEnd);
      this.changing.set(this.changingAtEnd);
      this.heat_W = total(this.changing);
    }
    const answer = this.solve(end_s);
    if (!answer.ok) return answer;
    this.now.set(answer.value);
    this.settle(answer.value, this.implicit_s);
    return found(undefined);
  }

  /** Crank-Nicolson over two implicit steps: one to the middle with the mean heat, then as far again. */
  stepMirrored(middle_s: number, end_s: number, source: PhaseSource): Result<undefined, NoField> {
    if (typeof source === 'function') {
      this.changing.set(this.changingAtEnd);
      source(end_s, this.changingAtEnd);
      average(this.changing, this.changingAtEnd);
      this.heat_W = total(this.changing);
    }
    const answer = this.solve(middle_s);
    if (!answer.ok) return answer;
    mirror(answer.value, this.now);
    this.settle(answer.value, 2 * this.implicit_s);
    return found(undefined);
  }

  private solve(at_s: number): Result<Float64Array, NoField> {
    loadStep(this.capacity, this.now, this.implicit_s, this.heat, this.load);
    const guess = this.spare.pop() ?? this.past[0]!.field;
    extrapolate(this.past, at_s, guess);
    if (this.past.length === 3) this.past.shift();
    this.past.push({ after_s: at_s, field: guess });
    const answer = this.solver!.solve(this.load, { ...this.options, start: guess, into: guess });
    if (!answer.ok) return answer;
    this.iterations += answer.value.iterations;
    this.residual = Math.max(this.residual, answer.value.residual);
    return found(guess);
  }

  private settle(field: Float64Array, lasting_s: number): void {
    this.in_J += lasting_s * this.heat_W;
    this.out_J += lasting_s * dotAt(this.losing, this.network.sink_W_per_K, field);
  }
}
