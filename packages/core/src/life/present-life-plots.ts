import type { IntervalView } from '../drawing/index.js';
import { formatNumber } from '../measure/index.js';
import type { LifeForecast } from './forecast/forecast-life.js';
import { longestLife_years } from './forecast/life-end.js';
import { ratioRange, yearsRange } from './life-words.js';

/**
 * Years to 80 % per set-up: thick stroke the middle half of the draws, thin stroke nine in ten, ticks the medians of the single models.
 * There is no dot, because no model is the best one.
 */
export function presentLifeYears(forecast: LifeForecast, chosen?: string | null): IntervalView {
  return {
    label: `Years to 80 %: ${forecast.setups.map(({ name, years }) => `${name} ${yearsRange(years)}`).join('; ')}.`,
    unit: 'years',
    rows: forecast.setups.map(({ setup, name, years, byModel }) => ({
      name: [{ words: name }],
      mark: {
        value: null,
        thick: [years.p25, years.p75],
        thin: [years.p05, years.p95],
        ...(years.p95 >= longestLife_years ? { atLeast: true } : {}),
      },
      isFirm: false,
      isChosen: setup === chosen,
      runs: byModel.map((each) => each.years),
      figure: yearsRange(years),
      note: '',
    })),
  };
}

/** Life over that in the first set-up, draw by draw: what is firm about a forecast. Firm where nine draws in ten agree that it is longer. */
export function presentLifeRatios(forecast: LifeForecast, chosen?: string | null): IntervalView {
  const [first, ...others] = forecast.setups;
  const base = first?.byModel ?? [];
  const rows = others.flatMap(({ setup, name, ratio, byModel }) =>
    ratio
      ? [
          {
            name: [{ words: name }],
            mark: {
              value: null,
              thick: [ratio.p25, ratio.p75] as const,
              thin: [ratio.p05, ratio.p95] as const,
            },
            isFirm: ratio.p05 > 1 || ratio.p95 < 1,
            isChosen: setup === chosen,
            runs: byModel.map(({ years }, i) => years / (base[i]?.years ?? Number.NaN)),
            figure: ratioRange(ratio),
            note: '',
          },
        ]
      : [],
  );
  return {
    label:
      rows.length === 0
        ? `Life against ${first?.name ?? 'nothing'}: no other set-up to compare with.`
        : `Life as a multiple of that in ${first?.name}: ${rows.map(({ name, figure }) => `${name[0]?.words} ${figure}`).join('; ')}.`,
    unit: '×',
    rows,
    zero: { at: 1, words: `as ${first?.name ?? ''}`, toward: 'longer →' },
  };
}

/** One band of capacity over time, in per cent, for a chart. */
export interface CapacityBand {
  readonly setup: string;
  readonly name: string;
  readonly points: readonly {
    readonly year: number;
    readonly thin: readonly [number, number];
    readonly thick: readonly [number, number];
  }[];
  readonly words: string;
}

export function presentCapacityBands(forecast: LifeForecast): CapacityBand[] {
  return forecast.setups.map(({ setup, name, bands }) => {
    const end = bands.at(-1);
    const percent = (share: number) => Math.round(1000 * share) / 10;
    return {
      setup,
      name,
      points: bands.map(({ year, p05, p25, p75, p95 }) => ({
        year,
        thin: [percent(p05), percent(p95)],
        thick: [percent(p25), percent(p75)],
      })),
      words: `${name}: ${formatNumber(100 * (end?.p05 ?? 0), 0)} to ${formatNumber(100 * (end?.p95 ?? 0), 0)} % left after ${formatNumber(end?.year ?? 0, 0)} years.`,
    };
  });
}
