import type { Contest, Margin } from '../compare/index.js';
import type { LifeBracket } from '../life/index.js';
import { formatCount, formatKelvin, formatNumber } from '../measure/index.js';
import type { Build } from '../records/index.js';
import { builtStages, type StageName, stages } from '../stages.js';
import type { Choice } from './choose-setup.js';
import { findObstacle } from './find-obstacle.js';
import { namesOf } from './names.js';
import type { ProbesResult, RunsResult, StageState } from './verdict.js';

interface Inputs {
  readonly build: Build;
  readonly choice: Choice;
  readonly probes: ProbesResult;
  readonly runs: RunsResult;
  readonly contest: Contest | null;
  readonly life: LifeBracket | null;
  readonly margins: readonly Margin[];
  /** Every judged limit of the chosen set-up holds, and at least one was judged. */
  readonly holding: boolean;
  readonly gaps: number;
}

/** The stage line: two or three words per stage, so that the navigation is the dashboard. */
export function tellStages(inputs: Inputs): StageState[] {
  const tellers: Partial<Record<StageName, (inputs: Inputs) => Pick<StageState, 'level' | 'words'>>> = {
    probes: probesState,
    runs: runsState,
    compare: compareState,
    heat: heatState,
    life: lifeState,
    verdict: verdictState,
    dossier: ({ runs, gaps }) =>
      runs.runs.length === 0
        ? { level: 'none', words: 'nothing to publish' }
        : {
            level: gaps > 0 ? 'look' : 'holds',
            words: gaps > 0 ? `draft, ${formatCount(gaps, 'gap')}` : 'ready',
          },
  };
  return stages.map(({ name }) => {
    const tell = tellers[name];
    if (tell === undefined || !builtStages.includes(name))
      return { stage: name, level: 'none', words: 'not built yet', built: false };
    return { stage: name, built: true, ...tell(inputs) };
  });
}

function probesState({ build, probes }: Inputs): Pick<StageState, 'level' | 'words'> {
  if (build.probes.length === 0) return { level: 'none', words: 'none yet' };
  const checked = probes.corrections.filter(({ check }) => check !== null).length;
  if (checked === 0) return { level: 'look', words: `${build.probes.length}, unchecked` };
  const worst_K = Math.max(...probes.budget.map(({ total }) => total.u_K));
  return {
    level:
      checked === build.probes.length && !probes.drifts.some(({ isShown }) => isShown) ? 'holds' : 'look',
    words: `${checked} checked, ±${formatKelvin(worst_K, worst_K)}`,
  };
}

function runsState({ build, runs }: Inputs): Pick<StageState, 'level' | 'words'> {
  if (build.runs.length === 0) return { level: 'none', words: 'none yet' };
  const counted = runs.runs.filter((run) => run.counted).length;
  return {
    level: counted === 0 ? 'stop' : counted === build.runs.length ? 'holds' : 'look',
    words: `${counted} of ${build.runs.length} counted`,
  };
}

function compareState({ build, contest }: Inputs): Pick<StageState, 'level' | 'words'> {
  if (contest === null || contest.setups.length < 2) return { level: 'none', words: 'needs two set-ups' };
  if (contest.pairs.every(({ finding }) => finding === 'no-verdict'))
    return { level: 'look', words: 'single runs' };
  const best = contest.toBaseline
    .filter(({ finding, cooler_K }) => finding === 'shown' && cooler_K.value > 0)
    .sort((a, b) => b.cooler_K.value - a.cooler_K.value)[0];
  if (best === undefined) return { level: 'look', words: 'no gain shown' };
  return {
    level: 'holds',
    words: `${namesOf(build).setup(best.setup)} −${formatKelvin(best.cooler_K.value)}, shown`,
  };
}

/** The model is calibrated where it is asked for; here is only known whether it could be. */
function heatState({ contest }: Inputs): Pick<StageState, 'level' | 'words'> {
  return contest === null
    ? { level: 'none', words: 'needs a run' }
    : { level: 'none', words: 'can be calibrated' };
}

function lifeState({ life, choice }: Inputs): Pick<StageState, 'level' | 'words'> {
  const row = life?.rows.find(({ setup }) => 'setup' in choice && setup === choice.setup);
  if (row === undefined) return { level: 'none', words: 'needs a duty' };
  return {
    level: 'look',
    words: `${formatNumber(row.factor[0], 2)} to ${formatNumber(row.factor[1], 2)} times`,
  };
}

function verdictState({ build, choice, margins, holding }: Inputs): Pick<StageState, 'level' | 'words'> {
  switch (choice.kind) {
    case 'fit': {
      const name = namesOf(build).setup(choice.setup);
      const obstacle = findObstacle(build, choice.setup, margins);
      if (obstacle !== null)
        return { level: 'stop', words: `${name}: ${obstacle.kind === 'limit' ? 'not enough' : 'too thick'}` };
      return { level: holding ? 'holds' : 'look', words: `fit the ${name}` };
    }
    case 'nothing-better':
      return { level: 'look', words: 'no gain shown' };
    case 'one-setup':
    case 'single-runs':
      return { level: 'look', words: 'not yet' };
    case 'no-runs':
      return { level: 'none', words: 'not yet' };
  }
}
