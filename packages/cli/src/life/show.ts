import type { Sentence } from '@soakbench/core/measure';
import { defineAction, jsonOption } from '../parts/action.js';
import { assessmentJson } from '../parts/assessment-json.js';
import { folderOperand, openFolder, reportLeftOut } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { answerLife, tellLife } from './tell-life.js';

export const showLife = defineAction({
  words: 'life',
  about:
    'How much longer the cells last in one set-up than in another: a range over the published activation energies, weighted by the hours a day they are hot. It is no year count. Exit code 1 where there is nothing to bracket.',
  operands: { FOLDER: folderOperand },
  options: { json: jsonOption },
  examples: [
    {
      command: 'npx soakbench life examples/reedling-r2',
      shows: 'what each shield of the invented example does for the life of its cells',
    },
  ],
  run({ FOLDER }, { json }) {
    const { build, assessment } = openFolder(FOLDER);
    const { life } = assessment;
    const answer: Sentence = [answerLife(build, life)];
    if (json) sayJson(assessmentJson(build, answer, { life }));
    else say(tellLife(answerPage(), build, life));
    return reportLeftOut(assessment, life === null ? 1 : 0);
  },
});
