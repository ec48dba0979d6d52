import { found, type Result, refused } from '../../measure/index.js';
import type { Layer, Setup } from '../../records/index.js';
import { type Fit, factorsFrom } from '../calibrate/fit-unknowns.js';
import type { Use } from '../calibrate/predict.js';
import { respond } from '../calibrate/respond.js';
import type { Soaks } from '../calibrate/soaks.js';
import { DeviceNetworks, type DeviceState } from '../device/device-network.js';
import { volumeOf } from '../device/fill-cells.js';
import type { Reading } from '../device/read-field.js';
import type { DeviceSolver, NoDeviceField } from '../device/solve-device.js';
import { fillResidual } from '../solve/residual.js';

/** Something that could be changed, and what it would do to the pack. */
export interface Lever {
  /** The id of an unknown, or `thickness:2` for the third layer. */
  readonly id: string;
  readonly name: string;
  readonly kind: 'power' | 'film' | 'gap' | 'material' | 'thickness' | 'other';
  /** What change is meant, in words: `10 % more`, `0.1 mm thicker`. */
  readonly change: string;
  /** What that change does, drawn on from a small one, K. */
  readonly hottest_K: number;
  readonly mean_K: number;
}

/** Changes that effects are told for: large enough to mean something, small enough that a slope tells them. @assumed */
const more = 0.1;
const thicker_mm = 0.1;

/** Relative step of a thickness: its effect is nearly straight, and rounding is far smaller. */
const step = 0.01;

/**
 * What matters most in a set-up: how far its hottest place and its mean move with everything that is not fixed.
 *
 * One adjoint solve for each of the two; after that every further lever costs a rebuilt network. A slope tells small changes: a film twice
 * as good does not do ten times what one of a tenth more does.
 *
 * @returns the greatest effect on the hottest place first; probes' own errors are left out, as they warm nothing
 * @source [GILES-PIERCE-00] the discrete adjoint: minus adjoint times change of the equations
 */
export function findLevers(
  soaks: Soaks,
  fit: Pick<Fit, 'logs'>,
  setup: Setup,
  use: Use,
  isCancelled?: () => boolean,
): Result<Lever[], NoDeviceField> {
  const solver = soaks.solverFor(setup);
  const factors = factorsFrom(soaks, fit.logs);
  const stateAt = (moved: ReadonlyMap<string, number>) => soaks.stateFor(solver, use, moved);
  const cancelling = isCancelled === undefined ? {} : { isCancelled };
  const solved = solver.solve(stateAt(factors), cancelling);
  if (!solved.ok) return solved;
  const readings = packReadings(solver, solved.value.rise_K);
  const unknowns = [...soaks.unknowns, ...solver.model.unknowns].filter(
    ({ id }, at, all) => !id.startsWith('probe:') && all.findIndex((other) => other.id === id) === at,
  );
  const answered = respond(
    solver,
    readings,
    unknowns.map(({ id }) => id),
    factors,
    stateAt,
    { solved: solved.value, ...cancelling },
  );
  if (!answered.ok) return answered;
  const { slopes_K, adjoints, field } = answered.value;
  const effect = (reading: number, at: number) =>
    Math.log(1 + more) * ((slopes_K[reading] as Float64Array)[at] as number);
  const levers: Lever[] = unknowns.map(({ id, name }, at) => ({
    id,
    name,
    kind: kindOf(id),
    change: '10 % more',
    hottest_K: effect(0, at),
    mean_K: effect(1, at),
  }));
  for (const [at, layer] of setup.layers.entries()) {
    if (isCancelled?.()) return refused({ kind: 'cancelled' });
    const slopes = thicknessSlopes_K_per_mm(
      soaks,
      setup,
      at,
      solver,
      stateAt(factors),
      field.rise_K,
      adjoints,
    );
    if (slopes === null) continue;
    levers.push({
      id: `thickness:${at}`,
      name: `thickness of the ${layer.name}`,
      kind: 'thickness',
      change: `${thicker_mm} mm thicker`,
      hottest_K: thicker_mm * (slopes[0] as number),
      mean_K: thicker_mm * (slopes[1] as number),
    });
  }
  return found(
    levers.sort(
      (one, other) => Math.abs(other.hottest_K) - Math.abs(one.hottest_K) || (one.id < other.id ? -1 : 1),
    ),
  );
}

