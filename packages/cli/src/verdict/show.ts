import { defineAction, jsonOption } from '../parts/action.js';
import { assessmentJson } from '../parts/assessment-json.js';
import { folderOperand, openFolder, reportLeftOut } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { tellVerdict } from './tell-verdict.js';
import { untriedSetups } from './untried-setups.js';

export const showVerdict = defineAction({
  words: 'verdict',
  about:
    'Which set-up to fit, with its margin to every limit in every state, what the verdict rests on, what is unresolved, and what to measure next; set-ups that were never soaked are predicted, and marked so. Reads a build folder; changes nothing.',
  operands: { FOLDER: folderOperand },
  options: {
    'measured-only': {
      type: 'boolean',
      about: 'leave out what the heat model says of set-ups that were never soaked',
    },
    json: jsonOption,
  },
  examples: [
    {
      command: 'npx soakbench verdict examples/reedling-r2',
      shows: 'one limit fails in the invented example, so the exit code is 1',
    },
  ],
  async run({ FOLDER }, { json, 'measured-only': measuredOnly }) {
    const { build, assessment } = openFolder(FOLDER);
    // The model is loaded and calibrated only where there is something to predict: most verdicts need neither.
    const untried =
      measuredOnly || untriedSetups(build, assessment).length === 0
        ? null
        : await import('../heat/predict-untried.js').then(({ predictUntried }) =>
            predictUntried(build, assessment),
          );
    const { lifeInVerdict, tellLifeInVerdict } = await import('../life/outlook.js');
    const predicted = untried?.predicted ?? null;
    const years = lifeInVerdict(build, assessment, untried?.heat);
    const { probes, runs, compare, life, verdict, stages } = assessment;
    if (json)
      sayJson({
        ...assessmentJson(build, verdict.answer, { probes, runs, compare, life, verdict, stages }),
        ...(predicted === null ? {} : { predicted }),
        outlook: years.outlook,
        noForecast: years.noForecast,
      });
    else {
      const page = answerPage();
      say(tellVerdict(page, build, verdict, predicted, tellLifeInVerdict(page, years)));
    }
    return reportLeftOut(assessment, verdict.exitCode);
  },
});
