import type { IntervalView } from '../../drawing/index.js';
import { formatCount, formatEstimate, formatNumber, formatPercent } from '../../measure/index.js';
import type { Build } from '../../records/index.js';
import type { HeatAssessment, PredictedSetup } from '../assess-heat.js';
import type { Unknown } from '../device/unknown.js';
import { type PaceRow, presentPaces } from './present-paces.js';
import { presentTrust, type TrustRow } from './present-trust.js';
import { capital, type HeatWords, hottestCell, setupName, tellHeat } from './tell-heat.js';

/** One figure and where it comes from. What was measured is never passed off as predicted, nor the other way round. */
export interface MarkedFigure {
  readonly mark: 'measured' | 'predicted';
  readonly words: string;
}

/** Places down, set-ups across. */
export interface PredictionTable {
  readonly setups: readonly { readonly setup: string; readonly name: string; readonly isMeasured: boolean }[];
  readonly rows: readonly {
    readonly id: string;
    readonly name: string;
    /** One list for each set-up, measured before predicted; empty where there is neither. */
    readonly figures: readonly (readonly MarkedFigure[])[];
  }[];
}

/** Where the doubt of a set-up's hottest cell comes from, all in K. */
export interface DoubtRow {
  readonly setup: string;
  readonly name: string;
  readonly place: string;
  readonly rise: string;
  readonly parts: readonly string[];
}

export interface FittedRow {
  readonly id: string;
  readonly name: string;
  readonly nominal: string;
  readonly factor: string;
  readonly learned: string;
  readonly source: string;
  /** How much of what is known now came from the runs, 0 to 1. */
  readonly share: number;
}

export interface HeatView extends HeatWords {
  readonly loaded: PredictionTable;
  readonly charging: PredictionTable | null;
  readonly doubtColumns: readonly string[];
  readonly doubts: readonly DoubtRow[];
  readonly trust: {
    readonly sentence: string;
    readonly view: IntervalView;
    readonly rows: readonly TrustRow[];
  } | null;
  /** Null where no time constants were compared. */
  readonly paces: { readonly sentence: string; readonly rows: readonly PaceRow[] } | null;
  readonly fitted: {
    readonly sentence: string;
    readonly rows: readonly FittedRow[];
    readonly entangled: readonly string[];
  };
  readonly advice: readonly { readonly id: string; readonly words: string; readonly gain: string }[];
  readonly unpredicted: readonly string[];
  readonly beyond: readonly string[];
  readonly notes: readonly string[];
}

/** Everything the heat stage has to say of a build, in words and rows, for a page and for paper alike. */
export function presentHeat(
  build: Pick<Build, 'setups' | 'baseline' | 'designAmbient' | 'runs' | 'probes'>,
  heat: HeatAssessment,
): HeatView {
  const isLoaded = ({ charging }: PredictedSetup) => !charging;
  const charging = heat.predictions.filter((each) => each.charging);
  return {
    ...tellHeat(build, heat),
    loaded: tablePredictions(build, heat, heat.predictions.filter(isLoaded)),
    charging: charging.length === 0 ? null : tablePredictions(build, heat, charging),
    doubtColumns: ['what the runs left open', 'model’s own error', 'place of a probe', 'grid'],
    doubts: heat.predictions.filter(isLoaded).flatMap((each) => rowOfDoubt(build, each)),
    trust: presentTrust(build, heat),
    paces: presentPaces(build, heat),
    fitted: presentFitted(heat),
    advice: heat.advice.map(({ id, words, left }) => ({
      id,
      words,
      gain: left > 0.99 ? 'hardly anything' : `${formatPercent(1 - left)} less doubt`,
    })),
    unpredicted: heat.unpredicted.map(
      ({ setup, reason }) => `${capital(setupName(build, setup))}: ${reason}`,
    ),
    beyond: heat.predictions.flatMap(({ setup, beyond }) =>
      beyond.map((words) => `${capital(setupName(build, setup))}: ${words}`),
    ),
    notes: heat.notes,
  };
}

