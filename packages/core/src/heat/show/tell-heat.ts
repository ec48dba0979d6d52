/** The heat stage in a sentence, and in the two or three words of the stage line. */
import {
  type Estimate,
  type Fault,
  formatCelsius,
  formatCount,
  formatEstimate,
  formatKelvin,
  type Sentence,
  type SentencePart,
} from '../../measure/index.js';
import type { Build } from '../../records/index.js';
import type { HeatAssessment, NoHeat, PredictedSetup } from '../assess-heat.js';
import type { PredictedRise } from '../calibrate/predict.js';

export interface HeatWords {
  readonly answer: Sentence;
  readonly condition: string;
  readonly state: { readonly level: 'holds' | 'look' | 'stop' | 'none'; readonly words: string };
}

/** A model that errs by less than this at the cells tells apart what set-ups mostly differ by. @assumed a usual shield gains 3 K */
const goodModel_K = 1;

type Names = Pick<Build, 'setups' | 'baseline' | 'designAmbient' | 'runs'>;

export function setupName(build: Pick<Build, 'setups'>, id: string): string {
  return build.setups.find((setup) => setup.id === id)?.name ?? id;
}

/** The warmest of the hottest places of all cells: what limits on cells are held against. */
export function hottestCell<
  T extends { readonly target: PredictedRise['target']; readonly rise_K: PredictedRise['rise_K'] },
>(rises: readonly T[]): T | null {
  return rises
    .filter(({ target }) => target.kind === 'hottest' && target.id.startsWith('cell-'))
    .reduce<T | null>(
      (most, each) => (most === null || each.rise_K.value > most.rise_K.value ? each : most),
      null,
    );
}

interface Spoken {
  readonly setup: PredictedSetup;
  readonly rise: PredictedRise;
}

/**
 * What the model says, answer first: the coolest set-up nobody has soaked yet against the baseline, or, where all were soaked, the coolest
 * of those; and how far the model is off where it could be checked.
 */
export function tellHeat(build: Names, heat: HeatAssessment): HeatWords {
  const spoken = heat.predictions
    .filter(({ charging }) => !charging)
    .flatMap((setup): Spoken[] => {
      const rise = hottestCell(setup.rises);
      return rise === null ? [] : [{ setup, rise }];
    })
    .sort((one, other) => one.rise.rise_K.value - other.rise.rise_K.value);
  const baselineId = build.baseline ?? build.setups[0]?.id;
  const baseline = spoken.find(({ setup }) => setup.setup === baselineId);
  const untried = spoken.find(({ setup }) => !setup.measured);
  const best = untried ?? spoken[0];
  const answer: SentencePart[] = [];
  if (best === undefined)
    answer.push('No set-up of this build can be predicted: see what stands in the way below.');
  else {
    answer.push(untried === undefined ? 'Of the set-ups soaked, ' : 'Untried, ');
    answer.push({ figure: setupName(build, best.setup.setup) });
    answer.push(untried === undefined ? ' has the coolest hottest cell: ' : ' would put the hottest cell ');
    answer.push(riseFigure(build, heat, best.rise));
    answer.push(' above the room');
    if (baseline !== undefined && baseline !== best)
      answer.push(...againstBaseline(build, heat, best, baseline));
    answer.push('.');
  }
  answer.push(...errorSentence(build, heat));
  return { answer, condition: conditionOf(heat), state: heatState(heat) };
}

/** The rise, which is what the runs hold. A level on the warmest day would be a sum that the model itself does not come to. */
function riseFigure(build: Names, { room_C }: HeatAssessment, rise: PredictedRise): SentencePart {
  const { rise_K, parts, target } = rise;
  const bound = boundOnLevel(build, room_C, rise_K);
  return {
    figure: formatEstimate(rise_K, 'K'),
    why: `${capital(target.name)}, predicted in a room of ${formatCelsius(room_C)}. Its doubt comes from what the runs left open (${formatKelvin(parts.unknowns_K, 0.1)}), the model’s own error (${formatKelvin(parts.model_K, 0.1)}) and the grid (${formatKelvin(parts.grid_K, 0.1)}).${bound === null ? '' : ` It comes to ${bound}.`}`,
  };
}

