import { kelvinFromCelsius } from '../../measure/index.js';
import { countCycles } from '../../numerics/index.js';
import type { CondensedYear } from '../duty/condense-year.js';
import type { YearOfUse } from '../duty/lay-out-year.js';
import { type AgeingMechanism, arrhenius } from '../models/ageing-model.js';
import type { OpenCircuit } from '../open-circuit/open-circuit.js';

/** Doubt about a model's activation energy: so much more, and where it leaves the level alone. */
export interface EnergyShift {
  /** Of the time to a given loss, J/mol; 0 for the model as published. */
  readonly more_J_per_mol: number;
  readonly pivot_K: number;
}

function shiftFactor(state: AgeingMechanism, temp_K: number, shift: EnergyShift): number {
  if (!state.knowsTemperature || shift.more_J_per_mol === 0) return 1;
  return arrhenius(shift.more_J_per_mol, temp_K, shift.pivot_K);
}

/** Age gained in one year in one state of the device, by hours and by the cycles whose charge is drawn in it. */
export function ageInState(
  mechanism: AgeingMechanism,
  year: CondensedYear,
  deviceState: number,
  rise_K: number,
  shift: EnergyShift,
): number {
  const into = new Float64Array(1);
  agesAtShifts(mechanism, stateOfYear(year, deviceState), rise_K, [shift], into);
  return into[0] as number;
}

/** What of a year belongs to one state of the device. */
export function stateOfYear(year: CondensedYear, deviceState: number): StateOfYear {
  const isOfState = ({ state }: { readonly state: number }) => state === deviceState;
  const { rests, draws, cycles, left } = year;
  return { rests: rests.filter(isOfState), draws: draws.filter(isOfState), cycles, left };
}

/** A year's rests and draws sorted by the state of the device they belong to. */
export type StateOfYear = Pick<CondensedYear, 'rests' | 'draws' | 'cycles' | 'left'>;

/**
 * Age gained in one year in one state of the device, at several shifts of the energy at once: what the paper's law says of an hour does not
 * hang on the shift, so it is asked once.
 *
 * @param year of this state alone
 * @param into one age for each shift
 */
export function agesAtShifts(
  mechanism: AgeingMechanism,
  year: StateOfYear,
  rise_K: number,
  shifts: readonly EnergyShift[],
  into: Float64Array,
): void {
  into.fill(0);
  const add = (temp_K: number, age: number) => {
    for (let v = 0; v < shifts.length; v++)
      into[v] = (into[v] as number) + age * shiftFactor(mechanism, temp_K, shifts[v] as EnergyShift);
  };
  if (mechanism.agePerDay) {
    for (const { days, room_C, charge, cell_V } of year.rests) {
      const temp_K = kelvinFromCelsius(room_C + rise_K);
      add(temp_K, days * mechanism.agePerDay({ temp_K, charge, cell_V }));
    }
  }
  if (mechanism.agePerCycle) {
    for (const { share, room_C, rate } of year.draws) {
      const temp_K = kelvinFromCelsius(room_C + rise_K);
      let cycles = 0;
      for (const { depth, charge, cell_V, count } of year.cycles)
        cycles += count * mechanism.agePerCycle({ temp_K, depth, charge, cell_V, rate, left: year.left });
      add(temp_K, share * cycles);
    }
  }
}

/**
 * Age gained in one year with every hour and every cycle counted by itself: slow, plain, and what the quick way is held against.
 *
 * A cycle has the temperature and rate of the stretches in which its charge is drawn: the whole year's, shared out, because the pack
 * does not know which of its cycles an hour belongs to.
 *
 * @param rises_K rise of the cell in each of `year.states`
 */
export function ageHourByHour(
  mechanism: AgeingMechanism,
  year: YearOfUse,
  curve: Pick<OpenCircuit, 'voltageAt'>,
  rises_K: readonly number[],
): number {
  let age = 0;
  let drawn = 0;
  for (const { hours, rate } of year.stretches) drawn += hours * Math.max(0, rate);
  const cycles = countCycles([year.startCharge, ...year.stretches.map(({ endCharge }) => endCharge)]);
  const perCycle = mechanism.agePerCycle;
  for (const { state, hours, room_C, charge, rate } of year.stretches) {
    const temp_K = kelvinFromCelsius(room_C + (rises_K[state] ?? 0));
    if (mechanism.agePerDay)
      age += (hours / 24) * mechanism.agePerDay({ temp_K, charge, cell_V: curve.voltageAt(charge) });
    if (!perCycle || rate <= 0) continue;
    const share = (hours * rate) / drawn;
    for (const { range, mean, count } of cycles) {
      if (range < 1e-6) continue;
      age +=
        share * count * perCycle({ temp_K, depth: range, charge: mean, cell_V: curve.voltageAt(mean), rate });
    }
  }
  return age;
}
