import type { NoHeat } from '@soakbench/core/heat';
import { formatKelvin } from '@soakbench/core/measure';
import type { ExitCode } from '../parts/action.js';
import { note, notePage, sayJson } from '../parts/output.js';
import { wrap } from '../parts/page.js';

/** Why there is no model of this build, and what would help. Nothing could be judged, so the code is 1. */
export function reportNoHeat(reason: NoHeat, json: boolean): ExitCode {
  if (json) sayJson({ format: 'soakbench-no-heat', reason });
  note(wrap(notePage(), wordsOf(reason)));
  return 1;
}

function wordsOf(reason: NoHeat): string {
  switch (reason.kind) {
    case 'no-data':
      return 'There is no settled rise under load that the model could be held to. Soak a set-up, with a probe on the pack, and ask again.';
    case 'fit-not-settled':
      return 'The model could not be brought to follow the runs. Check the device’s measures, the zones and their powers.';
    case 'not-settled':
      return `The model’s temperatures did not come to rest: the last round still moved them by ${formatKelvin(reason.moved_K)}. Check the device’s measures.`;
    case 'not-converged':
      return `The equations were not solved well enough after ${reason.iterations} steps. Check the device’s measures.`;
    case 'cancelled':
      return 'The work was called off.';
  }
}
