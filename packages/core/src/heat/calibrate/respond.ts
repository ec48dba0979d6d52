import { found, type Result } from '../../measure/index.js';
import type { DeviceState } from '../device/device-network.js';
import { slopesOf } from '../device/linearise.js';
import { applyReading, type Reading } from '../device/read-field.js';
import type { DeviceField, DeviceSolver, NoDeviceField, SolveDeviceOptions } from '../device/solve-device.js';

/** What a device would show at some places, and how that hangs on what is unknown. */
export interface Response {
  readonly field: DeviceField;
  /** Rise at each reading, K. */
  readonly rise_K: Float64Array;
  /** Change of each reading with the logarithm of each unknown's factor, K: one row for each reading. */
  readonly slopes_K: readonly Float64Array[];
  /** Adjoints of the readings, K/W in each cell: where a watt more would show. */
  readonly adjoints: readonly Float64Array[];
}

/** Step in the logarithm of a factor, for the heat that hangs on it: small against what bends it, large against rounding. */
const step = 1e-4;

/**
 * Solves a device and finds, with one adjoint solve for each reading, how every reading hangs on every unknown.
 *
 * @param unknowns ids in the order of the columns
 * @param stateAt the state for given factors: powers hang on them too
 * @param starts fields near the answers, of earlier rounds, or the field itself where it is solved already
 * @source [GILES-PIERCE-00] the discrete adjoint; the network is symmetric, so an adjoint solve is a solve
 */
export function respond(
  solver: DeviceSolver,
  readings: readonly Reading[],
  unknowns: readonly string[],
  factors: ReadonlyMap<string, number>,
  stateAt: (factors: ReadonlyMap<string, number>) => DeviceState,
  starts: {
    readonly field?: Float64Array;
    readonly solved?: DeviceField;
    readonly adjoints?: readonly (Float64Array | undefined)[];
  } & Pick<SolveDeviceOptions, 'isCancelled'> = {},
): Result<Response, NoDeviceField> {
  const state = stateAt(factors);
  const solved =
    starts.solved === undefined
      ? solver.solve(state, {
          ...(starts.field === undefined ? {} : { start: starts.field }),
          ...(starts.isCancelled === undefined ? {} : { isCancelled: starts.isCancelled }),
        })
      : found(starts.solved);
  if (!solved.ok) return solved;
  const field = solved.value;
  const rise_K = Float64Array.from(readings, (reading) => applyReading(reading, field.rise_K));
  const adjoints: Float64Array[] = [];
  for (const [index, reading] of readings.entries()) {
    const adjoint = solver.solveAdjoint(
      state,
      field.rise_K,
      spread(reading, field.rise_K.length),
      starts.adjoints?.[index],
    );
    if (!adjoint.ok) return adjoint;
    adjoints.push(adjoint.value);
  }
  const moved_W = unknowns.map((id) => {
    const moved = stateAt(new Map(factors).set(id, (factors.get(id) ?? 1) * Math.exp(step)));
    return solver.model.heat.map(
      ({ id: source }) => (moved.power_W.get(source) ?? 0) - (state.power_W.get(source) ?? 0),
    );
  });
  const linear = solver.linearise(state, field.rise_K);
  const slopes_K = adjoints.map((adjoint) => {
    const conduction = slopesOf(linear, adjoint);
    const perWatt = solver.model.heat.map(({ cells, shares }) => {
      let sum = 0;
      for (let place = 0; place < cells.length; place++)
        sum += (adjoint[cells[place] as number] as number) * (shares[place] as number);
      return sum;
    });
    return Float64Array.from(unknowns, (id, column) => {
      const heat = (moved_W[column] as number[]).reduce(
        (sum, by_W, place) => sum + (perWatt[place] as number) * by_W,
        0,
      );
      return (conduction.get(id) ?? 0) + heat / step;
    });
  });
  return found({ field, rise_K, slopes_K, adjoints });
}

function spread({ cells, weights }: Reading, count: number): Float64Array {
  const all = new Float64Array(count);
  cells.forEach((cell, index) => {
    all[cell] = (all[cell] as number) + (weights[index] as number);
  });
  return all;
}
