import type { Contest } from '../../compare/index.js';
import { type Estimate, found, type Result } from '../../measure/index.js';
import { tQuantile } from '../../numerics/index.js';
import type { Setup } from '../../records/index.js';
import type { HeatBench } from '../assess-heat.js';
import type { Fit } from '../calibrate/fit-unknowns.js';
import type { SetupPrediction } from '../calibrate/predict.js';
import type { NoDeviceField } from '../device/solve-device.js';
import { predictMargins } from '../predicted-margins.js';
import type { Candidate } from './candidate.js';
import { chooseFinalists } from './choose-finalists.js';
import { compareStrips } from './compare-strips.js';
import { doubtFront } from './doubt-front.js';
import type { Exploration, Finalist, RankedCandidate } from './exploration.js';
import { findLevers } from './levers.js';
import { paretoFront } from './pareto.js';
import type { RankedRises } from './rank.js';
import type { ExplorePlan } from './think-of.js';

/** Half a kelvin where the build does not state its own. */
const usualNoWorse_K = 0.5;

export interface ConcludeOptions {
  readonly isCancelled?: () => boolean;
  readonly onProgress?: (share: number, doing: string) => void;
}

/**
 * From ranks to a finding: the front, finalists with intervals beside the measured set-ups, and what matters most.
 *
 * @param bench calibrated
 * @param contests of the build, for the margins' spread between mountings
 * @param ranked every candidate of the plan
 */
export function concludeExploration(
  bench: HeatBench,
  fit: Fit,
  contests: readonly Contest[],
  plan: ExplorePlan,
  ranked: readonly RankedRises[],
  options: ConcludeOptions = {},
): Result<Exploration, NoDeviceField> {
  const { soaks } = bench;
  const { build, data } = soaks;
  const { use } = plan.wish;
  const cancelling = options.isCancelled === undefined ? {} : { isCancelled: options.isCancelled };
  const noWorse_K = build.noWorse_K ?? usualNoWorse_K;
  const { candidates, objectives } = placeOnFront(plan.candidates, ranked);
  const chosen = chooseFinalists(candidates, noWorse_K, plan.wish.finalists);
  const soaked = new Set(data.states.map(({ setup }) => setup));
  const wanted: { readonly setup: Setup; readonly measured: boolean; readonly because: readonly string[] }[] =
    [
      ...build.setups
        .filter(({ id }) => soaked.has(id))
        .map((setup) => ({ setup, measured: true, because: [] })),
      ...chosen.map(({ candidate, because }) => ({ setup: candidate.setup, measured: false, because })),
    ];
  const predicted: { readonly wanted: (typeof wanted)[number]; readonly prediction: SetupPrediction }[] = [];
  for (const [place, each] of wanted.entries()) {
    options.onProgress?.((0.6 * place) / wanted.length, `predicting ${each.setup.name}`);
    const prediction = bench.predict(each.setup, use, cancelling);
    if (!prediction.ok) return prediction as Result<never, NoDeviceField>;
    predicted.push({ wanted: each, prediction: prediction.value });
  }
  const reference = leastOf(predicted.filter((each) => each.wanted.measured));
  const finalists = predicted.map(({ wanted: { setup, measured, because }, prediction }): Finalist => {
    const cooler_K =
      reference === undefined || reference.prediction === prediction
        ? null
        : coolerBy_K(fit, prediction, reference.prediction);
    return {
      setup: setup.id,
      name: setup.name,
      measured,
      because,
      hottest_K: hottestOf(prediction).rise_K,
      rises: prediction.rises,
      margins: predictMargins(
        build,
        {
          predictions: [
            { setup: setup.id, charging: use.charging, measured: false, rises: prediction.rises, beyond: [] },
          ],
        },
        contests,
      ),
      cooler_K,
      interval95_K: cooler_K === null ? null : intervalOf(cooler_K),
    };
  });
  const untried = finalists.filter(({ measured }) => !measured);
  const best = chooseBest(untried, noWorse_K);
  const asked =
    wanted.find(({ setup }) => setup.id === best?.setup)?.setup ??
    reference?.wanted.setup ??
    wanted[0]?.setup;
  const doubted = doubtFront(bench, fit, use, candidates, finalists, {
    ...cancelling,
    onProgress: (share) => options.onProgress?.(0.6 + 0.35 * share, 'finding how sure the front is'),
  });
  if (!doubted.ok) return doubted;
  options.onProgress?.(0.95, 'finding what matters most');
  const levers = asked === undefined ? found([]) : findLevers(soaks, fit, asked, use, options.isCancelled);
  if (!levers.ok) return levers;
  return found({
    use,
    room: plan.room,
    leftOut: plan.leftOut,
    ranked: doubted.value,
    objectives,
    finalists,
    reference: reference?.wanted.setup.id ?? null,
    best: best?.setup ?? null,
    finding: findingOf(best, noWorse_K),
    noWorse_K,
    levers: { setup: asked?.id ?? '', all: levers.value },
    strips: compareStrips(candidates),
    leaveOneOut:
      bench.leftOut === null
        ? null
        : {
            cells_K: bench.leftOut.cells_K,
            all_K: bench.leftOut.all_K,
            widening: bench.leftOut.widening,
          },
    modelError: fit.modelError,
    cells: predicted[0]?.prediction.field.rise_K.length ?? 0,
    notes: [...plan.notes, ...soaks.notes],
  });
}

/** Differences that do not keep two set-ups apart on the front: K, mm and g. @assumed below what rulers, scales and runs tell */
const steps = { rise_K: 0.1, thickness_mm: 0.05, mass_g: 0.5 };
/** The same of a price, as a share of the dearest. @assumed */
const priceStep = 0.02;

