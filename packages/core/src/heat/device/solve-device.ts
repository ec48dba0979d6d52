import { found, type Result, refused } from '../../measure/index.js';
import { type HeatSolver, type NoField, prepareSolver } from '../solve/solver.js';
import type { DeviceModel } from './device-model.js';
import { type DeviceNetwork, DeviceNetworks, type DeviceState } from './device-network.js';
import { pullOf } from './linearise.js';

/** A device at rest under a constant heat. */
export interface DeviceField extends DeviceNetwork {
  readonly rise_K: Float64Array;
  /** How it went: rounds of the outer iteration, solver steps in all, what the last round still moved. */
  readonly rounds: number;
  readonly iterations: number;
  readonly residual: number;
  readonly moved_K: number;
  readonly balance: { readonly in_W: number; readonly out_W: number };
}

export type NoDeviceField = NoField | { readonly kind: 'not-settled'; readonly moved_K: number };

export interface SolveDeviceOptions {
  /** A field near the answer, of this model or of one with the same cells. */
  readonly start?: Float64Array;
  /** How far the last round may still move any cell, K. */
  readonly within_K?: number;
  readonly isCancelled?: () => boolean;
}

/** The part left over is a twentieth or so, and falls as much again in each round: one leaves a few parts in a thousand. */
const adjointRounds = 1;
/** Slopes are wanted to a part in a thousand, and no better: they feed doubts and steps. */
const adjointTolerance = 1e-4;

/** A round of the outer iteration moves films and gaps by a few per cent of what the last one did. */
const mostRounds = 25;

/**
 * Solves one device again and again: its networks, its solver and their buffers.
 *
 * Films and gaps hang on temperature, so each round solves with those of the last field, loosely at first, until no cell moves.
 */
export class DeviceSolver {
  readonly networks: DeviceNetworks;
  private solver: HeatSolver | undefined;
  private tangent:
    | { readonly state: DeviceState; readonly rise_K: Float64Array; readonly made: DeviceNetwork }
    | undefined;

  readonly model: DeviceModel;

  /** @param after a device that is done with: its memory is taken over, which for cells of the same count saves half the time of a solve */
  constructor(model: DeviceModel, after?: DeviceSolver) {
    this.model = model;
    this.networks = new DeviceNetworks(model);
    this.solver = after?.solver;
  }

  solve(state: DeviceState, options: SolveDeviceOptions = {}): Result<DeviceField, NoDeviceField> {
    const { within_K = 5e-3, isCancelled } = options;
    let rise_K = options.start ?? this.guess(state);
    let about_K = rise_K;
    let iterations = 0;
    let moved_K = Number.POSITIVE_INFINITY;
    for (let round = 1; round <= mostRounds; round++) {
      const made = this.networks.make(state, about_K);
      const solver = this.prepare(made);
      const solved = solver.solve(made.source_W, {
        start: rise_K,
        tolerance: toleranceFor(moved_K, within_K),
        ...(isCancelled === undefined ? {} : { isCancelled }),
      });
      if (!solved.ok) return solved;
      const { rise_K: next, residual, balance } = solved.value;
      iterations += solved.value.iterations;
      moved_K = farthest(about_K, next);
      rise_K = next;
      if (moved_K <= within_K) {
        return found({ ...made, rise_K, rounds: round, iterations, residual, moved_K, balance });
      }
      about_K = blend(about_K, next);
    }
    return refused({ kind: 'not-settled', moved_K });
  }

  /**
   * Adjoint of a reading about a field: how far one more watt in each cell would move it, K/W.
   *
   * Films count with what they lose per further kelvin. That gaps pass more when they are warm, and that a film follows the mean of its face,
   * makes the equation unsymmetric by a few per cent; that part is put on the other side and found in rounds.
   *
   * @param weights a reading's weight in each cell
   */
  solveAdjoint(
    state: DeviceState,
    rise_K: Float64Array,
    weights: Float64Array,
    start?: Float64Array,
  ): Result<Float64Array, NoField> {
    const tangent = this.tangentOf(state, rise_K);
    const solver = this.prepare(tangent);
    const load = weights.slice();
    const pull = new Float64Array(weights.length);
    let adjoint = start;
    for (let round = 0; round <= adjointRounds; round++) {
      const solved = solver.solve(load, {
        tolerance: adjointTolerance,
        ...(adjoint === undefined ? {} : { start: adjoint }),
      });
      if (!solved.ok) return solved;
      adjoint = solved.value.rise_K;
      if (round === adjointRounds) break;
      pullOf(this.networks, state, tangent, adjoint, rise_K, pull);
      for (let cell = 0; cell < load.length; cell++)
        load[cell] = (weights[cell] as number) - (pull[cell] as number);
    }
    return found(adjoint as Float64Array);
  }

  /** One solve of the linearised network about a field, without the part that is not symmetric: for what only needs its slow modes. */
  solveTangent(
    state: DeviceState,
    rise_K: Float64Array,
    load: Float64Array,
    start?: Float64Array,
  ): Result<Float64Array, NoField> {
    const solved = this.prepare(this.tangentOf(state, rise_K)).solve(load, {
      tolerance: 1e-7,
      ...(start === undefined ? {} : { start }),
    });
    return solved.ok ? found(solved.value.rise_K) : solved;
  }

  /** The linearised network about a field, made once for all adjoints about it. */
  private tangentOf(state: DeviceState, rise_K: Float64Array): DeviceNetwork {
    if (this.tangent?.state !== state || this.tangent.rise_K !== rise_K)
      this.tangent = { state, rise_K, made: this.networks.make(state, rise_K, true) };
    return this.tangent.made;
  }

  private prepare({ network }: Pick<DeviceNetwork, 'network'>): HeatSolver {
    if (this.solver === undefined) this.solver = prepareSolver(network);
    else if (this.solver.network !== network) this.solver.prepare(network);
    return this.solver;
  }

  /** All heat over the whole outside at a usual film: near enough for the first films. */
  private guess({ power_W }: DeviceState): Float64Array {
    const { length_mm, width_mm, thickness_mm } = this.model.laid;
    const outside_m2 = 2e-6 * (length_mm * width_mm + (length_mm + width_mm) * thickness_mm);
    const whole_W = [...power_W.values()].reduce((sum, power) => sum + power, 0);
    return new Float64Array(this.model.partOf.length).fill(whole_W / (10 * outside_m2));
  }
}

/** Early rounds are overtaken by the next; the last one is solved well. */
function toleranceFor(moved_K: number, within_K: number): number {
  return moved_K > 100 * within_K ? 1e-4 : 1e-6;
}

/** How much of each round's step is taken: films overshoot a little to the other side. @assumed found by trying; any share from 0.8 to 1 settles */
const share = 0.93;

function blend(before: Float64Array, after: Float64Array): Float64Array {
  return before.map((rise, cell) => rise + share * ((after[cell] as number) - rise));
}

function farthest(before: Float64Array, after: Float64Array): number {
  let most = 0;
  for (let cell = 0; cell < after.length; cell++)
    most = Math.max(most, Math.abs((after[cell] as number) - (before[cell] as number)));
  return most;
}