/** "no more than 54.6 ± 1.2 °C on a day of 32 °C": faces give off more in a warmer room. Null where that room is not the warmer one. */
export function boundOnLevel(
  { designAmbient }: Pick<Build, 'designAmbient'>,
  room_C: number,
  { value, u }: Pick<Estimate, 'value' | 'u'>,
): string | null {
  if (designAmbient === undefined || designAmbient.ambient_C < room_C) return null;
  const { ambient_C } = designAmbient;
  return `no more than ${formatEstimate({ value: ambient_C + value, u }, '°C')} on a day of ${formatCelsius(ambient_C)}, when faces give off a little more`;
}

/** Two predictions share most of their doubt, so the error found by leaving set-ups out is the yardstick, not the two doubts. */
function againstBaseline(build: Names, heat: HeatAssessment, best: Spoken, baseline: Spoken): SentencePart[] {
  const cooler_K = baseline.rise.rise_K.value - best.rise.rise_K.value;
  const error_K = heat.leaveOneOut?.cells_K ?? heat.leaveOneOut?.all_K ?? null;
  const parts: SentencePart[] = [
    ', ',
    {
      figure: `${formatKelvin(Math.abs(cooler_K))} ${cooler_K >= 0 ? 'below' : 'above'}`,
      why: 'The difference of two predictions at their hottest places. Most of their doubt is the same in both.',
    },
    ` ${setupName(build, baseline.setup.setup)}`,
  ];
  if (error_K !== null && Math.abs(cooler_K) < error_K) parts.push(', which is less than the model can tell');
  return parts;
}

function errorSentence(build: Names, { leaveOneOut, identification }: HeatAssessment): SentencePart[] {
  const error_K = leaveOneOut?.cells_K ?? leaveOneOut?.all_K ?? null;
  if (leaveOneOut === null || error_K === null)
    return [
      ' How far off it is nobody can tell yet: it takes runs of a second set-up to predict one from the other.',
    ];
  const setups = new Set(leaveOneOut.rows.map(({ setup }) => setup)).size;
  return [
    ' Predicting each measured set-up from the others, the model errs by ',
    {
      figure: formatKelvin(error_K),
      why: `Root mean square of predicted less measured ${leaveOneOut.cells_K === null ? 'over all probes' : 'at the cells'}, ${formatCount(setups, 'set-up')} of ${build.setups.length} left out in turn, from ${formatCount(identification.readings, 'mean rise')}.`,
    },
    leaveOneOut.cells_K === null ? '.' : ' at the cells.',
  ];
}

function conditionOf(heat: HeatAssessment): string {
  const soaked = new Set(heat.fitted.map(({ setup }) => setup)).size;
  return `Settled, in a room of ${formatCelsius(heat.room_C)}, the mean of the runs, with their usual load; in a warmer room a rise is a little smaller. Predicted by a model calibrated on ${formatCount(heat.identification.readings, 'mean rise')} of ${formatCount(soaked, 'set-up')}. ± is one standard uncertainty.`;
}

/** The stage in two or three words. */
export function heatState({ leaveOneOut }: Pick<HeatAssessment, 'leaveOneOut'>): HeatWords['state'] {
  const error_K = leaveOneOut?.cells_K ?? leaveOneOut?.all_K ?? null;
  if (error_K === null) return { level: 'look', words: 'unchecked' };
  return { level: error_K <= goodModel_K ? 'holds' : 'look', words: `good to ${formatKelvin(error_K)}` };
}

/** Why there is no model, as a fault with what to do at the bench. */
export function explainNoHeat(reason: NoHeat): Fault {
  const where = 'heat';
  switch (reason.kind) {
    case 'no-data':
      return {
        where,
        what: 'No settled rise under load lies at a place the model can read.',
        remedy:
          'Log one set-up under full load until nothing rises, with a probe on a cell and one on a zone.',
      };
    case 'fit-not-settled':
      return {
        where,
        what: 'The fit to the runs did not settle.',
        remedy: 'Look for a run that contradicts the others, or a probe whose place is entered wrongly.',
      };
    case 'not-settled':
      return {
        where,
        what: `The temperatures did not settle: the last round still moved them by ${formatKelvin(reason.moved_K)}.`,
        remedy: 'Look for a layer or a power that is far from what it is at the bench.',
      };
    case 'cancelled':
      return { where, what: 'It was stopped.', remedy: 'Calibrate again when there is time.' };
    default:
      return {
        where,
        what: `The equations could not be solved (${reason.kind}).`,
        remedy: 'Look for a part without any way for its heat to the room.',
      };
  }
}

export function capital(words: string): string {
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}
