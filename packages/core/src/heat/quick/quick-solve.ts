import { found, type Result, refused } from '../../measure/index.js';
import type { LaidModel } from '../device/device-model.js';
import { type DeviceNetwork, DeviceNetworks, type DeviceState } from '../device/device-network.js';
import { farthest, loadStep } from '../device/fill-network.kernel.js';
import { tangentNetwork } from '../device/linearise.js';
import type { NoDeviceField } from '../device/solve-device.js';
import { type HeatSolver, prepareSolver } from '../solve/solver.js';

export interface QuickField {
  /** Overwritten by the solve after the next: copy what is to be kept. */
  readonly rise_K: Float64Array;
  readonly steps: number;
  readonly iterations: number;
  /** How far the last step moved any cell, K; it is far less from the answer. */
  readonly moved_K: number;
}

export interface QuickOptions {
  /** A field near the answer, of the same cells. */
  readonly start?: Float64Array;
  /** How far from the answer the steps may leave any cell, K. What the solves leave comes on top: up to twice as much, from a far start. */
  readonly within_K?: number;
  readonly isCancelled?: () => boolean;
}

/** How far from the answer steps may leave a cell, K, unless it is said. */
const usualWithin_K = 5e-3;
/** What a step leaves of the way to the answer: films follow a face's mean, and gaps the mean of their two faces. @assumed seen: 0.02 to 0.08 */
const leftOver = 0.1;
const mostSteps = 12;
/** Residual of a first solve that others will put right, and of the last one, as shares of the heat. @assumed found by trying: the last leaves up to 0.01 K from a far start, 0.006 K from a neighbour's field */
const tolerances = { first: 3e-3, last: 2e-4 };
/** What the first tolerance may leave of a field, K: who asks for less gets another step. @assumed seen: up to 0.03 */
const rough_K = 0.03;
/** A step longer than this, K, ends in a place where films and gaps are others. @assumed a tenth of a usual rise */
const farAway_K = 3;

/** The network that stands prepared. */
interface Prepared {
  readonly state: DeviceState;
  /** Field it was made about. */
  readonly about_K: Float64Array;
  readonly solver: HeatSolver;
  readonly networks: DeviceNetworks;
  /** Conductances of then; sinks and source of the last step. */
  readonly made: DeviceNetwork;
}

/**
 * Rest temperatures of many set-ups one after the other, as fast as a hand that drags or a sweep over a thousand needs.
 *
 * Newton steps on one prepared network: the first about the start, the others with the same multigrid and only their source brought up to
 * date; where only room or load change, the network of the last solve serves again. Whichever network they are made on, steps end where films,
 * gaps and conductivities are those of the field itself: `DeviceSolver` gives the same field to three times `within_K` in any cell, from any
 * start.
 *
 * @source [KELLEY-95] section 5.4.1: the chord method, one Jacobian for several steps
 */
export class QuickSolver {
  private prepared: Prepared | undefined;
  private work: Work | undefined;

  solve(model: LaidModel, state: DeviceState, options: QuickOptions = {}): Result<QuickField, NoDeviceField> {
    const { within_K = usualWithin_K, isCancelled } = options;
    const { source, fields } = this.workFor(model.partOf.length);
    let rise_K = options.start ?? guess(model, state);
    // Whoever asks for less than the usual few millikelvins asks it of the solves as well.
    const last = tolerances.last * Math.min(1, within_K / usualWithin_K);
    let iterations = 0;
    let moved_K = Number.POSITIVE_INFINITY;
    for (let step = 1; step <= mostSteps; step++) {
      const serves = this.serves(model, state, rise_K) && (step === 1 || moved_K <= farAway_K);
      const { solver, networks, made } = serves
        ? (this.prepared as Prepared)
        : this.prepare(model, state, rise_K);
      if (serves) networks.update(made, state, rise_K);
      loadStep(made.source_W, solver.network.sink_W_per_K, made.network.sink_W_per_K, rise_K, source);
      if (serves) networks.addChanges(made, rise_K, source);
      // Early steps are overtaken by the next.
      const isLast = step > 1 || serves;
      const solved = solver.solve(source, {
        start: rise_K,
        into: rise_K === fields[0] ? fields[1] : fields[0],
        tolerance: isLast ? last : tolerances.first,
        ...(isCancelled === undefined ? {} : { isCancelled }),
      });
      if (!solved.ok) return solved;
      iterations += solved.value.iterations;
      const before_K = moved_K;
      moved_K = farthest(rise_K, solved.value.rise_K);
      rise_K = solved.value.rise_K;
      const left_K = Math.min(leftOver, moved_K / before_K || leftOver) * moved_K;
      if (left_K <= within_K && (isLast || within_K >= rough_K))
        return found({ rise_K, steps: step, iterations, moved_K });
    }
    return refused({ kind: 'not-settled', moved_K });
  }

  /** Whether the prepared network is this device's, about a field that is not far. */
  private serves(model: LaidModel, { factors, ambient_C }: DeviceState, rise_K: Float64Array): boolean {
    const { prepared } = this;
    return (
      prepared?.networks.model === model &&
      prepared.state.factors === factors &&
      Math.abs(prepared.state.ambient_C - ambient_C) <= farAway_K &&
      farthest(prepared.about_K, rise_K) <= farAway_K
    );
  }

  /** What the last one used is used again where the cells are as many. */
  private prepare(model: LaidModel, state: DeviceState, rise_K: Float64Array): Prepared {
    const last = this.prepared;
    this.prepared = undefined;
    const networks =
      last?.networks.model === model ? last.networks : new DeviceNetworks(model, last?.networks);
    const made = networks.make(state, rise_K, last?.made);
    const { about_K, sinks } = this.workFor(rise_K.length);
    const tangent = tangentNetwork(networks, made, sinks);
    const solver = last?.solver ?? prepareSolver(tangent);
    if (last !== undefined) solver.prepare(tangent);
    about_K.set(rise_K);
    this.prepared = { state, about_K, solver, networks, made };
    return this.prepared;
  }

  private workFor(n: number): Work {
    if (this.work?.source.length !== n) {
      const make = () => new Float64Array(n);
      this.work = { source: make(), sinks: make(), about_K: make(), fields: [make(), make()] };
    }
    return this.work;
  }
}

/** Room for one size of problem. */
interface Work {
  readonly source: Float64Array;
  readonly sinks: Float64Array;
  readonly about_K: Float64Array;
  readonly fields: readonly [Float64Array, Float64Array];
}

/** All heat over the whole outside at a usual film. */
function guess({ laid, partOf }: LaidModel, { power_W }: DeviceState): Float64Array {
  const { length_mm, width_mm, thickness_mm } = laid;
  const outside_m2 = 2e-6 * (length_mm * width_mm + (length_mm + width_mm) * thickness_mm);
  const whole_W = [...power_W.values()].reduce((sum, power) => sum + power, 0);
  return new Float64Array(partOf.length).fill(whole_W / (10 * outside_m2));
}
