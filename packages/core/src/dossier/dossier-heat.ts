import { type HeatWork, hasHeatData } from '../heat/index.js';
import type { Build } from '../records/index.js';
import type { Assessment } from '../verdict/index.js';

/**
 * The work that brings the heat model into a dossier: the set-up of the verdict is drawn, or the baseline where none was chosen.
 *
 * @returns null where there is no settled rise under load to hold a model to
 */
export function dossierHeatWork(
  build: Build,
  { compare, probes, runs, verdict }: Assessment,
): Extract<HeatWork, { kind: 'report' }> | null {
  const contests = compare.main === null ? [...compare.others] : [compare.main, ...compare.others];
  const { corrections } = probes;
  if (!hasHeatData(build, contests, corrections)) return null;
  return {
    kind: 'report',
    inputs: { build, contests, corrections, runs: runs.runs },
    setup: verdict.setup ?? compare.main?.baseline ?? null,
  };
}
