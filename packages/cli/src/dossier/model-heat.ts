import { dossierHeatWork } from '@soakbench/core/dossier';
import { explainNoHeat, type HeatReport, type NoHeat } from '@soakbench/core/heat';
import { BadInputError } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { withThreads } from '../heat/threads.js';

/**
 * The heat model for a dossier, with progress on a terminal.
 *
 * @returns null where it was stopped
 * @throws BadInputError where records or runs cannot carry a model
 */
export async function modelHeat(build: Build, assessment: Assessment): Promise<HeatReport | null> {
  const work = dossierHeatWork(build, assessment);
  if (work === null) throw noHeat({ kind: 'no-data' });
  const heat = await withThreads(({ start, tell }) => start().do(work, tell));
  if (heat === null) return null;
  if (!heat.ok) throw noHeat(heat.reason);
  return heat.value;
}

function noHeat(reason: NoHeat): BadInputError {
  const { what, remedy } = explainNoHeat(reason);
  return new BadInputError([
    { where: '--heat', what, remedy: `${remedy} Without --heat the dossier is written.` },
  ]);
}
