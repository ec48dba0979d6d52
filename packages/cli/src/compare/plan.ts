import { randomInt } from 'node:crypto';
import {
  type Contest,
  dropRunPlan,
  followRunPlan,
  largestSeed,
  planResolution,
  setRunPlan,
  usualRun_s,
} from '@soakbench/core/compare';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import { type Build, checkBuild } from '@soakbench/core/records';
import { changeFolder } from '@soakbench/store';
import { defineAction, type ExitCode, jsonOption } from '../parts/action.js';
import { jsonVersion } from '../parts/assessment-json.js';
import { folderOperand, openFolder } from '../parts/open-folder.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { readNumber } from '../parts/read-number.js';
import { tellPlan } from './tell-plan.js';

export const planRuns = defineAction({
  words: 'compare plan',
  about:
    'Draws which set-up to run when: every set-up at most once in a session, the order within a session by lot, a re-mounting before every run. Without --add it shows the plan there is and how far it has come; imported runs tick themselves off. Nothing is written unless --save is given.',
  operands: { FOLDER: folderOperand },
  options: {
    add: {
      type: 'string',
      multiple: true,
      value: 'SETUP=N',
      about: 'how many runs to make of a set-up, by its id in build.json',
    },
    resolve: {
      type: 'string',
      value: 'K',
      about: 'as many runs of each set-up as it takes to tell so many kelvins apart, in place of --add',
    },
    'per-session': { type: 'string', value: 'N', about: 'most runs in one session; 3 where it is not named' },
    seed: { type: 'string', value: 'N', about: 'draws the same plan again; by chance where it is not named' },
    save: { type: 'boolean', about: 'write the plan into build.json, in place of one that is there' },
    drop: { type: 'boolean', about: 'take the plan out of build.json' },
    json: jsonOption,
  },
  examples: [
    {
      command: 'npx soakbench compare plan examples/reedling-r2 --add plate=2 --add strips=2 --seed 11',
      shows: 'two sessions with both shields in an order drawn by lot; nothing is changed',
    },
  ],
  async run({ FOLDER }, options): Promise<ExitCode> {
    const { build, assessment } = openFolder(FOLDER);
    const planned = options.drop ? dropRunPlan(build) : planFrom(build, assessment.compare.main, options);
    const isChanged = planned !== build && (options.save || options.drop);
    if (isChanged) await changeFolder(FOLDER, planned);
    const followed = followRunPlan(planned, usualRun_s(assessment.runs.runs));
    if (options.json) {
      sayJson({
        format: 'soakbench-run-plan',
        version: jsonVersion,
        build: { id: build.id, name: build.name, invented: build.invented === true },
        changed: isChanged,
        seed: planned.runPlan?.seed ?? null,
        runs: followed,
      });
    } else say(tellPlan(answerPage(), planned, followed, isChanged));
    return 0;
  },
});

interface PlanOptions {
  readonly add: readonly string[];
  readonly resolve: string | undefined;
  readonly 'per-session': string | undefined;
  readonly seed: string | undefined;
}

function planFrom(build: Build, contest: Contest | null, options: PlanOptions): Build {
  if (options.add.length === 0 && options.resolve === undefined) return build;
  const faults: Fault[] = [];
  const needs: Record<string, number> = {
    ...(options.resolve === undefined ? {} : needsOf(contest, options.resolve, faults)),
  };
  for (const typed of options.add) {
    const [setup = '', count = ''] = typed.split('=');
    if (!build.setups.some(({ id }) => id === setup)) {
      faults.push({
        where: `--add ${typed}`,
        what: `There is no set-up "${setup}".`,
        remedy: `Use one of: ${build.setups.map(({ id }) => id).join(', ')}.`,
      });
    }
    needs[setup] = wholeNumber(`--add ${typed}`, count, 0, 60, faults);
  }
  const perSession = wholeNumber('--per-session', options['per-session'] ?? '3', 1, 20, faults);
  const seed =
    options.seed === undefined
      ? randomInt(1, largestSeed + 1)
      : wholeNumber('--seed', options.seed, 1, largestSeed, faults);
  if (faults.length > 0) throw new BadInputError(faults);
  return checkBuild(setRunPlan(build, { needs, perSession, seed, at: new Date().toISOString() }));
}

/** Runs to make per set-up for a difference to be told apart, by the spread these runs have shown. */
function needsOf(contest: Contest | null, typed: string, faults: Fault[]): Readonly<Record<string, number>> {
  const difference_K = readNumber('--resolve', typed, 'K', faults);
  if (difference_K === undefined) return {};
  const resolution = contest !== null && difference_K > 0 ? planResolution(contest, difference_K) : null;
  if (resolution !== null) return resolution.add;
  faults.push({
    where: `--resolve ${typed}`,
    what:
      contest === null
        ? 'Nothing is compared yet, so the spread from run to run is not known.'
        : 'No plan of up to 60 runs of each set-up would do.',
    remedy: 'Say how many runs to make with --add SETUP=N.',
  });
  return {};
}

function wholeNumber(where: string, typed: string, least: number, most: number, faults: Fault[]): number {
  const value = Number(typed);
  if (/^\d+$/.test(typed.trim()) && value >= least && value <= most) return value;
  faults.push({
    where,
    what: `"${typed}" is not a whole number from ${least} to ${most}.`,
    remedy: 'Give one, as in --add plate=2 --per-session 3.',
  });
  return least;
}
