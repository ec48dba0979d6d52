import { defineAction, jsonOption } from '../parts/action.js';
import { assessmentJson } from '../parts/assessment-json.js';
import { folderOperand, openFolder, reportLeftOut } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { tellVerdict } from './tell-verdict.js';

export const showVerdict = defineAction({
  words: 'verdict',
  about:
    'Which set-up to fit, with its margin to every limit in every state, what the verdict rests on, what is unresolved, and what to measure next. Reads a build folder; changes nothing.',
  operands: { FOLDER: folderOperand },
  options: { json: jsonOption },
  examples: [
    {
      command: 'npx soakbench verdict examples/reedling-r2',
      shows: 'one limit fails in the invented example, so the exit code is 1',
    },
  ],
  run({ FOLDER }, { json }) {
    const { build, assessment } = openFolder(FOLDER);
    const { probes, runs, compare, life, verdict, stages } = assessment;
    if (json)
      sayJson(assessmentJson(build, verdict.answer, { probes, runs, compare, life, verdict, stages }));
    else say(tellVerdict(answerPage(), build, verdict));
    return reportLeftOut(assessment, verdict.exitCode);
  },
});
