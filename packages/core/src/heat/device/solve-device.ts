import { found, type Result, refused } from '../../measure/index.js';
import { fillResidual } from '../solve/residual.js';
import { type HeatSolver, type NoField, prepareSolver } from '../solve/solver.js';
import { addStep, addTo, dot, subtractFrom } from '../solve/vectors.kernel.js';
import type { DeviceModel } from './device-model.js';
import { type DeviceNetwork, DeviceNetworks, type DeviceState } from './device-network.js';
import { farthest } from './fill-network.kernel.js';
import { applyTransposed, type Linearisation, lineariseDevice, tangentNetwork } from './linearise.js';

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
  /** How far the last round may still move any cell, K; the field is nearer to the answer than that. */
  readonly within_K?: number;
  readonly isCancelled?: () => boolean;
}

/** Slopes are wanted to a part in a thousand, and no better: they feed doubts and steps. */
const adjointTolerance = 5e-5;
/** Each of an adjoint's rounds leaves a twentieth or so of the last one's residual; its solve need not do better. */
const adjointShare = 0.03;
const mostRounds = 25;
/** What a round leaves of the way to the answer on a network that is not far: what the symmetric one leaves out. @assumed seen: 0.02 to 0.08 */
const leftOver = 0.06;
/** Where a round leaves more than this of the one before, the prepared network is too old. */
const tooOld = 0.25;
/** A field farther than this from the one that the prepared network is about, K, has other films and gaps. @assumed a tenth of a usual rise */
const farAway_K = 3;
/** A factor that has moved by more than this share makes another device. */
const farFactor = 0.1;

/**
 * Solves one device again and again: its networks, its solver and their buffers.
 *
 * Films and gaps hang on temperature. Each round puts right what the equations about the last field still leave, by the tangent network
 * that stands prepared: a new one where that has become too old.
 *
 * @source [KELLEY-95] section 5.4.1: the chord method, one Jacobian for several steps
 */
export class DeviceSolver {
  readonly networks: DeviceNetworks;
  private solver: HeatSolver | undefined;
  private prepared: Pick<Linearisation, 'state' | 'rise_K'> | undefined;
  private linear: Linearisation | undefined;
  private readonly work: Readonly<Record<'residual' | 'step', Float64Array>>;
  /** Steps of an adjoint's rounds, and what the equations make of them. */
  private readonly rounds: { readonly step: Float64Array; readonly image: Float64Array }[] = [];

  readonly model: DeviceModel;

  /** @param after a device that is done with: its memory is taken over, which for cells of the same count saves half the time of a solve */
  constructor(model: DeviceModel, after?: DeviceSolver) {
    this.model = model;
    this.networks = new DeviceNetworks(model, after?.networks);
    this.solver = after?.solver;
    const { length } = model.partOf;
    this.work = { residual: new Float64Array(length), step: new Float64Array(length) };
  }

  solve(state: DeviceState, options: SolveDeviceOptions = {}): Result<DeviceField, NoDeviceField> {
    const { within_K = 5e-3, isCancelled } = options;
    const { residual, step } = this.work;
    const rise_K = options.start?.slice() ?? this.guess(state);
    let made: DeviceNetwork | undefined;
    let iterations = 0;
    let moved_K = Number.POSITIVE_INFINITY;
    let isOld = !this.serves(state, rise_K);
    this.linear = undefined;
    for (let round = 1; round <= mostRounds; round++) {
      made = this.networks.make(state, rise_K, made);
      const solver =
        isOld || this.solver === undefined
          ? this.prepare({ state, rise_K: rise_K.slice(), made })
          : this.solver;
      const left = this.findResidual(made, rise_K, residual);
      const solved = solver.solve(residual, {
        into: step,
        tolerance: toleranceFor(moved_K, within_K),
        ...(isCancelled === undefined ? {} : { isCancelled }),
      });
      if (!solved.ok) return solved;
      iterations += solved.value.iterations;
      const before_K = moved_K;
      moved_K = addStep(rise_K, step);
      if (moved_K <= within_K) {
        return found({
          ...made,
          rise_K,
          rounds: round,
          iterations,
          residual: solved.value.residual * left,
          moved_K,
          balance: balanceOf(made, rise_K),
        });
      }
      isOld = moved_K > farAway_K || moved_K > tooOld * before_K;
    }
    return refused({ kind: 'not-settled', moved_K });
  }

