import type { Contest } from '../../compare/index.js';
import { found, type Result, refused } from '../../measure/index.js';
import type { Correction } from '../../probes/index.js';
import type { Build } from '../../records/index.js';
import {
  type AssessHeatOptions,
  type Calibrated,
  type HeatAssessment,
  HeatBench,
  type NoHeat,
} from '../assess-heat.js';
import { collectCalibrationData } from '../calibrate/calibration-data.js';
import type { GridWish } from '../device/lay-grid.js';

/**
 * Everything a page needs of a build's model: what it has to say, and the fit to predict further set-ups with, without calibrating again.
 *
 * @throws BadInputError where the records cannot carry a model, or there is no rise to hold it to
 */
export function calibrateHeat(
  build: Build,
  contests: readonly Contest[],
  corrections: readonly Correction[],
  options: AssessHeatOptions & { readonly grid?: GridWish } = {},
): Result<{ readonly assessment: HeatAssessment; readonly calibrated: Calibrated }, NoHeat> {
  const bench = new HeatBench(build, contests, corrections, options.grid);
  const assessed = bench.assess(options);
  if (!assessed.ok) return assessed;
  const { calibrated } = bench;
  return calibrated === null
    ? refused({ kind: 'no-data' })
    : found({ assessment: assessed.value, calibrated });
}

/**
 * What a calibration rests on, as a text: two states of a build with the same text have the same model.
 *
 * A set-up nobody has run, a limit, the hours of the duty and all names may change without a new calibration.
 */
export function calibrationKey(
  build: Build,
  contests: readonly Contest[],
  corrections: readonly Correction[],
  grid?: GridWish,
): string {
  const data = collectCalibrationData(build, contests, corrections);
  const measured = build.setups
    .filter(({ id }) => data.states.some(({ setup }) => setup === id))
    .map(({ id, layers }) => [id, layers]);
  const { states, data: rises, covariance_K2, ambient_C } = data;
  return JSON.stringify([
    build.device ?? null,
    build.newPack ?? null,
    build.dutyYear?.charging.charge_W ?? null,
    build.zones,
    build.probes,
    measured,
    build.baseline ?? null,
    [states, rises, covariance_K2.map((row) => [...row]), ambient_C],
    grid ?? null,
  ]);
}

/** Whether there is any rise under load that a model could be held to. */
export function hasHeatData(
  build: Build,
  contests: readonly Contest[],
  corrections: readonly Correction[],
): boolean {
  return collectCalibrationData(build, contests, corrections).data.length > 0;
}
