import type { Contest } from '../../compare/index.js';
import { found, type Result, refused } from '../../measure/index.js';
import type { Correction } from '../../probes/index.js';
import type { Build } from '../../records/index.js';
import { type AssessHeatOptions, type HeatAssessment, HeatBench, type NoHeat } from '../assess-heat.js';
import { collectCalibrationData } from '../calibrate/calibration-data.js';
import type { Fit } from '../calibrate/fit-unknowns.js';
import type { GridWish } from '../device/lay-grid.js';

/** What has to be known of a fit to predict with it elsewhere. It can be sent from one worker to another. */
export interface Calibrated extends Pick<Fit, 'logs' | 'covariance' | 'modelError'> {
  /** Factor on the model's own error, from leaving set-ups out. */
  readonly widening: number;
}

/** Where only one set-up was soaked, nothing tells how the model predicts another. @assumed its usual error, doubled */
const unchecked = 2;

/** A bench that keeps its fit for whoever comes after it. */
class KeepingBench extends HeatBench {
  kept: Fit | null = null;

  override calibrate(options: AssessHeatOptions = {}): Result<Fit, NoHeat> {
    const fit = super.calibrate(options);
    if (fit.ok) this.kept = fit.value;
    return fit;
  }
}

/**
 * Everything a page needs of a build's model: what it has to say, and the fit to predict further set-ups with, without calibrating again.
 *
 * @throws BadInputError where the records cannot carry a model, or there is no rise to hold it to
 */
export function calibrateHeat(
  build: Build,
  contests: readonly Contest[],
  corrections: readonly Correction[],
  options: AssessHeatOptions = {},
): Result<{ readonly assessment: HeatAssessment; readonly calibrated: Calibrated }, NoHeat> {
  const bench = new KeepingBench(build, contests, corrections, options.grid);
  const assessed = bench.assess(options);
  if (!assessed.ok) return assessed;
  if (bench.kept === null) return refused({ kind: 'no-data' });
  const { logs, covariance, modelError } = bench.kept;
  const widening = assessed.value.leaveOneOut?.widening ?? unchecked;
  return found({ assessment: assessed.value, calibrated: { logs, covariance, modelError, widening } });
}

/**
 * What a calibration rests on, as a text: two states of a build with the same text have the same model.
 *
 * A set-up nobody has run, a limit, the duty and all names may change without a new calibration.
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
