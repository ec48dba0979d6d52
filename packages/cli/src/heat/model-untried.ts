import { explainNoHeat, type HeatAssessment } from '@soakbench/core/heat';
import { BadInputError } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type Assessment, heatInputs } from '@soakbench/core/verdict';
import { withThreads } from './threads.js';

export { stoppedCode } from './threads.js';

/**
 * The build's heat model, for whoever asked for it by name.
 *
 * @returns null where it was stopped
 * @throws BadInputError where records or runs cannot carry a model
 */
export async function modelUntried(build: Build, assessment: Assessment): Promise<HeatAssessment | null> {
  const inputs = heatInputs(build, assessment);
  const heat = await withThreads(({ start, tell }) => start().do({ kind: 'assess', inputs }, tell));
  if (heat === null) return null;
  if (!heat.ok) throw new BadInputError([explainNoHeat(heat.reason)]);
  return heat.value;
}
