import { heatInputs } from '@soakbench/core/verdict';
import { defineAction, jsonOption } from '../parts/action.js';
import { jsonVersion } from '../parts/assessment-json.js';
import { folderOperand, openFolder, reportLeftOut } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { reportNoHeat } from './report-no-heat.js';
import { answerCalibration, tellCalibration } from './tell-calibration.js';
import { stoppedCode, withThreads } from './threads.js';

export const calibrateHeat = defineAction({
  words: 'heat calibrate',
  about:
    'How far the heat model follows the runs, and what it has learned from them: measured beside modelled rises, each set-up left out in turn and predicted from the others, every unknown with what the runs made of it, which of them cannot be told apart, time constants, and the probe that would help most. Changes nothing.',
  operands: { FOLDER: folderOperand },
  options: { json: jsonOption },
  examples: [
    {
      command: 'npx soakbench heat calibrate examples/reedling-r2',
      shows: 'what fifteen soaks of the invented example tell of its films, gaps and powers',
    },
  ],
  async run({ FOLDER }, { json }) {
    const { build, assessment } = openFolder(FOLDER);
    const inputs = heatInputs(build, assessment);
    const heat = await withThreads(({ start, tell }) => start(true).do({ kind: 'assess', inputs }, tell));
    if (heat === null) return stoppedCode;
    if (!heat.ok) return reportNoHeat(heat.reason, json);
    if (json)
      sayJson({
        format: 'soakbench-answer',
        version: jsonVersion,
        build: { id: build.id, name: build.name, invented: build.invented === true },
        answer: answerCalibration(heat.value),
        heat: heat.value,
      });
    else say(tellCalibration(answerPage(), build, heat.value));
    return reportLeftOut(assessment, 0);
  },
});
