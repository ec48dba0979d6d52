import { formatCount, formatDuration, formatList, formatNumber } from '../../measure/index.js';
import type { Build } from '../../records/index.js';
import type { HeatAssessment } from '../assess-heat.js';
import type { Pace } from '../calibrate/time-constants.js';
import { setupName } from './tell-heat.js';

export interface PaceRow {
  readonly key: string;
  readonly setup: string;
  readonly measured: string;
  readonly modelled: string;
  /** "as measured", "1.6 times as slow as the model": what the two make of each other. */
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
    return `${seen} Measured and modelled agree as far as tables of heat capacities go, in ${compared.length === 1 ? 'the one set-up' : `all ${compared.length} set-ups`} with a measured one.`;
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

function measuredWords({ measured_s, spread_s, runs }: Pace): string {
  if (measured_s === null) return 'not measured';
  const spread = spread_s === null ? '' : ` ± ${formatDuration(spread_s)}`;
  return `${formatDuration(measured_s)}${spread}, ${formatCount(runs, 'run')}`;
}

/** A difference below this is none that a person could use. @assumed */
const alike = 0.05;

function ratioWords(pace: Pace): string {
  if (pace.measured_s === null) return 'nothing to hold it against';
  const ratio = ratioOf(pace);
  if (Math.abs(ratio - 1) < alike) return 'as modelled';
  const words =
    ratio > 1
      ? `settles ${formatNumber(ratio, 1)} times as slowly as modelled`
      : `settles ${formatNumber(1 / ratio, 1)} times as fast as modelled`;
  return pace.differs ? words : `${words}; tables explain that much`;
}
