import { makeDeviceModel, predictMargins } from '@soakbench/core/heat';
import { BadInputError } from '@soakbench/core/measure';
import { heatInputs } from '@soakbench/core/verdict';
import { defineAction, jsonOption } from '../parts/action.js';
import { jsonVersion } from '../parts/assessment-json.js';
import { folderOperand, openFolder, reportLeftOut } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { readSetup } from '../parts/read-layers.js';
import { reportNoHeat } from './report-no-heat.js';
import { answerPrediction, tellPredictions } from './tell-predictions.js';
import { stoppedCode, withThreads } from './threads.js';

export const predictHeat = defineAction({
  words: 'heat predict',
  about:
    'What a set-up would show that was never soaked, by a heat model of the device that is calibrated on the runs: hottest place and mean of each cell, zones, shells and probes, each with its interval, what its doubt is made of, and margins at the design ambient. How far off the model was at set-ups it was not shown stands beside it. Without --setup, --like and --layer every set-up of the build is told, measured ones for comparison. Changes nothing.',
  operands: { FOLDER: folderOperand },
  options: {
    setup: { type: 'string', value: 'ID', about: 'one set-up of the build' },
    like: { type: 'string', value: 'ID', about: 'a set-up of the build, changed by --layer' },
    layer: {
      type: 'string',
      multiple: true,
      value: 'MATERIAL=MM',
      about:
        'a layer, from the zones towards the pack, with ,inset=MM and ,strips=COUNTxMM behind it; with --like, N:MATERIAL=MM takes the place of the Nth layer',
    },
    charging: { type: 'boolean', about: 'while the pack is charged' },
    json: jsonOption,
  },
  examples: [
    {
      command: 'npx soakbench heat predict examples/reedling-r2 --like plate --layer 2:copper=0.3',
      shows: 'the plate of the invented example, made of thinner copper that nobody has cut',
    },
  ],
  async run({ FOLDER }, { setup, like, layer, charging, json }) {
    const { build: stored, assessment } = openFolder(FOLDER);
    const isTyped = like !== undefined || layer.length > 0;
    if (setup !== undefined && isTyped)
      throw new BadInputError([
        {
          where: '--setup',
          what: 'It cannot go with --like or --layer.',
          remedy: 'Use --like to change a set-up.',
        },
      ]);
    if (setup !== undefined && !stored.setups.some(({ id }) => id === setup))
      throw new BadInputError([
        {
          where: `--setup ${setup}`,
          what: 'There is no such set-up.',
          remedy: `Use one of: ${stored.setups.map(({ id }) => id).join(', ')}.`,
        },
      ]);
    const typed = isTyped ? readSetup(stored, like, layer) : null;
    const build = typed === null ? stored : { ...stored, setups: [...stored.setups, typed] };
    // What does not fit is refused before anything is solved.
    if (typed !== null) makeDeviceModel(build, typed);
    const asked = typed?.id ?? setup ?? null;
    // Time constants are not told here, so no runs are sent along; and who asks for one set-up waits for one.
    const { runs: _, ...inputs } = heatInputs(build, assessment);
    const only = asked === null ? {} : { only: [asked] };
    const heat = await withThreads(({ start, tell }) =>
      start(true).do({ kind: 'assess', inputs, ...only }, tell),
    );
    if (heat === null) return stoppedCode;
    if (!heat.ok) return reportNoHeat(heat.reason, json);
    const refused = heat.value.unpredicted.find((each) => each.setup === asked);
    if (refused !== undefined)
      throw new BadInputError([
        { where: asked ?? '', what: refused.reason, remedy: 'Mend the set-up and ask again.' },
      ]);
    const predictions = heat.value.predictions.filter((each) => each.charging === charging);
    if (predictions.length === 0)
      throw new BadInputError([
        {
          where: '--charging',
          what: 'No run under charge was made, so the heat that a charge makes is not known.',
          remedy: 'Make a run with the pack being charged, or ask without --charging.',
        },
      ]);
    const margins = predictMargins(
      build,
      { predictions: predictions.map((each) => ({ ...each, measured: false })) },
      inputs.contests,
    );
    if (json)
      sayJson({
        format: 'soakbench-answer',
        version: jsonVersion,
        build: { id: build.id, name: build.name, invented: build.invented === true },
        answer: answerPrediction(build, heat.value, predictions),
        asked: asked === null ? null : (build.setups.find(({ id }) => id === asked) ?? null),
        predictions,
        margins,
        leaveOneOut: heat.value.leaveOneOut,
        modelError: heat.value.modelError,
        cells: heat.value.cells,
        notes: heat.value.notes,
      });
    else say(tellPredictions(answerPage(), build, heat.value, predictions, margins));
    return reportLeftOut(assessment, 0);
  },
});
