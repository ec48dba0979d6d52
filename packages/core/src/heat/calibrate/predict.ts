import { type Estimate, found, type Result } from '../../measure/index.js';
import type { Probe } from '../../records/index.js';
import type { DeviceState } from '../device/device-network.js';
import { findPlaces, readingOfPlace } from '../device/find-places.js';
import { applyReading, placeOfProbe, type Reading, readingAt } from '../device/read-field.js';
import type { DeviceField, DeviceSolver, NoDeviceField } from '../device/solve-device.js';
import { type Fit, factorsFrom } from './fit-unknowns.js';
import { respond } from './respond.js';
import type { Soaks } from './soaks.js';

/** Something of a device that can be asked for. */
export interface Target {
  /** `probe:c1`, `cell-1`, `pack`, `zone:processor`, `shell-back` and so on. */
  readonly id: string;
  readonly name: string;
  readonly kind: 'probe' | 'hottest' | 'mean';
  /** The probe it is, where it is one. */
  readonly probe: string | null;
}

/** A predicted rise with what its doubt is made of, all as standard uncertainties in K. */
export interface PredictedRise {
  readonly target: Target;
  readonly rise_K: Estimate;
  readonly parts: {
    /** Unknowns as far as the runs have left them open. */
    readonly unknowns_K: number;
    /** The model's own error, widened by what leaving set-ups out has shown. */
    readonly model_K: number;
    /** The probe a little off its place; zero for what is no probe. */
    readonly place_K: number;
    /** Cells too coarse. */
    readonly grid_K: number;
  };
  /** Where the hottest place is, mm in plan; null for means. */
  readonly at: { readonly x_mm: number; readonly y_mm: number } | null;
}

/** Where a probe sits, to within this, mm. @assumed a probe is taped to where it was meant to be within 2 mm */
export const probePlace_mm = 2;

/** Degrees of freedom of a predicted doubt: few set-ups stand behind the model's own error. @assumed as of five set-ups */
const predictedDof = 5;

/** Everything of one set-up in one use, predicted. */
export interface SetupPrediction {
  readonly setup: string;
  readonly field: DeviceField;
  readonly rises: readonly PredictedRise[];
  /** How each rise hangs on the unknowns' logarithms, K: rows in the order of `rises`. */
  readonly slopes_K: readonly Float64Array[];
}

/** What is asked of a device: how much it is loaded, and whether it charges. */
export interface Use {
  readonly charging: boolean;
  /** Absent, under load. */
  readonly phase?: 'idle' | 'load';
  /** W; null takes the usual load of the runs. */
  readonly load_W: number | null;
}

/**
 * What a set-up would show: at its probes, at its hottest places and in the mean of its cells.
 *
 * A material that was not among the soaks brings the spread of its table row, whole.
 *
 * @param solver the device with the set-up, from `soaks.solverFor`
 * @param widening factor on the model's own error; at least 1
 * @param options `coarse` the same device on a coarser grid: without it the error of the grid is left out
 */
export function predictSetup(
  soaks: Soaks,
  fit: Pick<Fit, 'logs' | 'covariance' | 'modelError'>,
  solver: DeviceSolver,
  use: Use,
  widening: number,
  options: {
    readonly coarse?: DeviceSolver;
    /** By probe, what merging cells does to its reading in the measured set-ups, K: so much of the grid's error the fit has absorbed. */
    readonly absorbed_K?: ReadonlyMap<string, number>;
    readonly start?: Float64Array;
    /** Adjoints by target, of other uses of the same set-up: each is started from, and replaced. */
    readonly adjoints?: Map<string, Float64Array>;
    /** Which targets are asked for; all without it. Each costs an adjoint. */
    readonly asks?: (target: Target) => boolean;
    readonly isCancelled?: () => boolean;
  } = {},
): Result<SetupPrediction, NoDeviceField> {
  const { model } = solver;
  const factors = factorsFrom(soaks, fit.logs);
  const stateAt = (moved: ReadonlyMap<string, number>) => soaks.stateFor(solver, use, moved);
  const { start, isCancelled, coarse, absorbed_K, adjoints, asks = () => true } = options;
  const cancelling = isCancelled === undefined ? {} : { isCancelled };
  const solved = solver.solve(stateAt(factors), { ...(start === undefined ? {} : { start }), ...cancelling });
  if (!solved.ok) return solved;
  const asked = listTargets(soaks, solver, solved.value.rise_K).filter(({ target }) => asks(target));
  const fitted = soaks.unknowns.map(({ id }) => id);
  const fresh = model.unknowns.filter(({ id }) => !fitted.includes(id));
  const answered = respond(
    solver,
    asked.map(({ reading }) => reading),
    [...fitted, ...fresh.map(({ id }) => id)],
    factors,
    stateAt,
    {
      solved: solved.value,
      ...(adjoints && { adjoints: asked.map(({ target }) => adjoints.get(target.id)) }),
      ...cancelling,
    },
  );
  if (!answered.ok) return answered;
  for (const [at, adjoint] of answered.value.adjoints.entries())
    adjoints?.set(asked[at]?.target.id ?? '', adjoint);
  const grid_K =
    coarse === undefined
      ? null
      : gridErrors_K(soaks, coarse, stateAt(factors), asked, answered.value.rise_K, absorbed_K, isCancelled);
  if (grid_K !== null && !grid_K.ok) return grid_K;
  const slopes_K: Float64Array[] = [];
  const rises = asked.map(({ target, reading, at }, index): PredictedRise => {
    const factor = target.probe === null ? 1 : (factors.get(`probe:${target.probe}`) ?? 1);
    const value = factor * (answered.value.rise_K[index] as number);
    const all = answered.value.slopes_K[index] as Float64Array;
    const slopes = all
      .slice(0, fitted.length)
      .map((slope, column) =>
        target.probe !== null && fitted[column] === `probe:${target.probe}` ? value : slope * factor,
      );
    slopes_K.push(slopes);
    const unsoaked = fresh.reduce(
      (sum, { spread }, column) => sum + (spread * factor * (all[fitted.length + column] as number)) ** 2,
      0,
    );
    const parts = {
      unknowns_K: Math.sqrt(quadratic(fit.covariance, slopes) + unsoaked),
      model_K: widening * fit.modelError * value,
      place_K:
        target.probe === null ? 0 : placeDoubt_K(soaks, solver, target.probe, reading, solved.value.rise_K),
      grid_K: grid_K?.value[index] ?? 0,
    };
    const u = Math.hypot(...Object.values(parts));
    return { target, rise_K: { value, u, dof: predictedDof }, parts, at };
  });
  return found({ setup: model.setup, field: answered.value.field, rises, slopes_K });
}

