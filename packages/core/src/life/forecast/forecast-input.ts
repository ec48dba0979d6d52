import { type Estimate, found, OutOfRangeError, type Result, refused } from '../../measure/index.js';
import { type DutyYear, restingStates } from '../../records/index.js';
import { type CondensedYear, condenseYear } from '../duty/condense-year.js';
import { layOutWorn } from '../duty/lay-out-worn.js';
import { layOutYear, usualLowest, type YearOfUse } from '../duty/lay-out-year.js';
import type { Chemistry } from '../models/ageing-model.js';
import { chemistryOf, type UnknownChemistry } from '../models/chemistry-of.js';
import { chargeAtVoltage, type LimitRefusal, openCircuitOf } from '../open-circuit/open-circuit.js';
import type { ModelSpread } from './draw-spread.js';

/** One set-up: how much warmer than the room each cell is in each activity, and while charging, docked and at rest. */
export interface SetupRises {
  readonly setup: string;
  readonly name: string;
  /** True where no run of it was made and its rises are a model's. */
  readonly isPredicted?: boolean;
  /** Per state of the device, one rise for all cells or one for each cell in series, in K. */
  readonly rises: Readonly<Record<string, readonly Estimate[]>>;
  /** Where it holds a plate off the pack: the gap that swelling may use up, and the set-up it becomes then. */
  readonly spacer?: {
    readonly gap_mm: number;
    /** Free behind the pack, which takes its half of the swelling; none where it is not known. */
    readonly room_mm?: number;
    readonly becomes: string;
  };
}

export interface PackFacts {
  /** As the record has it; `chemistryOf` says what it names. */
  readonly chemistry: string | undefined;
  readonly series: number;
  readonly energy_Wh: number;
  readonly thickness_mm?: number;
  readonly price?: { readonly amount: number; readonly currency: string };
}

export interface LifeInput {
  readonly pack: PackFacts;
  readonly duty: DutyYear;
  /** The first one is what the others are compared with. */
  readonly setups: readonly SetupRises[];
  /** Part of each rise's uncertainty that all set-ups share, such as that of the probes; it cannot change their order. */
  readonly sharedRise_u_K?: number;
  readonly horizon_years?: number;
  readonly draws?: number;
  readonly seed?: number;
  /** In place of the usual one: how far a pack may be from a model. */
  readonly spread?: ModelSpread;
}

export interface NoRise {
  readonly kind: 'no-rise';
  readonly setup: string;
  readonly state: string;
  readonly remedy: string;
}

export type NoForecast = UnknownChemistry | LimitRefusal | NoRise;

/** A forecast's input, checked and laid out. */
export interface PreparedLife {
  readonly input: LifeInput;
  readonly chemistry: Chemistry;
  readonly limit: number;
  readonly lowest: number;
  readonly year: YearOfUse;
  readonly condensed: CondensedYear;
  /** The same use of a pack that has faded, from less to more. */
  readonly worn: readonly CondensedYear[];
  /** Per set-up, state of the device and cell. */
  readonly rises: readonly (readonly (readonly Estimate[])[])[];
  readonly notes: readonly string[];
}

const noRise: Estimate = { value: 0, u: 0, dof: null };

/** Checks and lays out what a forecast needs, or says what stands in its way. @throws BadInputError, OutOfRangeError */
export function prepareLife(input: LifeInput): Result<PreparedLife, NoForecast> {
  const { pack, duty, setups } = input;
  if (!(Number.isInteger(pack.series) && pack.series >= 1 && pack.series <= 20))
    throw new OutOfRangeError('series', pack.series, [1, 20], 'It counts the cells in series.');
  if (setups.length === 0) throw new OutOfRangeError('setups', 0, [1, 60], 'Give at least one set-up.');
  refuseOdd(input);
  const chemistry = chemistryOf(pack.chemistry);
  if (!chemistry.ok) return chemistry;
  const limit = limitOf(duty, chemistry.value);
  if (!limit.ok) return limit;
  const year = layOutYear(duty, pack.energy_Wh, limit.value);
  const curve = openCircuitOf(chemistry.value);
  const condensed = condenseYear(year, curve);
  const missing = new Set<string>();
  const rises: (readonly Estimate[])[][] = [];
  for (const setup of setups) {
    const ofSetup: (readonly Estimate[])[] = [];
    for (const [i, state] of year.states.entries()) {
      const given = setup.rises[state];
      const isUsed = (condensed.hours[i] ?? 0) > 0;
      if (!given?.length && isUsed && !isResting(state)) {
        return refused({
          kind: 'no-rise',
          setup: setup.setup,
          state,
          remedy: `Measure or state how warm the pack gets in "${state}" in ${setup.name}.`,
        });
      }
      if (!given?.length && isUsed && (state === 'docked' || state === 'charging')) missing.add(state);
      ofSetup.push(perCell(given, pack.series, `${setup.setup}.${state}`));
    }
    rises.push(ofSetup);
  }
  return found({
    input,
    chemistry: chemistry.value,
    limit: limit.value,
    lowest: duty.charging.lowest ?? usualLowest,
    year,
    condensed,
    worn: layOutWorn(duty, pack.energy_Wh, limit.value, curve),
    rises,
    notes: [...missing].map(
      (state) =>
        `No rise was given for ${state === 'docked' ? 'a pack held full on the charger' : 'charging'}: it is taken as none, which flatters every set-up.`,
    ),
  });
}

/** Numbers a person would not mean. */
function refuseOdd({ horizon_years = 5, draws = 10_000, seed = 1, sharedRise_u_K = 0 }: LifeInput): void {
  const within = (name: string, value: number, low: number, high: number, isWhole: boolean) => {
    if (!(value >= low && value <= high) || (isWhole && !Number.isInteger(value)))
      throw new OutOfRangeError(name, value, [low, high], isWhole ? 'It is a whole number.' : '');
  };
  within('horizon_years', horizon_years, 1, 20, true);
  within('draws', draws, 10, 1_000_000, true);
  within('seed', seed, 1, 2_147_483_646, true);
  within('sharedRise_u_K', sharedRise_u_K, 0, 30, false);
}

function isResting(state: string): boolean {
  return (restingStates as readonly string[]).includes(state);
}

function perCell(given: readonly Estimate[] | undefined, series: number, where: string): readonly Estimate[] {
  if (!given?.length) return Array.from({ length: series }, () => noRise);
  for (const { value, u } of given) {
    if (!(value >= -20 && value <= 80 && u >= 0 && u <= 30))
      throw new OutOfRangeError(
        `rises of ${where}`,
        value,
        [-20, 80],
        'Is it a rise above the room, in kelvins?',
      );
  }
  if (given.length === 1) return Array.from({ length: series }, () => given[0] as Estimate);
  if (given.length !== series)
    throw new OutOfRangeError(
      `rises of ${where}`,
      given.length,
      [1, series],
      'Give one, or one per cell in series.',
    );
  return given;
}

/** Where charging stops, as a share of a full charge: from the share, or from a voltage per cell. */
function limitOf(duty: DutyYear, chemistry: Chemistry): Result<number, LimitRefusal> {
  const { limit_V, limit = 1 } = duty.charging;
  return limit_V === undefined ? found(limit) : chargeAtVoltage(chemistry, limit_V);
}
