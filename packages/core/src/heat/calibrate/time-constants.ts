import { found, type Result } from '../../measure/index.js';
import { mean, standardDeviation } from '../../numerics/index.js';
import type { RunResult } from '../../runs/index.js';
import type { DeviceState } from '../device/device-network.js';
import type { DeviceSolver, NoDeviceField } from '../device/solve-device.js';
import { capacitiesOf } from '../solve/network.js';
import { type Fit, factorsFrom } from './fit-unknowns.js';
import type { Soaks } from './soaks.js';

/** How slowly a set-up settles, as its runs show it and as the model has it. */
export interface Pace {
  readonly setup: string;
  readonly model_s: number;
  /** Mean over the runs' cell probes under load, with its standard deviation between them; null where none has any. */
  readonly measured_s: number | null;
  readonly spread_s: number | null;
  readonly runs: number;
  /** True where they differ by more than heat capacities out of a table can explain. */
  readonly differs: boolean;
}

/** Heat capacities of a table are good to this, as a factor either way. @assumed densities and specific heats of wide ranges, and parts that are not modelled */
const explained = 1.3;

/**
 * The slowest time constant of each soaked set-up, measured and modelled.
 *
 * The fit has seen no transient: agreement here is a check it was not made for. A model that is far too quick has forgotten something heavy,
 * and its steady temperatures may be right all the same.
 */
export function compareTimeConstants(
  soaks: Soaks,
  fit: Pick<Fit, 'logs'>,
  runs: readonly RunResult[],
): Result<Pace[], NoDeviceField> {
  const factors = factorsFrom(soaks, fit.logs);
  const cells = soaks.build.probes.filter(({ place }) => place === 'cell').map(({ id }) => id);
  const paces: Pace[] = [];
  for (const soak of soaks.data.states) {
    if (soak.charging || soak.phase !== 'load') continue;
    const solver = soaks.solverOf(soak.setup);
    const slowest = slowestTimeConstant_s(solver, soaks.stateFor(solver, soak, factors));
    if (!slowest.ok) return slowest;
    const counted = runs.filter((run) => run.counted && !run.charging && run.setup === soak.setup);
    const found_s = counted.flatMap(({ plateaus }) =>
      plateaus.flatMap(({ probe, phase, result }) =>
        phase === 'load' && cells.includes(probe) && result.ok
          ? [Math.max(...result.value.timeConstants.map(({ tau_s }) => tau_s))]
          : [],
      ),
    );
    const measured_s = found_s.length === 0 ? null : mean(found_s);
    const ratio = measured_s === null ? 1 : slowest.value / measured_s;
    paces.push({
      setup: soak.setup,
      model_s: slowest.value,
      measured_s,
      spread_s: found_s.length > 1 ? standardDeviation(found_s) : null,
      runs: counted.length,
      differs: ratio > explained || ratio < 1 / explained,
    });
  }
  return found(paces);
}

/** Rounds of the iteration; the second slowest mode is mostly a few times faster, so each leaves a small part of the error. */
const mostRounds = 30;
/** Change from round to round at which a time constant counts as found. */
const settled = 1e-4;

/**
 * The slowest time constant of a device about the field that a state gives, s.
 *
 * @source [GVL] section 8.2.2, inverse iteration with the Rayleigh quotient, on C against A
 */
export function slowestTimeConstant_s(
  solver: DeviceSolver,
  state: DeviceState,
): Result<number, NoDeviceField> {
  const solved = solver.solve(state);
  if (!solved.ok) return solved;
  const { grid, capacity_J_per_m3K } = solver.model;
  const capacity = capacitiesOf(grid, capacity_J_per_m3K);
  let mode = solved.value.rise_K;
  let slowest_s = 0;
  for (let round = 0; round < mostRounds; round++) {
    const load = mode.map((value, cell) => value * (capacity[cell] as number));
    const next = solver.solveTangent(
      state,
      solved.value.rise_K,
      load,
      slowest_s > 0 ? mode.map((value) => value * slowest_s) : undefined,
    );
    if (!next.ok) return next;
    let stored = 0;
    let shed = 0;
    next.value.forEach((value, cell) => {
      stored += value * value * (capacity[cell] as number);
      shed += value * (load[cell] as number);
    });
    const found_s = stored / shed;
    const size = Math.sqrt(stored);
    mode = next.value.map((value) => value / size);
    const isSettled = Math.abs(found_s / slowest_s - 1) < settled;
    slowest_s = found_s;
    if (isSettled) break;
  }
  return found(slowest_s);
}
