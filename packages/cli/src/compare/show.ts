import { planResolution } from '@soakbench/core/compare';
import { defineAction, jsonOption } from '../parts/action.js';
import { assessmentJson } from '../parts/assessment-json.js';
import { folderOperand, openFolder, reportLeftOut } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { readResolve } from './read-resolve.js';
import { tellCompare } from './tell-compare.js';

export const showCompare = defineAction({
  words: 'compare',
  about:
    'Whether the better set-up really is better: rises above the room, each set-up against the baseline, all pairs, who is no worse than whom, how likely each is the coolest, and the difference these runs could tell apart. The run is the unit, never the sample. Exit code 1 where no two set-ups could be compared.',
  operands: { FOLDER: folderOperand },
  options: {
    resolve: {
      type: 'string',
      value: 'K',
      about:
        'tell how many runs of each set-up show a true difference of so many kelvins; without it, of 1 K',
    },
    json: jsonOption,
  },
  examples: [
    {
      command: 'npx soakbench compare examples/reedling-r2',
      shows: 'two shields of the invented example are cooler than bare, and cannot be told apart',
    },
  ],
  run({ FOLDER }, { resolve, json }) {
    const resolve_K = readResolve(resolve);
    const { build, assessment } = openFolder(FOLDER);
    const { main } = assessment.compare;
    const compare =
      resolve === undefined || main === null || main.setups.length < 2
        ? assessment.compare
        : { ...assessment.compare, resolution: planResolution(main, resolve_K) };
    if (json) sayJson(assessmentJson(build, compare.answer, { compare }));
    else say(tellCompare(answerPage(), build, compare, resolve_K));
    const isJudged = compare.main?.pairs.some(({ finding }) => finding !== 'no-verdict') ?? false;
    return reportLeftOut(assessment, isJudged ? 0 : 1);
  },
});