  /**
   * Adjoint of a reading about a field: how far one more watt in each cell would move it, K/W.
   *
   * Of the equations as they are: with films that follow the mean of their face, gaps that pass more when they are warm, and conductivities
   * that follow their cells. These make them unsymmetric, so that they are solved by rounds on the symmetric network next to them.
   *
   * @param weights a reading's weight in each cell
   * @source [SAAD-03] section 6.9, from memory: generalised conjugate residuals
   */
  solveAdjoint(
    state: DeviceState,
    rise_K: Float64Array,
    weights: Float64Array,
    start?: Float64Array,
  ): Result<Float64Array, NoField> {
    const linear = this.linearise(state, rise_K);
    const solver = this.serves(state, rise_K) ? (this.solver as HeatSolver) : this.prepare(linear);
    const adjoint = start?.slice() ?? new Float64Array(weights.length);
    const { residual } = this.work;
    residual.set(weights);
    if (start !== undefined) {
      applyTransposed(linear, start, residual);
      subtractFrom(weights, residual);
    }
    const whole = Math.sqrt(dot(weights, weights));
    const squares: number[] = [];
    let iterations = 0;
    for (let round = 0; ; round++) {
      const left = Math.sqrt(dot(residual, residual)) / whole;
      if (left <= adjointTolerance) return found(adjoint);
      if (round === mostRounds) return refused({ kind: 'not-converged', iterations, residual: left });
      const { step, image } = this.roomFor(round);
      const solved = solver.solve(residual, {
        into: step,
        tolerance: Math.min(0.1, Math.max(adjointShare, (0.5 * adjointTolerance) / left)),
      });
      if (!solved.ok) return solved;
      iterations += solved.value.iterations;
      applyTransposed(linear, step, image);
      for (let earlier = 0; earlier < round; earlier++) {
        const past = this.roomFor(earlier);
        const share = -dot(image, past.image) / (squares[earlier] as number);
        addTo(step, share, past.step);
        addTo(image, share, past.image);
      }
      squares.push(dot(image, image));
      const length = dot(residual, image) / (squares[round] as number);
      addTo(adjoint, length, step);
      addTo(residual, -length, image);
    }
  }

  private roomFor(round: number) {
    let room = this.rounds[round];
    if (room === undefined) {
      const { length } = this.model.partOf;
      room = { step: new Float64Array(length), image: new Float64Array(length) };
      this.rounds[round] = room;
    }
    return room;
  }

  /** The equations about a field, made once for all that is asked about it. */
  linearise(state: DeviceState, rise_K: Float64Array): Linearisation {
    if (this.linear?.state !== state || this.linear.rise_K !== rise_K)
      this.linear = lineariseDevice(this.networks, state, rise_K, this.networks.make(state, rise_K));
    return this.linear;
  }

  /** One solve of the linearised network about a field, without the part that is not symmetric: for what only needs its slow modes. */
  solveTangent(
    state: DeviceState,
    rise_K: Float64Array,
    load: Float64Array,
    start?: Float64Array,
  ): Result<Float64Array, NoField> {
    const isPrepared = this.prepared?.state === state && this.prepared.rise_K === rise_K;
    const solver = isPrepared ? (this.solver as HeatSolver) : this.prepare(this.linearise(state, rise_K));
    const solved = solver.solve(load, {
      tolerance: 1e-7,
      ...(start === undefined ? {} : { start }),
    });
    return solved.ok ? found(solved.value.rise_K) : solved;
  }

  /** For the network about a field that was made last. The field is kept, not copied. */
  private prepare({ state, rise_K, made }: Pick<Linearisation, 'state' | 'rise_K' | 'made'>): HeatSolver {
    const network = tangentNetwork(this.networks, made);
    if (this.solver === undefined) this.solver = prepareSolver(network);
    else this.solver.prepare(network);
    this.prepared = { state, rise_K };
    return this.solver;
  }

  /** Whether the network that stands prepared is near to that of a state about a field. */
  private serves(state: DeviceState, rise_K: Float64Array): boolean {
    const { prepared } = this;
    if (prepared === undefined) return false;
    if (Math.abs(prepared.state.ambient_C - state.ambient_C) > farAway_K) return false;
    if (prepared.state.factors !== state.factors)
      for (const id of new Set([...prepared.state.factors.keys(), ...state.factors.keys()])) {
        const ratio = (state.factors.get(id) ?? 1) / (prepared.state.factors.get(id) ?? 1);
        if (!(Math.abs(Math.log(ratio)) <= farFactor)) return false;
      }
    return farthest(prepared.rise_K, rise_K) <= farAway_K;
  }

  /** What a field leaves of the heat unexplained, as a share of the whole. */
  private findResidual(
    { network, source_W }: DeviceNetwork,
    rise_K: Float64Array,
    into: Float64Array,
  ): number {
    fillResidual(network, source_W, rise_K, into);
    return Math.sqrt(dot(into, into) / (dot(source_W, source_W) || 1));
  }

  /** All heat over the whole outside at a usual film: near enough for the first films. */
  private guess({ power_W }: DeviceState): Float64Array {
    const { length_mm, width_mm, thickness_mm } = this.model.laid;
    const outside_m2 = 2e-6 * (length_mm * width_mm + (length_mm + width_mm) * thickness_mm);
    const whole_W = [...power_W.values()].reduce((sum, power) => sum + power, 0);
    return new Float64Array(this.model.partOf.length).fill(whole_W / (10 * outside_m2));
  }
}

/** Enough that what the solve leaves is less than what the round leaves anyway, or than what is asked for. */
function toleranceFor(moved_K: number, within_K: number): number {
  const expected_K = leftOver * moved_K;
  return expected_K === Number.POSITIVE_INFINITY
    ? 3e-3
    : Math.min(0.05, Math.max(1e-3, (0.2 * within_K) / expected_K));
}

function balanceOf({ network, source_W }: DeviceNetwork, rise_K: Float64Array) {
  return { in_W: source_W.reduce((sum, heat) => sum + heat, 0), out_W: dot(network.sink_W_per_K, rise_K) };
}
