import { BadInputError } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { defineAction, jsonOption } from '../parts/action.js';
import { assessmentJson } from '../parts/assessment-json.js';
import { folderOperand, openFolder, reportLeftOut } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { closing } from '../parts/words.js';
import { tellRun } from './tell-run.js';
import { tellRuns } from './tell-runs.js';

export const showRuns = defineAction({
  words: 'runs show',
  about:
    'What the bench measured: every run with its settled rise and its flags, or one run in detail with its recipe, phases and plateaus. Exit code 1 where no run shown counts.',
  operands: {
    FOLDER: folderOperand,
    RUN: { about: 'the id of one run, to see it in detail', optional: true },
  },
  options: { json: jsonOption },
  examples: [
    { command: 'npx soakbench runs show examples/reedling-r2', shows: 'all runs of the invented example' },
    {
      command: 'npx soakbench runs show examples/reedling-r2 run-05',
      shows: 'one of them, with a dropout and a drifting room',
    },
  ],
  run({ FOLDER, RUN }, { json }) {
    const { build, assessment } = openFolder(FOLDER, (whole) => {
      if (RUN !== undefined) needRun(whole, RUN);
      return whole;
    });
    // One run is shown, but the others are read too: an exchanged probe or another load shows only beside them.
    const isShown = (each: { readonly run: string }) => RUN === undefined || each.run === RUN;
    const runs = {
      ...assessment.runs,
      runs: assessment.runs.runs.filter(isShown),
      unreadable: assessment.runs.unreadable.filter(isShown),
    };
    const [only] = runs.runs;
    const page = answerPage();
    if (json) sayJson(assessmentJson(build, runs.answer, { runs }));
    else if (RUN === undefined) say(tellRuns(page, build, assessment));
    else if (only !== undefined)
      say([...tellRun(page, build, only, assessment.runs.runs), ...closing(page, build)]);
    return reportLeftOut({ ...assessment, runs }, runs.runs.some(({ counted }) => counted) ? 0 : 1);
  },
});

function needRun(build: Build, id: string): void {
  const ids = build.runs.map((run) => run.id);
  if (ids.includes(id)) return;
  throw new BadInputError([
    {
      where: 'RUN',
      what: `There is no run "${id}".`,
      remedy:
        ids.length > 0
          ? `Use one of: ${ids.join(', ')}.`
          : 'Import a log first: npx soakbench runs import --help',
    },
  ]);
}
