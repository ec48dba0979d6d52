import { formatCount, formatNumber, formatPercent } from '../measure/index.js';
import type { LifeForecast } from './forecast/forecast-life.js';
import type { SetupForecast } from './forecast/summarise-setup.js';
import { tellFadeApart } from './forecast/tell-fade-apart.js';
import { rangeFigure, ratioRange, yearsFigure, yearsRange } from './life-words.js';
import { type OutlookView, presentOutlook } from './present-outlook.js';

/** The life page in words, answer first. */
export interface LifeView extends OutlookView {
  readonly tenKelvin: string;
  /** One sentence for each gap that swelling may close. */
  readonly gaps: readonly string[];
  /** Which cell gives out first, where the set-ups' cells differ. */
  readonly cells: readonly string[];
  readonly fade: string | null;
  readonly chemistry: string;
  readonly models: readonly ModelView[];
  readonly whyDiffer: string;
  readonly rows: readonly LifeRow[];
  readonly flags: readonly string[];
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
}

export interface ModelView {
  readonly title: string;
  readonly source: string;
  /** How firm its figures are, and whether its cells had the pack's chemistry. */
  readonly standing: string;
  readonly figure: string;
  readonly cautions: readonly string[];
}

export interface LifeRow {
  readonly setup: string;
  readonly name: string;
  readonly years: string;
  readonly ratio: string;
  readonly chance: string;
  readonly delivered: string;
  readonly runTime: string;
  readonly costPerYear: string;
}

/** @source [ATTIA-22] for the knee; the others are common practice, no source */
export const lifeCautions: readonly string[] = [
  'A pack that has swollen, or lifts its shell or screen, is used no more: do not charge it, do not press it flat, take it to a collection point.',
  'Heat while full is what ages and swells a pack most: in the warm, do not leave it full on the charger.',
  'A pack can fade suddenly after a long smooth stretch. None of these models knows that.',
  'A long forecast life is no leave to pass a temperature limit: limits keep people from harm, these figures do not.',
];

/** @source [LAM-24] for the range between makes, from group medians */
const whyModelsDiffer =
  'Each model was fitted to cells of one make. Small cobalt-oxide cells of three makes, stored full at 24 °C, lost between 1 and 12 % in a year: that is more than ten kelvins change. The models differ in how steeply ageing rises with warmth, in whether charge counts, and in how it slows with time; most are asked beyond where they were tested.';

/** Everything a page or print says about a forecast. */
export function presentLife(forecast: LifeForecast): LifeView {
  return {
    ...presentOutlook(forecast),
    tenKelvin: tenKelvinWords(forecast),
    gaps: forecast.setups.flatMap((each) => gapWords(each, forecast)),
    cells: forecast.setups.flatMap(cellWords),
    fade: fadeWords(forecast),
    chemistry: chemistryWords(forecast),
    models: forecast.models.map(presentModel),
    whyDiffer: whyModelsDiffer,
    rows: forecast.setups.map(presentRow),
    flags: forecast.flags.map(({ words }) => words),
    notes: forecast.notes,
    cautions: lifeCautions,
  };
}

function tenKelvinWords({ tenKelvin: { hot_h, buys, ifAlways } }: LifeForecast): string {
  if (!(hot_h > 0)) return 'The pack is not warmed by use: a cooler set-up in use changes nothing.';
  const mean = ([low, high]: readonly [number, number]) => Math.sqrt(low * high) - 1;
  const figures = (range: readonly [number, number]) =>
    rangeFigure(formatNumber(range[0], 2), formatNumber(range[1], 2));
  const opening = `Use warms the pack for ${formatNumber(hot_h, 1)} of 24 hours. Ten kelvins less in use would make it last ${figures(buys)} times as long`;
  return mean(buys) < 0.7 * mean(ifAlways)
    ? `${opening}: small beside the ${figures(ifAlways)} times if it were in use all day, because much of its ageing happens in the other hours.`
    : `${opening}; were it in use all day, ${figures(ifAlways)} times.`;
}

function gapWords({ name, gap }: SetupForecast, { setups }: LifeForecast): string[] {
  if (!gap) return [];
  const becomes = setups.find(({ setup }) => setup === gap.becomes);
  const then = becomes
    ? `from then on it is counted as ${becomes.name}`
    : 'what it is from then on was not measured, and it is counted as before';
  return [
    `Swelling uses up the gap of ${name} after ${yearsRange(gap.closes)}, before the pack is worn out in ${formatPercent(gap.beforeEnd)} of the draws; ${then}. How much a pouch swells is known by rules of the trade only.`,
  ];
}

