import { found, type Result, refused } from '../../measure/index.js';
import type { DeviceState } from '../device/device-network.js';
import type { NoDeviceField } from '../device/solve-device.js';
import { applyNetwork } from '../solve/krylov.kernel.js';
import { type HeatSolver, prepareSolver } from '../solve/solver.js';
import type { QuickModel } from './quick-model.js';
import { type QuickNetwork, QuickNetworks } from './quick-network.js';
import { farthest, sourceOfFirstStep, sourceOfStep } from './quick-network.kernel.js';

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
  /** How far from the answer any cell may be left, K. */
  readonly within_K?: number;
  readonly isCancelled?: () => boolean;
}

/** What a step leaves of the way to the answer: films follow a face's mean, and gaps the mean of their two faces. @assumed seen: 0.02 to 0.08 */
const leftOver = 0.1;
const mostSteps = 12;
/** Residual of the first solve, and of those that put it right, as shares of the heat. @assumed found by trying: the last leaves some 0.003 K */
const tolerances = { first: 3e-4, later: 1e-4 };

/**
 * Rest temperatures of many set-ups one after the other, as fast as ranking them needs.
 *
 * Newton steps on one prepared network: the first about the start, the others with the same multigrid and only their source brought up to
 * date. `DeviceSolver` gives the same field to better than `within_K`.
 *
 * @source [KELLEY-95] section 5.4.1: the chord method, one Jacobian for several steps
 */
export class QuickSolver {
  private readonly networks = new QuickNetworks();
  private solver: HeatSolver | undefined;
  private work: Work | undefined;

  solve(
    model: QuickModel,
    state: DeviceState,
    options: QuickOptions = {},
  ): Result<QuickField, NoDeviceField> {
    const { within_K = 5e-3, isCancelled } = options;
    const { source, fields } = this.workFor(model.partOf.length);
    let rise_K = options.start ?? guess(model, state);
    let made = this.networks.fill(0, model, state, rise_K);
    let solver = this.prepare(made);
    let iterations = 0;
    let moved_K = Number.POSITIVE_INFINITY;
    for (let step = 1; step <= mostSteps; step++) {
      if (step === 1)
        sourceOfFirstStep(made.network.sink_W_per_K, made.held_W_per_K, rise_K, made.source_W, source);
      else if (moved_K > farAway_K) {
        // So far off that its own network tells more than an old one corrected.
        made = this.networks.fill(0, model, state, rise_K);
        solver = this.prepare(made);
        sourceOfFirstStep(made.network.sink_W_per_K, made.held_W_per_K, rise_K, made.source_W, source);
      } else this.correct(made, this.networks.fill(1, model, state, rise_K), rise_K);
      const solved = solver.solve(source, {
        start: rise_K,
        into: rise_K === fields[0] ? fields[1] : fields[0],
        tolerance: step === 1 ? tolerances.first : tolerances.later,
        ...(isCancelled === undefined ? {} : { isCancelled }),
      });
      if (!solved.ok) return solved;
      iterations += solved.value.iterations;
      const before_K = moved_K;
      moved_K = farthest(rise_K, solved.value.rise_K);
      rise_K = solved.value.rise_K;
      if (Math.min(leftOver, moved_K / before_K || leftOver) * moved_K <= within_K)
        return found({ rise_K, steps: step, iterations, moved_K });
    }
    return refused({ kind: 'not-settled', moved_K });
  }

  /** The source that brings the network of the start to the field that its own network would have. */
  private correct(
    { network: held }: QuickNetwork,
    { network: now, held_W_per_K, source_W }: QuickNetwork,
    rise_K: Float64Array,
  ): void {
    const { flow, held: pulled, source } = this.workFor(rise_K.length);
    const { nx, ny, nz } = now;
    const parts = (network: typeof now, sinks: Float64Array) => ({
      E: network.east_W_per_K,
      N: network.north_W_per_K,
      U: network.up_W_per_K,
      s: sinks,
    });
    applyNetwork(parts(now, held_W_per_K), nx, ny, nz, rise_K, flow);
    applyNetwork(parts(held, held.sink_W_per_K), nx, ny, nz, rise_K, pulled);
    sourceOfStep(flow, pulled, source_W, source);
  }

  private prepare({ network }: QuickNetwork): HeatSolver {
    if (this.solver === undefined) this.solver = prepareSolver(network);
    else this.solver.prepare(network);
    return this.solver;
  }

  private workFor(n: number): Work {
    if (this.work?.source.length !== n) {
      const make = () => new Float64Array(n);
      this.work = { flow: make(), held: make(), source: make(), fields: [make(), make()] };
    }
    return this.work;
  }
}

/** Room for one size of problem. */
interface Work {
  readonly flow: Float64Array;
  readonly held: Float64Array;
  readonly source: Float64Array;
  readonly fields: readonly [Float64Array, Float64Array];
}

/** A step longer than this, K, ends in a place where films and gaps are others. @assumed a tenth of a usual rise */
const farAway_K = 3;

/** All heat over the whole outside at a usual film. */
function guess({ laid, partOf }: QuickModel, { power_W }: DeviceState): Float64Array {
  const { length_mm, width_mm, thickness_mm } = laid;
  const outside_m2 = 2e-6 * (length_mm * width_mm + (length_mm + width_mm) * thickness_mm);
  const whole_W = [...power_W.values()].reduce((sum, power) => sum + power, 0);
  return new Float64Array(partOf.length).fill(whole_W / (10 * outside_m2));
}
