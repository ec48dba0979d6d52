import { kelvinFromCelsius } from '../../measure/index.js';
import type { CondensedYear } from '../duty/condense-year.js';
import type { FamilyMember } from '../models/model-family.js';
import { agesAtShifts, stateOfYear } from './age-over-year.js';
import { chebyshevNodes, fitSurface, type Surface } from './fit-surface.js';

/** The box a table answers in; what lies beyond is held at its edge. */
export interface TableBox {
  /** Rise of the cell above the room, with all its doubt. */
  readonly rise_K: readonly [number, number];
  /** Largest shift of the activation energy, either way, J/mol. */
  readonly shift_J_per_mol: number;
}

/** Age gained in a year in each state of the device, as a function of the rise there and of the shift of the energy. */
export interface RateTable {
  /** One for each mechanism and state of the device; null where nothing is gained. */
  readonly surfaces: readonly (readonly (Surface | null)[])[];
}

/**
 * Nodes over the rise and over the energy. The logarithm of a year's age is nearly a straight line in both: eight by five keep the error
 * below a millionth over 60 K, which a test holds against the plain sum.
 */
const nodes = { rise: 8, energy: 5 };

/** Works out a year's ages once, so that a draw costs a polynomial per state and cell in place of 8760 exponentials. */
export function tabulateRates(member: FamilyMember, year: CondensedYear, box: TableBox): RateTable {
  const [low, high] = box.rise_K;
  const pivot_K = kelvinFromCelsius(member.model.pivot_C);
  const shifts = chebyshevNodes(nodes.energy).map((v) => ({
    more_J_per_mol: v * box.shift_J_per_mol,
    pivot_K,
  }));
  const ofStates = year.states.map((_, deviceState) => stateOfYear(year, deviceState));
  const ages = new Float64Array(shifts.length);
  return {
    surfaces: member.capacity.map((mechanism) =>
      ofStates.map((state) => {
        const [nu, nv] = mechanism.knowsTemperature ? [nodes.rise, nodes.energy] : [1, 1];
        const logs = chebyshevNodes(nu).map((u) => {
          agesAtShifts(mechanism, state, (low + high) / 2 + (u * (high - low)) / 2, shifts, ages);
          return Array.from(ages.subarray(0, nv), Math.log);
        });
        return Number.isFinite(logs[0]?.[0]) ? fitSurface(logs) : null;
      }),
    ),
  };
}
