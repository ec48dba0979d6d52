import { BadInputError } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type Assessment, addPredictions, heatInputs, type PredictedVerdict } from '@soakbench/core/verdict';
import { withThreads } from './threads.js';

/**
 * What the heat model says of set-ups that were never soaked.
 *
 * @returns null where it was stopped, or where records or runs cannot carry a model: a verdict stands without predictions
 */
export async function predictUntried(build: Build, assessment: Assessment): Promise<PredictedVerdict | null> {
  try {
    const inputs = heatInputs(build, assessment);
    const heat = await withThreads(({ start, tell }) => start(true).do({ kind: 'assess', inputs }, tell));
    return heat?.ok === true ? addPredictions(build, assessment, heat.value) : null;
  } catch (error) {
    if (error instanceof BadInputError) return null;
    throw error;
  }
}
