import type { HeatAssessment } from '@soakbench/core/heat';
import { BadInputError } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type Assessment, addPredictions, heatInputs, type PredictedVerdict } from '@soakbench/core/verdict';
import { withThreads } from './threads.js';

/** What a calibrated model says of untried set-ups, and the model, for whoever asks it more. */
export interface Untried {
  readonly predicted: PredictedVerdict;
  readonly heat: HeatAssessment;
}

/**
 * What the heat model says of set-ups that were never soaked.
 *
 * @returns null where it was stopped, or where records or runs cannot carry a model: a verdict stands without predictions
 */
export async function predictUntried(build: Build, assessment: Assessment): Promise<Untried | null> {
  try {
    const inputs = heatInputs(build, assessment);
    const heat = await withThreads(({ start, tell }) => start(true).do({ kind: 'assess', inputs }, tell));
    return heat?.ok === true
      ? { predicted: addPredictions(build, assessment, heat.value), heat: heat.value }
      : null;
  } catch (error) {
    if (error instanceof BadInputError) return null;
    throw error;
  }
}