function kindOf(id: string): Lever['kind'] {
  if (id === 'load' || id === 'charge' || id.startsWith('share:')) return 'power';
  if (id.startsWith('film-')) return 'film';
  if (['front-gap', 'bay', 'reserve', 'seat'].includes(id)) return 'gap';
  return id.startsWith('in-plane:') || id.startsWith('through:') ? 'material' : 'other';
}

/** The cell of the grid that is hottest in the pack, and the pack's mean. */
export function packReadings({ model }: DeviceSolver, rise_K: Float64Array): [Reading, Reading] {
  const { grid, laid, nx, nz, partOf } = model;
  const cells: number[] = [];
  const volumes: number[] = [];
  let hottest = -1;
  partOf.forEach((part, cell) => {
    if (laid.parts[part]?.role !== 'cell') return;
    const k = cell % nz;
    const column = (cell - k) / nz;
    cells.push(cell);
    volumes.push(volumeOf(grid, column % nx, Math.floor(column / nx), k));
    if (hottest < 0 || (rise_K[cell] as number) > (rise_K[hottest] as number)) hottest = cell;
  });
  const whole = volumes.reduce((sum, volume) => sum + volume, 0);
  return [
    { cells: Int32Array.of(hottest), weights: Float64Array.of(1) },
    { cells: Int32Array.from(cells), weights: Float64Array.from(volumes, (volume) => volume / whole) },
  ];
}

/** Change of each reading with a layer's thickness, the room behind the pack giving way, K/mm; null where a change would move cells. */
export function thicknessSlopes_K_per_mm(
  soaks: Soaks,
  setup: Setup,
  at: number,
  solver: DeviceSolver,
  state: DeviceState,
  rise_K: Float64Array,
  adjoints: readonly Float64Array[],
): number[] | null {
  const thickness_mm = (setup.layers[at] as Layer).thickness_mm;
  const residualAt = (by_mm: number): { by_mm: number; residual: Float64Array } | null => {
    const layers = setup.layers.map((layer, index) =>
      index === at ? { ...layer, thickness_mm: thickness_mm + by_mm } : layer,
    );
    try {
      const { model } = soaks.solverFor({ ...setup, layers });
      if (!hasSameCells(model, solver.model)) return null;
      const { network, source_W } = new DeviceNetworks(model).make(state, rise_K);
      const residual = new Float64Array(rise_K.length);
      fillResidual(network, source_W, rise_K, residual);
      return { by_mm, residual };
    } catch (error) {
      // Thicker than the bay or the table allows: the slope is taken from the other side.
      if (error instanceof Error && error.name === 'BadInputError') return null;
      throw error;
    }
  };
  const by_mm = step * thickness_mm;
  const [low, high] = [residualAt(-by_mm) ?? residualAt(0), residualAt(by_mm) ?? residualAt(0)];
  if (low === null || high === null || high.by_mm === low.by_mm) return null;
  return adjoints.map((adjoint) => {
    let sum = 0;
    for (let cell = 0; cell < adjoint.length; cell++)
      sum += (adjoint[cell] as number) * ((high.residual[cell] as number) - (low.residual[cell] as number));
    return sum / (high.by_mm - low.by_mm);
  });
}

function hasSameCells(one: DeviceSolver['model'], other: DeviceSolver['model']): boolean {
  return (
    one.nx === other.nx &&
    one.ny === other.ny &&
    one.nz === other.nz &&
    one.partOf.every((part, cell) => part === other.partOf[cell])
  );
}
