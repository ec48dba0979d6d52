import {
  formatCount,
  formatDuration,
  formatDurationEstimate,
  formatList,
  formatNumber,
} from '../../measure/index.js';
import type { Build } from '../../records/index.js';
import type { HeatAssessment } from '../assess-heat.js';
import type { Pace } from '../calibrate/time-constants.js';
import { setupName } from './tell-heat.js';

export interface PaceRow {
  readonly key: string;
  readonly setup: string;
  readonly measured: string;
  readonly modelled: string;
  /** "as modelled", "settles 1.6 times as slowly as modelled, in 3 runs": what the two make of each other. */
  readonly words: string;
  readonly differs: boolean;
}

/**
 * How slowly set-ups settle, measured and modelled: the one check of the model that its fit has not seen.
 *
 * @returns null where no time constants were compared
 */
export function presentPaces(
  build: Pick<Build, 'setups'>,
  { paces }: Pick<HeatAssessment, 'paces'>,
): { readonly sentence: string; readonly rows: readonly PaceRow[] } | null {
  const compared = paces.filter(({ measured_s }) => measured_s !== null);
  if (paces.length === 0) return null;
  return {
    sentence: sentenceOf(build, compared),
    rows: paces.map((pace) => ({
      key: pace.setup,
      setup: setupName(build, pace.setup),
      measured: measuredWords(pace),
      modelled: formatDuration(pace.model_s),
      words: ratioWords(pace),
      differs: pace.differs,
    })),
  };
}

const ratioOf = ({ measured_s, model_s }: Pace) => (measured_s ?? model_s) / model_s;

function sentenceOf(build: Pick<Build, 'setups'>, compared: readonly Pace[]): string {
  if (compared.length === 0)
    return 'No run shows a time constant at a cell, so how slowly the model settles is not checked.';
  const seen = 'The slowest time constant, which the fit has not seen.';
  const apart = compared.filter(({ differs }) => differs);
  if (apart.length === 0)
    return `${seen} Measured and modelled agree as far as tables of heat capacities go, in ${compared.length === 1 ? 'the one set-up' : `all ${compared.length} set-ups`} with a measured one.${leaning(compared)}`;
  const names = formatList(apart.map(({ setup }) => setupName(build, setup)));
  const slower = apart.filter((pace) => ratioOf(pace) > 1).length;
  const cause =
    slower === apart.length
      ? 'The device settles more slowly than the model: something heavy is missing from the records, or sheds its heat through less than is entered.'
      : slower === 0
        ? 'The device settles faster than the model: something is lighter than entered, or a run stopped before its slowest part showed.'
        : 'Some settle more slowly than the model and some faster, which no one missing part explains.';
  return `${seen} It disagrees for ${names}, by more than tables of heat capacities explain. ${cause} Rest temperatures may be right all the same; how long a soak must last should be taken from the runs.`;
}

/** That all lean one way is no chance: said even where each is within what tables explain. */
function leaning(compared: readonly Pace[]): string {
  const ratios = compared.map(ratioOf);
  const [least, most] = [Math.min(...ratios), Math.max(...ratios)];
  if (compared.length < 2 || (least <= 1 + alike && most >= 1 - alike)) return '';
  return least > 1
    ? ' The device is the slower one in all of them: take how long a soak must last from the runs.'
    : ' The device is the faster one in all of them.';
}

function measuredWords({ measured_s, spread_s }: Pace): string {
  if (measured_s === null) return 'not measured';
  return spread_s === null ? formatDuration(measured_s) : formatDurationEstimate(measured_s, spread_s);
}

/** A difference below this is none that a person could use. @assumed */
const alike = 0.05;

function ratioWords(pace: Pace): string {
  if (pace.measured_s === null) return 'nothing to hold it against';
  const ratio = ratioOf(pace);
  if (Math.abs(ratio - 1) < alike) return 'as modelled';
  const runs = formatCount(pace.runs, 'run');
  const words =
    ratio > 1
      ? `settles ${formatNumber(ratio, 1)} times as slowly as modelled, in ${runs}`
      : `settles ${formatNumber(1 / ratio, 1)} times as fast as modelled, in ${runs}`;
  return pace.differs ? words : `${words}; tables explain that much`;
}