function cellWords({ name, cells, imbalance }: SetupForecast): string[] {
  if (cells.length < 2) return [];
  const weakest = cells.reduce((most, each) => (each.weakest > most.weakest ? each : most));
  const end = imbalance.at(-1);
  return [
    `${name}: cell ${weakest.cell} gives out first in ${formatPercent(weakest.weakest)} of the draws, and limits the pack. After ${formatCount(end?.year ?? 0, 'year')} the best cell is ahead of it by ${formatNumber(100 * (end?.p50 ?? 0), 0)} % of the capacity (up to ${formatNumber(100 * (end?.p95 ?? 0), 0)} %).`,
  ];
}

const test_u = 0.005;
const years = [1, 2, 3, 4, 5] as const;

/** Whether the pack's own fade will show which set-up was better: for part-day heat mostly not within a year. */
function fadeWords({ setups }: LifeForecast): string | null {
  const best = setups.reduce<SetupForecast | null>(
    (most, each) => (each.ratio && (!most?.ratio || each.ratio.p50 > most.ratio.p50) ? each : most),
    null,
  );
  const loss = 1 - (setups[0]?.bands.find(({ year }) => year === 1)?.p50 ?? 1);
  if (!best?.ratio || !(best.ratio.p50 > 1) || !(loss > 0)) return null;
  const contrasts = tellFadeApart(Math.min(20, best.ratio.p50), Math.min(0.5, loss), test_u, years);
  const shown = contrasts.find(({ sigmas }) => sigmas >= 2);
  const when = shown
    ? shown.years === 1
      ? 'within a year'
      : `only after about ${shown.years} years`
    : 'not within five years';
  const tests = `Capacity tests once a month, good to 0.5 %, would tell ${best.name} from ${setups[0]?.name} ${when}`;
  return shown?.years === 1 ? `${tests}.` : `${tests}: the bench decides, not the pack’s own history.`;
}

function chemistryWords({ chemistry, models, limit }: LifeForecast): string {
  const own = models.filter(({ isOwn }) => isOwn).length;
  const whose = own === 0 ? 'none' : formatNumber(own, 0);
  return `Counted as ${chemistry}, charged to ${formatPercent(limit)}: ${whose} of ${formatCount(models.length, 'model')} ${own === 1 ? 'was' : 'were'} made with such cells, the others with the same anode. None was made for a hand-held pack of unknown make.`;
}

function presentModel(model: LifeForecast['models'][number]): ModelView {
  const seen = {
    read: 'figures read in the work itself',
    'second hand': 'figures seen in copies that cite it',
    'from memory': 'figures from memory, to be confirmed',
  }[model.status];
  const parts = [
    model.isOwn ? 'cells of this chemistry' : 'cells of another chemistry, same anode',
    seen,
    ...(model.lentFrom ? [`wear by cycling lent from ${model.lentFrom}`] : []),
  ];
  return {
    title: model.title,
    source: model.source,
    standing: parts.join('; '),
    figure: `${yearsFigure(model.years)} years`,
    cautions: model.cautions,
  };
}

function presentRow(each: SetupForecast): LifeRow {
  const { runTime, costPerYear, ratio } = each;
  return {
    setup: each.setup,
    name: each.name,
    years: yearsRange(each.years),
    ratio: ratio ? ratioRange(ratio) : '',
    chance: formatPercent(each.chanceLongest),
    delivered: deliveredWords(each.delivered_Wh),
    runTime: runTimeWords(runTime),
    costPerYear: costWords(costPerYear),
  };
}

export function deliveredWords({ p05, p95 }: SetupForecast['delivered_Wh']): string {
  return `${rangeFigure(formatNumber(p05 / 1000, 1), formatNumber(p95 / 1000, 1))} kWh`;
}

export function runTimeWords(runTime: SetupForecast['runTime']): string {
  if (!runTime) return 'not used on the pack';
  const { now_h, afterTwo_h } = runTime;
  return `${formatNumber(now_h, 1)} h, after two years ${rangeFigure(formatNumber(afterTwo_h.p05, 1), formatNumber(afterTwo_h.p95, 1))} h`;
}

export function costWords(cost: SetupForecast['costPerYear']): string {
  if (!cost) return '';
  return `${rangeFigure(formatNumber(cost.p05, 0), formatNumber(cost.p95, 0))} ${cost.currency} a year`;
}
