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
 * @param starts fields near the answers, of earlier rounds
 * @source [GILES-PIERCE-00] the discrete adjoint; the network is symmetric, so an adjoint solve is a solve
 */
export function respond(
  solver: DeviceSolver,
  readings: readonly Reading[],
  unknowns: readonly string[],
  factors: ReadonlyMap<string, number>,
  stateAt: (factors: ReadonlyMap<string, number>) => DeviceState,
  starts: { readonly field?: Float64Array; readonly adjoints?: readonly Float64Array[] } & Pick<
    SolveDeviceOptions,
    'isCancelled'
  > = {},
): Result<Response, NoDeviceField> {
  const state = stateAt(factors);
  const solved = solver.solve(state, {
    ...(starts.field === undefined ? {} : { start: starts.field }),
    ...(starts.isCancelled === undefined ? {} : { isCancelled: starts.isCancelled }),
  });
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
  const slopes_K = readings.map(() => new Float64Array(unknowns.length));
  const made = solver.networks.make(state, field.rise_K);
  adjoints.forEach((adjoint, index) => {
    const conduction = slopesOf(solver.networks, made, adjoint, field.rise_K);
    const perWatt = solver.model.heat.map(({ cells, shares }) =>
      cells.reduce((sum, cell, place) => sum + (adjoint[cell] as number) * (shares[place] as number), 0),
    );
    unknowns.forEach((id, column) => {
      const moved = stateAt(new Map(factors).set(id, (factors.get(id) ?? 1) * Math.exp(step)));
      const heat = solver.model.heat.reduce(
        (sum, { id: source }, place) =>
          sum +
          (perWatt[place] as number) * ((moved.power_W.get(source) ?? 0) - (state.power_W.get(source) ?? 0)),
        0,
      );
      (slopes_K[index] as Float64Array)[column] = (conduction.get(id) ?? 0) + heat / step;
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
