import type { HeatAssessment } from '../heat/index.js';
import {
  compareWhatIfs,
  type DutyChange,
  forecastLife,
  type LifeForecast,
  type LifeInput,
  type LifeOutlook,
  layOutYear,
  type NoForecast,
  outlookLife,
  presentYear,
  risesInOrder,
  type WhatIfs,
  weighChange,
  type YearView,
} from '../life/index.js';
import { BadInputError, found, OutOfRangeError, type Result, refused } from '../measure/index.js';
import { type Build, dutyFaults } from '../records/index.js';
import { type BuildLife, gatherLife, type LifeEvidence, type NoBuildLife, packFacts } from './gather-life.js';

/** A build's forecast and what it stands on. */
export interface BuildForecast extends BuildLife {
  readonly forecast: LifeForecast;
}

export type NoBuildForecast = NoBuildLife | NoForecast;

export interface ForecastOptions extends Pick<LifeInput, 'draws' | 'seed' | 'horizon_years'> {
  /** The build's calibrated heat model: set-ups that were never soaked are then forecast as predicted. */
  readonly heat?: HeatAssessment;
}

const borrowedRises = 'At the new pack’s rises in the baseline: its own were not measured.';

/** Enough for a range that is said to a tenth of a year: on the demo its ends move by 3 to 4 % from seed to seed, chances by one in a hundred. */
const usualDraws = 1000;
const usualSeed = 20_260;

/**
 * Years and watt-hours per set-up from a build and its runs, or why there are none; then the bracket of ratios remains.
 *
 * @throws BadInputError where the duty contradicts itself
 */
export function forecastBuild(
  build: Build,
  assessment: LifeEvidence,
  options: ForecastOptions = {},
): Result<BuildForecast, NoBuildForecast> {
  const gathered = gatherFor(build, assessment, options);
  if (!gathered.ok) return gathered;
  const forecast = withinReason(() => forecastLife(gathered.value.input));
  return forecast.ok ? found({ ...gathered.value, forecast: forecast.value }) : forecast;
}

/** A build's forecast in a line or two, and what it stands on. */
export interface BuildOutlook extends BuildLife {
  readonly outlook: LifeOutlook;
}

/** A line about years shows no course over them, and the draws are the same however far that goes. */
const briefHorizon_years = 2;

/**
 * The order of the set-ups and the range of the years alone, the forecast's own to the last digit: what a verdict has room for.
 *
 * @throws BadInputError where the duty contradicts itself
 */
export function outlookBuild(
  build: Build,
  assessment: LifeEvidence,
  options: ForecastOptions = {},
): Result<BuildOutlook, NoBuildForecast> {
  const gathered = gatherFor(build, assessment, { horizon_years: briefHorizon_years, ...options });
  if (!gathered.ok) return gathered;
  const outlook = withinReason(() => outlookLife(gathered.value.input));
  return outlook.ok ? found({ ...gathered.value, outlook: outlook.value }) : outlook;
}

/** What other habits would do in one set-up of a build; the original pack among them where its cathode is known. */
export function askWhatIfs(
  build: Build,
  assessment: LifeEvidence,
  setup: string,
  options: ForecastOptions = {},
): Result<WhatIfs, NoBuildForecast> {
  const gathered = gatherFor(build, assessment, options);
  if (!gathered.ok) return gathered;
  const { input } = gathered.value;
  const pack = build.originalPack && packFacts(build.originalPack);
  const rises = input.setups[0]?.rises;
  const isComparable = pack && rises && pack.series === input.pack.series;
  return withinReason(() =>
    compareWhatIfs(input, setup, isComparable ? { original: { pack, rises, note: borrowedRises } } : {}),
  );
}

/** The same for one change of habits put together by hand. */
export function askChange(
  build: Build,
  assessment: LifeEvidence,
  setup: string,
  change: DutyChange,
  options: ForecastOptions = {},
): Result<WhatIfs, NoBuildForecast> {
  const gathered = gatherFor(build, assessment, options);
  return gathered.ok ? withinReason(() => weighChange(gathered.value.input, setup, change)) : gathered;
}

/** A measured rise, or a change of habits, that no pack goes through is an answer here, not a slip of the caller. */
function withinReason<T, Reason extends { readonly kind: string }>(
  work: () => Result<T, Reason>,
): Result<T, Reason | NoBuildLife> {
  try {
    return work();
  } catch (error) {
    if (error instanceof OutOfRangeError || error instanceof BadInputError)
      return refused({ kind: 'odd-figure', remedy: error.message });
    throw error;
  }
}

/** The year that the warmest cell of one set-up goes through, for its picture. */
export function picturedYear({ input, forecast }: BuildForecast, setup: string): YearView {
  const year = layOutYear(input.duty, input.pack.energy_Wh, forecast.limit);
  const rises = (input.setups.find((each) => each.setup === setup) ?? input.setups[0])?.rises ?? {};
  const cells = Array.from({ length: input.pack.series }, (_, cell) => risesInOrder(year, rises, cell));
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
  const warmest = cells.reduce((most, each) => (sum(each) > sum(most) ? each : most));
  return presentYear(year, warmest);
}

function gatherFor(build: Build, assessment: LifeEvidence, { heat, ...options }: ForecastOptions) {
  if (build.dutyYear) {
    const faults = dutyFaults(build.dutyYear, 'dutyYear');
    if (faults.length > 0) throw new BadInputError(faults);
  }
  const gathered = gatherLife(build, assessment, heat);
  if (!gathered.ok) return gathered;
  return found({
    ...gathered.value,
    input: { draws: usualDraws, seed: usualSeed, ...gathered.value.input, ...options },
  });
}
