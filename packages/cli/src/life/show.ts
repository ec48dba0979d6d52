import { presentLife } from '@soakbench/core/life';
import type { Sentence } from '@soakbench/core/measure';
import { askWhatIfs, type ForecastOptions, forecastBuild } from '@soakbench/core/verdict';
import { defineAction, jsonOption } from '../parts/action.js';
import { assessmentJson } from '../parts/assessment-json.js';
import { folderOperand, openFolder, reportLeftOut } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { list, wrap } from '../parts/page.js';
import { caution, closing, namesOf } from '../parts/words.js';
import { readLifeOptions } from './read-life-options.js';
import { readUse } from './read-use.js';
import { answerBracket, tellBracket } from './tell-bracket.js';
import { tellForecast, tellWhatIfs } from './tell-forecast.js';

export const showLife = defineAction({
  words: 'life',
  about:
    'What the heat costs: in which set-up the pack lasts longest and how firm that is, years and watt-hours to 80 % as ranges, cell by cell, and where the models differ. Where the chemistry or the duty is not known well enough for years, a range of ratios between set-ups and the reason. Exit code 1 where there is neither.',
  operands: { FOLDER: folderOperand },
  options: {
    'what-ifs': {
      type: 'boolean',
      about: 'also hold other habits against this one: charge limit, unplugging, room, hours, other packs',
    },
    setup: {
      type: 'string',
      value: 'ID',
      about: 'the set-up that the what-ifs are asked of; without it the chosen one, else the baseline',
    },
    'use-log': {
      type: 'string',
      value: 'FILE',
      about:
        'count with the use that a log shows in place of the build’s duty: a table of time and power (W) or charge (%), a day or longer',
    },
    heat: {
      type: 'boolean',
      about:
        'also forecast set-ups that were never soaked, at the rises that a calibrated heat model predicts; takes some seconds',
    },
    draws: { type: 'string', value: 'N', about: 'packs drawn at random; without it 2000' },
    seed: {
      type: 'string',
      value: 'N',
      about: 'where the draws begin; the same seed gives the same figures',
    },
    json: jsonOption,
  },
  examples: [
    {
      command: 'npx soakbench life examples/reedling-r2',
      shows: 'what each shield of the invented example does for the life of its cells',
    },
    {
      command: 'npx soakbench life examples/reedling-r2 --heat',
      shows: 'set-ups nobody has soaked beside the measured ones, once some are described in the build',
    },
    {
      command: 'npx soakbench life examples/reedling-r2 --what-ifs --setup plate',
      shows: 'what a lower charge limit or a cooler room would do, with the plate fitted',
    },
  ],
  async run(
    { FOLDER },
    { json, setup: typedSetup, draws, seed, heat: wantsHeat, 'use-log': useLog, 'what-ifs': wantsWhatIfs },
  ) {
    const { build: stored, assessment } = openFolder(FOLDER);
    const logged = useLog === undefined ? null : await readUse(stored, useLog);
    const build = logged === null ? stored : { ...stored, dutyYear: logged.duty };
    const { setup, options: typed } = readLifeOptions(build, { setup: typedSetup, draws, seed });
    const { life } = assessment;
    // The model and its threads are loaded only where they are asked for.
    let options: ForecastOptions = typed;
    if (wantsHeat) {
      const { modelUntried, stoppedCode } = await import('../heat/model-untried.js');
      const heat = await modelUntried(build, assessment);
      if (heat === null) return stoppedCode;
      options = { ...typed, heat };
    }
    const made = forecastBuild(build, assessment, options);
    const asked =
      setup ?? assessment.verdict.setup ?? (made.ok ? made.value.forecast.setups[0]?.setup : undefined) ?? '';
    const whatIfs = wantsWhatIfs ? askWhatIfs(build, assessment, asked, options) : null;
    const answer: Sentence = made.ok ? presentLife(made.value.forecast).answer : [answerBracket(build, life)];
    if (json) {
      sayJson({
        ...assessmentJson(build, answer, { life }),
        forecast: made.ok ? made.value.forecast : null,
        assumed: made.ok ? made.value.assumed : [],
        leftOut: made.ok ? made.value.leftOut : [],
        untried: made.ok ? made.value.untried : [],
        noForecast: made.ok ? null : made.reason,
        ...(logged === null ? {} : { useLog: logged }),
        ...(whatIfs === null ? {} : { whatIfs: whatIfs.ok ? { setup: asked, ...whatIfs.value } : null }),
      });
    } else {
      const page = answerPage();
      say([
        ...(made.ok
          ? tellForecast(page, made.value)
          : [
              ...wrap(page, answerBracket(build, life)),
              '',
              ...wrap(page, `No years yet. ${made.reason.remedy}`),
              ...(life === null ? [] : tellBracket(page, build, life)),
            ]),
        ...list(page, 'Read from the log of use', logged?.findings ?? []),
        ...(whatIfs?.ok ? tellWhatIfs(page, whatIfs.value, namesOf(build).setup(asked)) : []),
        ...closing(page, build),
        ...caution(page),
      ]);
    }
    return reportLeftOut(assessment, made.ok || life !== null ? 0 : 1);
  },
});
