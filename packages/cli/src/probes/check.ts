import { defineAction, jsonOption } from '../parts/action.js';
import { assessmentJson } from '../parts/assessment-json.js';
import { folderOperand, openFolder, reportLeftOut } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { tellProbes } from './tell-probes.js';

export const checkProbes = defineAction({
  words: 'probes check',
  about:
    'Whether the readings can be trusted: what each probe read in its baths, its correction, and how far a corrected reading and a difference by the same probe are in doubt. Exit code 1 where no probe was checked.',
  operands: { FOLDER: folderOperand },
  options: { json: jsonOption },
  examples: [
    {
      command: 'npx soakbench probes check examples/reedling-r2',
      shows: 'one probe of the invented example reads too high',
    },
  ],
  run({ FOLDER }, { json }) {
    // The runs have no say in this, and measuring them takes most of the time.
    const { build, assessment } = openFolder(FOLDER, (whole) => ({ ...whole, runs: [] }));
    const { probes } = assessment;
    if (json) sayJson(assessmentJson(build, probes.answer, { probes }));
    else say(tellProbes(answerPage(), build, probes));
    return reportLeftOut(assessment, probes.corrections.some(({ check }) => check !== null) ? 0 : 1);
  },
});
