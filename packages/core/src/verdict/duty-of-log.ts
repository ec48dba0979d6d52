import { dutyFromLog, readUseLog } from '../life/index.js';
import { BadInputError } from '../measure/index.js';
import type { Build, DutyYear } from '../records/index.js';
import { packFacts } from './gather-life.js';

export interface DutyOfLog {
  readonly duty: DutyYear;
  /** What was read and concluded, for the person to check and correct. */
  readonly findings: readonly string[];
}

/** Where neither a year nor a day of the build says how warm it is. @assumed an ordinary room */
const usualRoom_C = 22;

/**
 * A year's duty from a log of power or charge, for a build's new pack; the room is the build's, because no such log knows it.
 *
 * @param text of the log
 * @param file its name, for the faults
 * @throws BadInputError naming what in the log, or in the build, stands in the way
 */
export function dutyOfLog(
  build: Pick<Build, 'newPack' | 'originalPack' | 'duty' | 'dutyYear'>,
  text: string,
  file: string,
): DutyOfLog {
  const energy_Wh = build.newPack && packFacts(build.newPack)?.energy_Wh;
  if (!energy_Wh)
    throw new BadInputError([
      { where: 'newPack', what: 'The energy of the new pack is not known.', remedy: 'Enter it first.' },
    ]);
  const { log, startsAt_h, columns } = readUseLog(text, file);
  const room = build.dutyYear?.room ?? { monthly_C: [build.duty?.ambient_C ?? usualRoom_C] as [number] };
  // Per cent of the charge are those of the pack that was in when it was logged: as a rule the original one.
  const logged_Wh = (build.originalPack && packFacts(build.originalPack)?.energy_Wh) ?? energy_Wh;
  const made = dutyFromLog(log, logged_Wh, room, startsAt_h);
  if (!made.ok)
    throw new BadInputError([{ where: file, what: whatOf(made.reason), remedy: made.reason.remedy }]);
  return {
    duty: made.value.duty,
    findings: [
      ...columns,
      ...made.value.findings,
      ...(log.power_W
        ? []
        : [`It was taken to be a log of ${build.originalPack ? 'the original pack' : 'the new pack'}.`]),
      'How warm the room is through the year no such log knows: that is kept as it was.',
    ],
  };
}

function whatOf(reason: { readonly kind: string; readonly have_h?: number }): string {
  return reason.have_h === undefined
    ? 'There is neither power nor charge in it.'
    : `It covers ${reason.have_h.toFixed(1)} hours.`;
}
