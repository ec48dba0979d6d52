import type { Contest, Margin } from '../compare/index.js';
import { type HeatAssessment, predictMargins } from '../heat/index.js';
import { bracketLife, type LifeBracket, type LifeRequest } from '../life/index.js';
import {
  dofNumber,
  dofRecord,
  type Estimate,
  effectiveDof,
  formatEstimate,
  type Sentence,
} from '../measure/index.js';
import { tQuantile } from '../numerics/index.js';
import type { Build } from '../records/index.js';
import { heatInputs } from './heat-inputs.js';
import { namesOf } from './names.js';
import type { Assessment } from './verdict.js';

/** One untried set-up beside what was measured. */
export interface PredictedChoice {
  readonly setup: string;
  /** How much cooler than the baseline at the probe that decides, K; negative if warmer. */
  readonly cooler_K: Estimate;
  /** 95 %, of this one set-up. */
  readonly interval95_K: readonly [number, number];
}

/** What the heat model adds to a verdict. Predicted all through, and never counted among what was measured. */
export interface PredictedVerdict {
  readonly choices: readonly PredictedChoice[];
  readonly margins: readonly Margin[];
  readonly life: LifeBracket | null;
  /** What to make of it, in one or two sentences; empty where nothing untried was predicted. */
  readonly words: Sentence;
}

/**
 * Untried set-ups held against the measured ones: how much cooler, which limits would hold, and what of it to try.
 *
 * The choice of a set-up stays with what was measured. A prediction can only say what to soak next.
 */
export function addPredictions(build: Build, assessment: Assessment, heat: HeatAssessment): PredictedVerdict {
  const { main, others } = assessment.compare;
  const { contests } = heatInputs(build, assessment);
  const choices = main === null ? [] : listChoices(main, heat);
  return {
    choices,
    margins: predictMargins(build, heat, contests),
    life: main === null ? null : predictLife(build, main, others, choices),
    words: main === null ? [] : tellPredictions(build, assessment, main, heat, choices),
  };
}

function listChoices(main: Contest, { predictions }: HeatAssessment): PredictedChoice[] {
  const base = main.setups.find(({ setup }) => setup === main.baseline)?.rise_K;
  if (base === undefined) return [];
  const untried = predictions.filter(
    ({ setup, charging }) => !charging && !main.setups.some((measured) => measured.setup === setup),
  );
  return untried
    .flatMap(({ setup, rises }): PredictedChoice[] => {
      const rise = rises.find(({ target }) => target.probe === main.quantity.probe)?.rise_K;
      if (rise === undefined) return [];
      const parts = [
        { u: base.u, dof: base.dof },
        { u: rise.u, dof: rise.dof },
      ];
      const u = Math.hypot(base.u, rise.u);
      const dof = effectiveDof(parts);
      const half = tQuantile(0.975, dof) * u;
      const value = base.value - rise.value;
      return [
        { setup, cooler_K: { value, u, dof: dofRecord(dof) }, interval95_K: [value - half, value + half] },
      ];
    })
    .sort((one, other) => other.cooler_K.value - one.cooler_K.value);
}

/** Idle is not predicted: what a device gives off at idle is not noted. Its rise is taken in the proportion of the load's. */
function predictLife(
  build: Build,
  main: Contest,
  others: readonly Contest[],
  choices: readonly PredictedChoice[],
): LifeBracket | null {
  if (build.duty === undefined || choices.length === 0) return null;
  const base = main.setups.find(({ setup }) => setup === main.baseline);
  const idle = others
    .find(
      ({ quantity }) =>
        quantity.probe === main.quantity.probe && quantity.phase === 'idle' && !quantity.charging,
    )
    ?.setups.find(({ setup }) => setup === main.baseline);
  if (base === undefined || (idle === undefined && build.duty.idle_h_per_day > 0)) return null;
  const idlePart = (idle?.rise_K.value ?? 0) / base.rise_K.value;
  const request = (setup: string, load_K: number, cooler95_K: readonly [number, number]): LifeRequest => ({
    setup,
    load_K,
    idle_K: idlePart * load_K,
    cooler95_K,
  });
  return bracketLife(
    build.duty,
    request(main.baseline, base.rise_K.value, [0, 0]),
    choices.map(({ setup, cooler_K, interval95_K }) =>
      request(setup, base.rise_K.value - cooler_K.value, interval95_K),
    ),
  );
}

function tellPredictions(
  build: Build,
  assessment: Assessment,
  main: Contest,
  heat: HeatAssessment,
  choices: readonly PredictedChoice[],
): Sentence {
  const best = choices[0];
  if (best === undefined) return [];
  const names = namesOf(build);
  const chosen = assessment.verdict.setup ?? main.baseline;
  const measured = main.setups.find(({ setup }) => setup === chosen)?.rise_K;
  const base = main.setups.find(({ setup }) => setup === main.baseline)?.rise_K;
  if (measured === undefined || base === undefined) return [];
  const gain = best.cooler_K.value - (base.value - measured.value);
  const gain_u = Math.hypot(best.cooler_K.u, measured.u);
  const reach = tQuantile(0.975, dofNumber(best.cooler_K)) * gain_u;
  const figure = {
    figure: formatEstimate({ value: Math.abs(gain), u: gain_u }, 'K'),
    why: `Predicted by the heat model and not measured; set-ups left out in turn were predicted to ${
      heat.leaveOneOut?.cells_K == null ? 'an unknown error' : `${heat.leaveOneOut.cells_K.toFixed(1)} K`
    } at the cells.`,
  };
  const words = `Predicted, not measured: ${names.setup(best.setup)} would run ${names.probe(main.quantity.probe)} `;
  if (gain > reach)
    return [words, figure, ` cooler than ${names.setup(chosen)}. Soak it before you believe it.`];
  if (gain < -reach)
    return [words, figure, ` warmer than ${names.setup(chosen)}: no untried set-up is cooler.`];
  return [
    words,
    figure,
    ` ${gain >= 0 ? 'cooler' : 'warmer'} than ${names.setup(chosen)}, which is within what the model can be wrong by: nothing untried is shown to be worth cutting.`,
  ];
}