function tablePredictions(
  build: Pick<Build, 'setups'>,
  heat: HeatAssessment,
  predictions: readonly PredictedSetup[],
): PredictionTable {
  const targets = new Map(
    predictions.flatMap(({ rises }) => rises.map(({ target }) => [target.id, target.name] as const)),
  );
  return {
    setups: predictions.map(({ setup, measured }) => ({
      setup,
      name: setupName(build, setup),
      isMeasured: measured,
    })),
    rows: [...targets].map(([id, name]) => ({
      id,
      name,
      figures: predictions.map((prediction) => figuresOf(heat, prediction, id)),
    })),
  };
}

function figuresOf(
  { fitted }: HeatAssessment,
  { setup, charging, rises }: PredictedSetup,
  id: string,
): MarkedFigure[] {
  const rise = rises.find(({ target }) => target.id === id);
  const datum = fitted.find(
    (each) =>
      each.setup === setup &&
      each.charging === charging &&
      each.phase === 'load' &&
      `probe:${each.probe}` === id,
  );
  const measured: MarkedFigure[] =
    datum === undefined
      ? []
      : [{ mark: 'measured', words: plainEstimate(datum.measured_K, datum.measured_u_K) }];
  return rise === undefined
    ? measured
    : [...measured, { mark: 'predicted', words: plainEstimate(rise.rise_K.value, rise.rise_K.u) }];
}

/** "24.0 ± 0.3": the unit stands at the head of the table. */
function plainEstimate(value: number, u: number): string {
  return formatEstimate({ value, u }, '').trim();
}

function rowOfDoubt(build: Pick<Build, 'setups'>, { setup, rises }: PredictedSetup): DoubtRow[] {
  const rise = hottestCell(rises);
  if (rise === null) return [];
  const { unknowns_K, model_K, place_K, grid_K } = rise.parts;
  return [
    {
      setup,
      name: setupName(build, setup),
      place: rise.target.name,
      rise: plainEstimate(rise.rise_K.value, rise.rise_K.u),
      parts: [unknowns_K, model_K, place_K, grid_K].map((part) => formatNumber(part, 1)),
    },
  ];
}

function presentFitted({ identification }: HeatAssessment): HeatView['fitted'] {
  const { learned, entangled, settledCombinations, readings } = identification;
  const nameOf = (id: string) => learned.find(({ unknown }) => unknown.id === id)?.unknown.name ?? id;
  const poor = learned.filter((each) => each.learned < 0.1).length;
  return {
    sentence: `${formatCount(readings, 'reading settles', 'readings settle')} ${formatNumber(settledCombinations, 1)} combinations of ${formatCount(learned.length, 'unknown')}. ${poor === 0 ? '' : `Of ${poor} the runs say next to nothing: what was known before still stands for them. `}A sharp factor beside a low share was sharp before any run.`,
    rows: learned.map(({ unknown, factor, spread, learned: share }) => ({
      id: unknown.id,
      name: unknown.name,
      nominal: nominalWords(unknown),
      factor: factorWords(unknown, factor, spread),
      learned: formatPercent(share),
      source: unknown.source,
      share,
    })),
    entangled: entangled.map(
      ({ one, other, correlation }) =>
        `${capital(nameOf(one))} and ${nameOf(other)} cannot be told apart: ${correlation < 0 ? 'more of one with less of the other' : 'more or less of both together'} gives the same readings (correlation ${formatNumber(correlation, 2)}).`,
    ),
  };
}

/** "1.20 ± 10 %"; of what is added to its figure instead of scaling it, "+0.12 W ± 0.20 W". */
export function factorWords({ adds, nominal }: Unknown, factor: number, spread: number): string {
  if (adds !== true) return `${formatNumber(factor, 2)} ± ${formatPercent(spread)}`;
  const added = Math.log(factor);
  const unit = nominal?.unit ?? '';
  return `${added > 0 ? '+' : ''}${formatNumber(added, 2)} ${unit} ± ${formatNumber(spread, 2)} ${unit}`;
}

function nominalWords({ nominal }: Unknown): string {
  return nominal === null ? '–' : `${formatNumber(nominal.value, nominal.value < 1 ? 3 : 1)} ${nominal.unit}`;
}
