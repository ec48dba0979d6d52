import { found, type Result } from '../../measure/index.js';
import type { ReadingStatus } from '../models/ageing-model.js';
import type { FamilyMember } from '../models/model-family.js';
import { modelFamily } from '../models/model-family.js';
import { findRangeFlags, type RangeFlag } from './find-range-flags.js';
import { type LifeInput, type NoForecast, type PreparedLife, prepareLife } from './forecast-input.js';
import { gainResistance, type ResistanceGain } from './gain-resistance.js';
import { endLoss } from './life-end.js';
import { simulateLife } from './simulate-life.js';
import { type SetupForecast, summariseSetup } from './summarise-setup.js';
import { type TenKelvin, weighTenKelvin } from './weigh-ten-kelvin.js';

/** What a line or two say of a forecast: the order of the set-ups, how firm it is, and the range of the years. */
export interface LifeOutlook {
  readonly chemistry: string;
  readonly draws: number;
  readonly seed: number | null;
  readonly horizon_years: number;
  readonly setups: readonly SetupForecast[];
  /** Longest over shortest median life: between models in one set-up, and between set-ups over all models. */
  readonly differ: { readonly models: number; readonly setups: number };
}

export interface LifeForecast extends LifeOutlook {
  /** Where charging stops, as a share of a full charge. */
  readonly limit: number;
  readonly fullCycles_per_year: number;
  readonly models: readonly {
    readonly id: string;
    readonly title: string;
    readonly source: string;
    readonly status: ReadingStatus;
    readonly isOwn: boolean;
    readonly lentFrom: string | null;
    readonly cautions: readonly string[];
    /** Median years in the first set-up. */
    readonly years: number;
  }[];
  readonly tenKelvin: TenKelvin;
  readonly resistance: readonly ResistanceGain[];
  readonly flags: readonly RangeFlag[];
  readonly notes: readonly string[];
  /** Where the hours of a day go, averaged over the year. `layOutYear` with `limit` gives them one by one. */
  readonly hours: readonly { readonly state: string; readonly h_per_day: number }[];
}

/**
 * How a pack ages in each set-up under a duty, over published models, as ranges and chances.
 *
 * The order of the set-ups is firmer than the years: every set-up meets the same packs in the draws. Knees are in none of the models: a
 * pack may fail sooner than any of them says. The same use takes a worn pack deeper, and that is counted; the warmth is that of a new one.
 *
 * @param input pack, duty, and rises per set-up; the first set-up is what others are compared with
 * @returns the forecast; or why there is none: a chemistry that names no cathode, a limit no such cell has, a rise that is missing
 * @throws BadInputError for a duty that contradicts itself; OutOfRangeError for numbers no pack has
 * @source each model's own; [SMITH-17] and [SCHMALSTIEG-14] add calendar and cycle losses as separate states, as is done here
 */
export function forecastLife(input: LifeInput): Result<LifeForecast, NoForecast> {
  const prepared = prepareLife(input);
  if (!prepared.ok) return prepared;
  const { condensed, limit, notes } = prepared.value;
  const family = familyOf(prepared.value);
  const outlook = outlookOf(prepared.value, family);
  return found({
    ...outlook,
    limit,
    fullCycles_per_year: condensed.fullCycles,
    models: family.map(({ model, isOwn, lentFrom }, index) => ({
      id: model.id,
      title: model.title,
      source: model.source,
      status: model.status,
      isOwn,
      lentFrom,
      cautions: model.cautions,
      years: outlook.setups[0]?.byModel[index]?.years ?? Number.NaN,
    })),
    tenKelvin: weighTenKelvin(prepared.value, family),
    resistance: gainResistance(prepared.value, family),
    flags: findRangeFlags(prepared.value, family),
    notes: [...notes, ...dutyNotes(prepared.value, family)],
    hours: condensed.states.map((state, i) => ({ state, h_per_day: condensed.hours[i] ?? 0 })),
  });
}

/**
 * The same packs in the same draws, for where a line or two are wanted: without what a forecast says beside the order and the years.
 *
 * @throws as `forecastLife`
 */
export function outlookLife(input: LifeInput): Result<LifeOutlook, NoForecast> {
  const prepared = prepareLife(input);
  return prepared.ok ? found(outlookOf(prepared.value, familyOf(prepared.value))) : prepared;
}

function familyOf({ chemistry, condensed }: PreparedLife): readonly FamilyMember[] {
  return modelFamily(chemistry, condensed.fullCycles / 365);
}

function outlookOf(prepared: PreparedLife, family: readonly FamilyMember[]): LifeOutlook {
  const { input, chemistry } = prepared;
  const life = simulateLife(prepared, family);
  const setups = input.setups.map((_, index) => summariseSetup(prepared, life, index));
  const medians = setups.map(({ years }) => years.p50);
  const perModel = setups[0]?.byModel.map(({ years }) => years) ?? [];
  return {
    chemistry,
    draws: life.modelOf.length,
    seed: input.seed ?? null,
    horizon_years: life.times.at(-1) ?? 0,
    setups,
    differ: {
      models: Math.max(...perModel) / Math.min(...perModel),
      setups: Math.max(...medians) / Math.min(...medians),
    },
  };
}

/** Share of its energy that a worn pack must fall short by to be worth a note: a year that ends elsewhere in a cycle is off by less. */
const leastShort = 0.01;

/** What the duty asks of the pack that a forecast cannot carry. @source [FEINAUER-24] for charging in the cold */
function dutyNotes(
  { year, condensed, worn, rises }: PreparedLife,
  family: readonly FamilyMember[],
): string[] {
  const notes: string[] = [];
  const atEnd = worn.find(({ left }) => left === 1 - endLoss) ?? condensed;
  const short = 1 - atEnd.drawn_Wh / condensed.drawn_Wh;
  if (year.short_h > 1)
    notes.push(
      `The pack runs empty: for ${year.short_h.toFixed(0)} hours of the year the device asks for more than is in it, and is counted as plugged in.`,
    );
  else if (short > leastShort)
    notes.push(
      `Worn to 80 %, the pack no longer lasts: ${Math.round(100 * short)} % of what the device draws from it now must then come from the charger.`,
    );
  if (!family.some(({ isOwn }) => isOwn))
    notes.push('No model was made for this chemistry; all are of cells with the same anode.');
  const charging = condensed.states.indexOf('charging');
  const cold = condensed.rests.filter(
    ({ state, room_C }) => state === charging && room_C + (rises[0]?.[charging]?.[0]?.value ?? 0) < 20,
  );
  if (cold.some(({ days }) => days > 1))
    notes.push(
      'It is charged below 20 °C at times. There a cell ages faster again the colder it is, by plating of lithium; the models do not know that.',
    );
  return notes;
}