/**
 * Error of the grid at each target, as a standard uncertainty: what halving every cell once more might still change.
 *
 * The grid's error falls about in proportion to the cells: sources and gaps end at edges, where a temperature bends sharply. So the
 * difference between two grids of which one has cells twice as long is what the finer one still lacks, taken as the half-width of an even
 * distribution. At a probe the fit has absorbed what is the same in the measured set-ups; only the rest counts.
 *
 * @source [ROACHE-94] two grids and extrapolation, with the order taken as one
 */
function gridErrors_K(
  soaks: Soaks,
  coarse: DeviceSolver,
  state: DeviceState,
  asked: readonly Asked[],
  fine_K: Float64Array,
  absorbed_K: ReadonlyMap<string, number> | undefined,
  isCancelled: (() => boolean) | undefined,
): Result<number[], NoDeviceField> {
  const solved = coarse.solve(state, isCancelled === undefined ? {} : { isCancelled });
  if (!solved.ok) return solved;
  const rough = listTargets(soaks, coarse, solved.value.rise_K);
  return found(
    asked.map(({ target }, index) => {
      const same = rough.find((each) => each.target.id === target.id);
      if (same === undefined) return 0;
      const shift_K = (fine_K[index] as number) - applyReading(same.reading, solved.value.rise_K);
      const absorbed = target.probe === null ? 0 : (absorbed_K?.get(target.probe) ?? 0);
      return Math.abs(shift_K - absorbed) / Math.sqrt(3);
    }),
  );
}

function quadratic(covariance: readonly Float64Array[], slopes: Float64Array): number {
  let sum = 0;
  covariance.forEach((row, a) => {
    const weight = slopes[a] as number;
    if (weight !== 0)
      row.forEach((value, b) => {
        sum += weight * value * (slopes[b] as number);
      });
  });
  return Math.max(0, sum);
}

interface Asked {
  readonly target: Target;
  readonly reading: Reading;
  readonly at: { readonly x_mm: number; readonly y_mm: number } | null;
}

/** What can be asked of a set-up, hottest places as this field has them. */
function listTargets(soaks: Soaks, solver: DeviceSolver, rise_K: Float64Array): Asked[] {
  const { build } = soaks;
  const { model } = solver;
  const probes = build.probes.flatMap((probe): Asked[] => {
    const reading = soaks.readingOf(solver, probe.id);
    if (reading === null) return [];
    const target: Target = { id: `probe:${probe.id}`, name: probe.name, kind: 'probe', probe: probe.id };
    return [{ target, reading, at: placeOfProbe(build, probe) }];
  });
  const places = findPlaces(model, rise_K, build.zones).map((place): Asked => {
    const { id, name, kind, probe, at } = place;
    return { target: { id, name, kind, probe }, reading: readingOfPlace(model, place), at };
  });
  return [...probes, ...places];
}

/** How much a reading changes over the doubt of its place: what the field does two millimetres away, root mean square of four sides. */
function placeDoubt_K(
  soaks: Soaks,
  solver: DeviceSolver,
  probeId: string,
  reading: Reading,
  rise_K: Float64Array,
): number {
  const probe = soaks.build.probes.find(({ id }) => id === probeId) as Probe;
  const place = placeOfProbe(soaks.build, probe);
  if (place === null) return 0;
  const { grid, laid } = solver.model;
  const at = (shift: Reading) =>
    shift.cells.reduce(
      (sum, cell, index) => sum + (shift.weights[index] as number) * (rise_K[cell] as number),
      0,
    );
  const here = at(reading);
  const sides = [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ].flatMap(([x, y]) => {
    const moved = readingAt(grid, laid, probe, {
      x_mm: place.x_mm + (x as number) * probePlace_mm,
      y_mm: place.y_mm + (y as number) * probePlace_mm,
    });
    return moved === null ? [] : [applyReading(moved, rise_K) - here];
  });
  if (sides.length === 0) return 0;
  // Two directions, each with the mean square of its two sides.
  return Math.sqrt((2 * sides.reduce((sum, side) => sum + side * side, 0)) / sides.length);
}
