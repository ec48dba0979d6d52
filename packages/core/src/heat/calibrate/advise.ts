import type { Result } from '../../measure/index.js';
import { found } from '../../measure/index.js';
import { type Reading, readingAt } from '../device/read-field.js';
import type { NoDeviceField } from '../device/solve-device.js';
import { type Fit, factorsFrom } from './fit-unknowns.js';
import type { PredictedRise, SetupPrediction } from './predict.js';
import { respond } from './respond.js';
import type { Soaks } from './soaks.js';

/** One more measurement and what it would do to the doubt of what is predicted. */
export interface Advice {
  readonly id: string;
  readonly words: string;
  /** Part of the unknowns' doubt that would be left, root mean square over the targets: 1 is no help. */
  readonly left: number;
}

/** How well one more probe would be read, K. @assumed as those that are there: checked probe, one more mounting */
const newReading_K = 0.4;
/** How well a meter in the supply line reads the load, as a share. @assumed common practice, no source */
const meteredLoad = 0.01;

/**
 * Which further measurement would help most, of those a bench can make: a probe on each shell, on each zone without one, at the far end of the
 * pack, and a meter on the load.
 *
 * @param predictions whose hottest cell temperatures are to become firmer
 * @param slopes of those predictions' rises with the unknowns
 */
export function adviseMeasurement(
  soaks: Soaks,
  fit: Fit,
  setup: string,
  predictions: readonly SetupPrediction[],
): Result<Advice[], NoDeviceField> {
  const targets = predictions.flatMap(({ rises, slopes_K }) =>
    rises.flatMap((rise, index) => (isHottestCell(rise) ? [slopes_K[index] as Float64Array] : [])),
  );
  if (targets.length === 0) return found([]);
  const soak = soaks.data.states.find(
    (each) => each.setup === setup && !each.charging && each.phase === 'load',
  );
  if (soak === undefined) return found([]);
  const solver = soaks.solverOf(setup);
  const candidates = listCandidates(soaks, setup, predictions);
  const answered = respond(
    solver,
    candidates.map(({ reading }) => reading),
    soaks.unknowns.map(({ id }) => id),
    factorsFrom(soaks, fit.logs),
    (factors) => soaks.stateFor(solver, soak, factors),
  );
  if (!answered.ok) return answered;
  const advice = candidates.map(
    ({ id, words }, index): Advice => ({
      id,
      words,
      left: doubtLeft(fit.covariance, targets, answered.value.slopes_K[index] as Float64Array, newReading_K),
    }),
  );
  const load = soaks.unknowns.findIndex(({ id }) => id === 'load');
  if (load >= 0 && (soaks.unknowns[load]?.spread as number) > 2 * meteredLoad) {
    const slopes = new Float64Array(soaks.unknowns.length);
    slopes[load] = 1;
    advice.push({
      id: 'load',
      words: 'Meter the power that goes into the device',
      left: doubtLeft(fit.covariance, targets, slopes, meteredLoad),
    });
  }
  return found(advice.sort((one, other) => one.left - other.left));
}

function isHottestCell({ target }: PredictedRise): boolean {
  return target.kind === 'hottest' && target.id.startsWith('cell-');
}

function listCandidates(
  soaks: Soaks,
  setup: string,
  predictions: readonly SetupPrediction[],
): { id: string; words: string; reading: Reading }[] {
  const { build } = soaks;
  const probed = (place: string, zone?: string) =>
    build.probes.some((probe) => probe.place === place && (zone === undefined || probe.zone === zone));
  const known = predictions.find((prediction) => prediction.setup === setup) ?? predictions[0];
  const place = (id: string) => known?.rises.find(({ target }) => target.id === id)?.at ?? null;
  const { model } = soaks.solverOf(setup);
  const cellAt = (at: { x_mm: number; y_mm: number }, k: number): Reading => {
    const find = (edges: Float64Array, value_mm: number) => {
      let index = 0;
      while (index + 2 < edges.length && (edges[index + 1] as number) * 1000 <= value_mm) index++;
      return index;
    };
    const cell = k + model.nz * (find(model.grid.x_m, at.x_mm) + model.nx * find(model.grid.y_m, at.y_mm));
    return { cells: Int32Array.of(cell), weights: Float64Array.of(1) };
  };
  const candidates: { id: string; words: string; reading: Reading }[] = [];
  for (const face of ['front', 'back'] as const) {
    const at = place(`shell-${face}`);
    if (at === null || (face === 'back' && probed('shell'))) continue;
    candidates.push({
      id: `shell-${face}`,
      words: `Put a probe on the outside of the ${face} shell, over its hottest place`,
      reading: cellAt(at, face === 'front' ? 0 : model.nz - 1),
    });
  }
  for (const zone of build.zones) {
    if (probed('zone', zone.id)) continue;
    const reading = readingAt(
      model.grid,
      model.laid,
      { place: 'zone', zone: zone.id },
      {
        x_mm: zone.x_mm + zone.length_mm / 2,
        y_mm: zone.y_mm + zone.width_mm / 2,
      },
    );
    if (reading !== null)
      candidates.push({ id: `zone:${zone.id}`, words: `Put a probe on the ${zone.name}`, reading });
  }
  const outline = build.newPack?.outline;
  if (outline !== undefined) {
    const reading = readingAt(
      model.grid,
      model.laid,
      { place: 'cell' },
      {
        x_mm: outline.x_mm + 0.95 * outline.length_mm,
        y_mm: outline.y_mm + 0.9 * outline.width_mm,
      },
    );
    if (reading !== null)
      candidates.push({ id: 'pack-corner', words: 'Put a probe on the far corner of the pack', reading });
  }
  return candidates;
}

/** Root mean square over targets of the doubt that one more reading leaves, over what it was. @source [TARANTOLA-05] the update of a Gaussian by one linear reading */
function doubtLeft(
  covariance: readonly Float64Array[],
  targets: readonly Float64Array[],
  slopes: Float64Array,
  reading_u: number,
): number {
  const carried = covariance.map((row) => dot(row, slopes));
  const own = dot(Float64Array.from(carried), slopes) + reading_u ** 2;
  let before = 0;
  let after = 0;
  for (const target of targets) {
    const variance = dot(
      Float64Array.from(covariance, (row) => dot(row, target)),
      target,
    );
    before += variance;
    after += variance - dot(Float64Array.from(carried), target) ** 2 / own;
  }
  return before > 0 ? Math.sqrt(Math.max(0, after) / before) : 1;
}

function dot(one: Float64Array, other: Float64Array): number {
  return one.reduce((sum, value, index) => sum + value * (other[index] as number), 0);
}
