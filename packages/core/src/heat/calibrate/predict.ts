import { type Estimate, found, type Result } from '../../measure/index.js';
import type { Probe } from '../../records/index.js';
import type { DeviceModel } from '../device/device-model.js';
import { placeOfProbe, type Reading, readingAt } from '../device/read-field.js';
import type { DeviceField, NoDeviceField } from '../device/solve-device.js';
import { type Fit, factorsFrom } from './fit-unknowns.js';
import { respond } from './respond.js';
import { powerOf } from './soak-power.js';
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
}

/**
 * What a set-up would show: at its probes, at its hottest places and in the mean of its cells.
 *
 * @param widening factor on the model's own error; at least 1
 * @param gridError_K by target, from two grids; zero where none is given
 */
export function predictSetup(
  soaks: Soaks,
  fit: Pick<Fit, 'logs' | 'covariance' | 'modelError'>,
  request: { readonly setup: string; readonly charging: boolean; readonly load_W: number | null },
  widening: number,
  options: {
    readonly gridError_K?: ReadonlyMap<string, number>;
    readonly start?: Float64Array;
    readonly isCancelled?: () => boolean;
  } = {},
): Result<SetupPrediction, NoDeviceField> {
  const solver = soaks.solverOf(request.setup);
  const { model } = solver;
  const factors = factorsFrom(soaks, fit.logs);
  const stateAt = (moved: ReadonlyMap<string, number>) => ({
    factors: moved,
    power_W: powerOf(model, soaks.shares, request, moved),
    ambient_C: soaks.data.ambient_C,
  });
  const { start, isCancelled, gridError_K } = options;
  const solved = solver.solve(stateAt(factors), {
    ...(start === undefined ? {} : { start }),
    ...(isCancelled === undefined ? {} : { isCancelled }),
  });
  if (!solved.ok) return solved;
  const asked = listTargets(soaks, request.setup, solved.value.rise_K);
  const answered = respond(
    solver,
    asked.map(({ reading }) => reading),
    soaks.unknowns.map(({ id }) => id),
    factors,
    stateAt,
    { field: solved.value.rise_K, ...(isCancelled === undefined ? {} : { isCancelled }) },
  );
  if (!answered.ok) return answered;
  const rises = asked.map(({ target, reading, at }, index): PredictedRise => {
    const factor = target.probe === null ? 1 : (factors.get(`probe:${target.probe}`) ?? 1);
    const value = factor * (answered.value.rise_K[index] as number);
    const slopes = (answered.value.slopes_K[index] as Float64Array).map((slope, column) =>
      target.probe !== null && soaks.unknowns[column]?.id === `probe:${target.probe}`
        ? value
        : slope * factor,
    );
    const parts = {
      unknowns_K: Math.sqrt(quadratic(fit.covariance, slopes)),
      model_K: widening * fit.modelError * value,
      place_K:
        target.probe === null
          ? 0
          : placeDoubt_K(soaks, request.setup, target.probe, reading, solved.value.rise_K),
      grid_K: gridError_K?.get(target.id) ?? 0,
    };
    const u = Math.hypot(...Object.values(parts));
    return { target, rise_K: { value, u, dof: predictedDof }, parts, at };
  });
  return found({ setup: request.setup, field: answered.value.field, rises });
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
function listTargets(soaks: Soaks, setup: string, rise_K: Float64Array): Asked[] {
  const { build } = soaks;
  const { model } = soaks.solverOf(setup);
  const probes = build.probes.flatMap((probe): Asked[] => {
    const reading = soaks.readingOf(setup, probe.id);
    if (reading === null) return [];
    const target: Target = { id: `probe:${probe.id}`, name: probe.name, kind: 'probe', probe: probe.id };
    return [{ target, reading, at: placeOfProbe(build, probe) }];
  });
  const places: Asked[] = [];
  const cells = model.laid.parts.flatMap((part, index) => (part.role === 'cell' ? [index] : []));
  cells.forEach((part, index) => {
    const name = cells.length > 1 ? `cell ${index + 1}` : 'the pack';
    places.push(
      hottest(model, rise_K, `cell-${index + 1}`, `${name}, hottest`, (cell) => model.partOf[cell] === part),
    );
    places.push(
      meanOf(model, `cell-${index + 1}-mean`, `${name}, mean`, (cell) => model.partOf[cell] === part),
    );
  });
  for (const zone of build.zones) {
    const part = model.laid.parts.findIndex(({ heat }) => heat === zone.id);
    places.push(
      hottest(
        model,
        rise_K,
        `zone:${zone.id}`,
        `${zone.name}, hottest`,
        (cell) => model.partOf[cell] === part,
      ),
    );
  }
  for (const face of ['front', 'back'] as const) {
    const k = face === 'front' ? 0 : model.nz - 1;
    places.push(
      hottest(
        model,
        rise_K,
        `shell-${face}`,
        `${face} shell outside, hottest`,
        (cell) => cell % model.nz === k,
      ),
    );
  }
  return [...probes, ...places];
}

function hottest(
  model: DeviceModel,
  rise_K: Float64Array,
  id: string,
  name: string,
  belongs: (cell: number) => boolean,
): Asked {
  let best = -1;
  for (let cell = 0; cell < rise_K.length; cell++) {
    if (belongs(cell) && (best < 0 || (rise_K[cell] as number) > (rise_K[best] as number))) best = cell;
  }
  const column = Math.floor(best / model.nz);
  const middle = (edges: Float64Array, at: number) =>
    500 * ((edges[at] as number) + (edges[at + 1] as number));
  return {
    target: { id, name, kind: 'hottest', probe: null },
    reading: { cells: Int32Array.of(best), weights: Float64Array.of(1) },
    at: {
      x_mm: middle(model.grid.x_m, column % model.nx),
      y_mm: middle(model.grid.y_m, Math.floor(column / model.nx)),
    },
  };
}

function meanOf(model: DeviceModel, id: string, name: string, belongs: (cell: number) => boolean): Asked {
  const cells: number[] = [];
  const volumes: number[] = [];
  const size = (edges: Float64Array, at: number) => (edges[at + 1] as number) - (edges[at] as number);
  for (let cell = 0; cell < model.partOf.length; cell++) {
    if (!belongs(cell)) continue;
    const column = Math.floor(cell / model.nz);
    cells.push(cell);
    volumes.push(
      size(model.grid.z_m, cell % model.nz) *
        size(model.grid.x_m, column % model.nx) *
        size(model.grid.y_m, Math.floor(column / model.nx)),
    );
  }
  const whole = volumes.reduce((sum, volume) => sum + volume, 0);
  return {
    target: { id, name, kind: 'mean', probe: null },
    reading: {
      cells: Int32Array.from(cells),
      weights: Float64Array.from(volumes, (volume) => volume / whole),
    },
    at: null,
  };
}

/** How much a reading changes over the doubt of its place: what the field does two millimetres away, root mean square of four sides. */
function placeDoubt_K(
  soaks: Soaks,
  setup: string,
  probeId: string,
  reading: Reading,
  rise_K: Float64Array,
): number {
  const probe = soaks.build.probes.find(({ id }) => id === probeId) as Probe;
  const place = placeOfProbe(soaks.build, probe);
  if (place === null) return 0;
  const { grid, laid } = soaks.solverOf(setup).model;
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
    return moved === null ? [] : [at(moved) - here];
  });
  if (sides.length === 0) return 0;
  // Two directions, each with the mean square of its two sides.
  return Math.sqrt((2 * sides.reduce((sum, side) => sum + side * side, 0)) / sides.length);
}
