import { type HeatWork, hasHeatData } from '../heat/index.js';
import type { Build } from '../records/index.js';
import { type Assessment, heatInputs } from '../verdict/index.js';

/**
 * The work that brings the heat model into a dossier: the set-up of the verdict is drawn, or the baseline where none was chosen.
 *
 * @returns null where there is no settled rise under load to hold a model to
 */
export function dossierHeatWork(
  build: Build,
  assessment: Assessment,
): Extract<HeatWork, { kind: 'report' }> | null {
  const { compare, verdict } = assessment;
  const inputs = heatInputs(build, assessment);
  if (!hasHeatData(build, inputs.contests, inputs.corrections)) return null;
  return {
    kind: 'report',
    inputs,
    setup: verdict.setup ?? compare.main?.baseline ?? null,
  };
}