function placeOnFront(
  all: readonly Candidate[],
  ranked: readonly RankedRises[],
): { candidates: RankedCandidate[]; objectives: string[] } {
  const rises = new Map(ranked.map(({ setup, ...each }) => [setup, each]));
  const known = all.flatMap((candidate) => {
    const own = rises.get(candidate.setup.id);
    return own === undefined ? [] : [{ ...candidate, rises: own }];
  });
  const dearest = Math.max(0, ...known.map(({ price }) => price ?? 0));
  const isPriced = known.length > 0 && known.every(({ price }) => price !== null) && dearest > 0;
  const points = known.map(({ rises: own, thickness_mm, mass_g, price }) => [
    own.hottest_K,
    own.mean_K,
    Math.max(0, ...Object.values(own.zones_K)),
    thickness_mm,
    mass_g,
    ...(isPriced ? [price as number] : []),
  ]);
  const front = new Set(
    paretoFront(points, [
      steps.rise_K,
      steps.rise_K,
      steps.rise_K,
      steps.thickness_mm,
      steps.mass_g,
      ...(isPriced ? [priceStep * dearest] : []),
    ]),
  );
  return {
    candidates: known
      .map((each, place) => ({ ...each, onFront: front.has(place), hottest_K: null }))
      .sort(
        (one, other) =>
          one.rises.hottest_K - other.rises.hottest_K || (one.setup.id < other.setup.id ? -1 : 1),
      ),
    objectives: [
      'hottest place of the pack',
      'mean of the pack',
      'hottest zone',
      'thickness',
      'mass',
      ...(isPriced ? ['price'] : []),
    ],
  };
}

function hottestOf({ rises }: Pick<SetupPrediction, 'rises'>) {
  return rises
    .filter(({ target }) => target.kind === 'hottest' && target.id.startsWith('cell-'))
    .reduce((most, each) => (each.rise_K.value > most.rise_K.value ? each : most));
}

function leastOf<T extends { readonly prediction: SetupPrediction }>(all: readonly T[]): T | undefined {
  return all.reduce<T | undefined>(
    (least, each) =>
      least === undefined ||
      hottestOf(each.prediction).rise_K.value < hottestOf(least.prediction).rise_K.value
        ? each
        : least,
    undefined,
  );
}

/**
 * How much cooler one prediction is than another, at their hottest places.
 *
 * Unknowns that move both alike cancel, which is most of them. The model's own error is taken as independent from set-up to set-up, the
 * grid's as well: on the cautious side, as both are partly shared.
 */
function coolerBy_K(fit: Pick<Fit, 'covariance'>, one: SetupPrediction, other: SetupPrediction): Estimate {
  const [a, b] = [hottestOf(one), hottestOf(other)];
  const slopes = (prediction: SetupPrediction, rise: typeof a) =>
    prediction.slopes_K[prediction.rises.indexOf(rise)] as Float64Array;
  const [sa, sb] = [slopes(one, a), slopes(other, b)];
  const shared = quadratic(
    fit.covariance,
    sa.map((slope, at) => slope - (sb[at] as number)),
  );
  // Materials that were never soaked are in a prediction's doubt and not in its slopes.
  const fresh = (rise: typeof a, own: Float64Array) =>
    Math.max(0, rise.parts.unknowns_K ** 2 - quadratic(fit.covariance, own));
  const u = Math.sqrt(
    shared +
      fresh(a, sa) +
      fresh(b, sb) +
      a.parts.model_K ** 2 +
      b.parts.model_K ** 2 +
      a.parts.grid_K ** 2 +
      b.parts.grid_K ** 2,
  );
  return { value: b.rise_K.value - a.rise_K.value, u, dof: a.rise_K.dof };
}

function quadratic(covariance: readonly Float64Array[], weights: Float64Array): number {
  return Math.max(
    0,
    covariance.reduce(
      (sum, row, at) =>
        sum +
        (weights[at] as number) *
          row.reduce((inner, value, column) => inner + value * (weights[column] as number), 0),
      0,
    ),
  );
}

function intervalOf({ value, u, dof }: Estimate): [number, number] {
  const half = tQuantile(0.975, dof ?? Number.POSITIVE_INFINITY) * u;
  return [value - half, value + half];
}

/**
 * The set-up to speak of: of those that are shown to be cooler, the one that is so by most at the least; where none is, the coolest. The
 * coolest of all may be of a material nobody soaked, and so be the least sure.
 */
function chooseBest(untried: readonly Finalist[], noWorse_K: number): Finalist | undefined {
  const atLeast_K = ({ interval95_K }: Finalist) => interval95_K?.[0] ?? Number.NEGATIVE_INFINITY;
  const shown = untried.filter((each) => atLeast_K(each) > 0 && (each.cooler_K?.value ?? 0) >= noWorse_K);
  const [first] =
    shown.length > 0
      ? [...shown].sort((one, other) => atLeast_K(other) - atLeast_K(one))
      : [...untried].sort((one, other) => one.hottest_K.value - other.hottest_K.value);
  return first;
}

function findingOf(best: Finalist | undefined, noWorse_K: number): Exploration['finding'] {
  if (best === undefined) return 'nothing-left';
  if (best.cooler_K === null) return 'not-told-apart';
  if (best.cooler_K.value < noWorse_K) return 'nothing-left';
  return (best.interval95_K?.[0] ?? 0) > 0 ? 'worth-cutting' : 'not-told-apart';
}
