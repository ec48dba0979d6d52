import type { PreparedLife } from './forecast-input.js';
import { longestLife_years } from './life-end.js';
import { type Spread, spreadOf } from './quantiles.js';
import type { SetupDraws, SimulatedLife } from './simulate-life.js';

/** What one set-up comes to, over all draws. */
export interface SetupForecast {
  readonly setup: string;
  readonly name: string;
  /** True where its rises were predicted and not measured. */
  readonly isPredicted: boolean;
  /** Years until the weakest cell has lost a fifth; `beyond` is the share of draws in which it takes longer than can be told. */
  readonly years: Spread & { readonly beyond: number };
  /** Capacity of the pack, 1 when new, over the years. */
  readonly bands: readonly (Spread & { readonly year: number })[];
  /** Energy drawn from the pack until then, less what a worn one can no longer give. */
  readonly delivered_Wh: Spread;
  /** Hours of use on one charge, at the mean power of the activities. */
  readonly runTime: { readonly now_h: number; readonly afterTwo_h: Spread } | null;
  /** Each cell's own years, and how often it is the one that gives out first. */
  readonly cells: readonly { readonly cell: number; readonly years: Spread; readonly weakest: number }[];
  /** By how much the best cell is ahead of the weakest, as a share of the initial capacity. */
  readonly imbalance: readonly { readonly year: number; readonly p50: number; readonly p95: number }[];
  /** Life over that in the first set-up, draw by draw; null for the first itself. */
  readonly ratio: Spread | null;
  readonly chanceLongest: number;
  /** Chance of a longer life than in the first set-up. */
  readonly chanceLonger: number | null;
  readonly byModel: readonly { readonly id: string; readonly years: number }[];
  /** When swelling uses the gap up, and how likely that is within the horizon and before the pack is worn out. */
  readonly gap: {
    readonly becomes: string;
    readonly closes: Spread;
    readonly within: number;
    readonly beforeEnd: number;
  } | null;
  /** Price over years; the quantiles are those of the cost, so the lowest belongs to the longest life. */
  readonly costPerYear: (Spread & { readonly currency: string }) | null;
}

function share(values: ArrayLike<number>, holds: (value: number, index: number) => boolean): number {
  let count = 0;
  for (let i = 0; i < values.length; i++) if (holds(values[i] as number, i)) count++;
  return count / values.length;
}

/** Ranges, chances and medians of one set-up out of its draws. */
export function summariseSetup(prepared: PreparedLife, life: SimulatedLife, index: number): SetupForecast {
  const { input, condensed, worn } = prepared;
  const draws = life.setups[index] as SetupDraws;
  const facts = input.setups[index];
  const first = (life.setups[0] as SetupDraws).years;
  const { years } = draws;
  const isFirst = index === 0;
  const map = (of: (value: number, i: number) => number) => Float64Array.from(years, of);
  // Of a mean year down to the end of a life: by Simpson's rule over the loss.
  const [tenth = condensed, fifth = condensed] = worn;
  const drawn_Wh = (condensed.drawn_Wh + 4 * tenth.drawn_Wh + fifth.drawn_Wh) / 6;
  const twoYears = Math.min(life.times.length - 1, life.times.indexOf(2));
  return {
    setup: facts?.setup ?? '',
    name: facts?.name ?? '',
    isPredicted: facts?.isPredicted === true,
    years: { ...spreadOf(years.slice()), beyond: share(years, (value) => value >= longestLife_years) },
    bands: life.times.map((year, k) => ({ year, ...spreadOf((draws.capacity[k] as Float64Array).slice()) })),
    delivered_Wh: spreadOf(map((value, i) => value * drawn_Wh * (life.hours[i] as number))),
    runTime: twoYears < 0 ? null : runTimeOf(prepared, draws.capacity[twoYears] as Float64Array),
    cells: draws.cellYears.map((cellYears, cell) => ({
      cell: cell + 1,
      years: spreadOf(cellYears.slice()),
      weakest: share(cellYears, (value, i) => value === years[i] && value < longestLife_years),
    })),
    imbalance: life.times.map((year, k) => {
      const { p50, p95 } = spreadOf((draws.ahead[k] as Float64Array).slice());
      return { year, p50, p95 };
    }),
    ratio: isFirst ? null : spreadOf(map((value, i) => value / (first[i] as number))),
    chanceLongest: chanceLongest(life, index),
    chanceLonger: isFirst ? null : share(years, (value, i) => value > (first[i] as number)),
    byModel: life.family.map(({ model }, m) => ({
      id: model.id,
      years: spreadOf(years.filter((_, i) => life.modelOf[i] === m)).p50,
    })),
    gap:
      draws.closes === null
        ? null
        : {
            becomes: facts?.spacer?.becomes ?? '',
            closes: spreadOf(draws.closes.slice()),
            within: share(draws.closes, (when) => when <= (life.times.at(-1) ?? 0)),
            beforeEnd: share(draws.closes, (when, i) => when < (years[i] as number)),
          },
    costPerYear: input.pack.price
      ? {
          ...spreadOf(map((value) => (input.pack.price?.amount ?? 0) / value)),
          currency: input.pack.price.currency,
        }
      : null,
  };
}

/** Hours of use on one charge between limit and lowest charge; null where the device never runs on its pack. */
function runTimeOf({ input, limit, lowest }: PreparedLife, capacity: Float64Array) {
  const hours = input.duty.activities.reduce((sum, { h_per_day }) => sum + h_per_day, 0);
  const daily_Wh = input.duty.activities.reduce((sum, { h_per_day, use_W }) => sum + h_per_day * use_W, 0);
  if (!(daily_Wh > 0)) return null;
  const now_h = ((limit - lowest) * input.pack.energy_Wh * hours) / daily_Wh;
  return { now_h, afterTwo_h: spreadOf(capacity.map((value) => value * now_h)) };
}

/** Chance to outlast all others; set-ups that end together share it. */
function chanceLongest(life: SimulatedLife, index: number): number {
  const all = life.setups.map(({ years }) => years);
  const draws = life.modelOf.length;
  let sum = 0;
  for (let i = 0; i < draws; i++) {
    let best = 0;
    let among = 0;
    for (const years of all) {
      const value = years[i] as number;
      if (value > best) {
        best = value;
        among = 1;
      } else if (value === best) among++;
    }
    if (all[index]?.[i] === best) sum += 1 / among;
  }
  return sum / draws;
}
