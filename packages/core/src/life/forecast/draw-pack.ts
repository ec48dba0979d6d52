import type { Noise } from '../../numerics/index.js';
import type { DutyYear } from '../../records/index.js';
import { breathing, type ModelSpread, mostDeviate, swellingAtEnd, usualDoubt } from './draw-spread.js';

/** What one draw has in common for all set-ups: the same pack, the same use. One object is used over and over. */
export interface Draw {
  /** Place of its model in the family. */
  member: number;
  /** Factors of the loss by time and by cycles. */
  calendarLevel: number;
  cycleLevel: number;
  /** Shift of the activation energy as a share of the largest the tables hold, -1 to 1. */
  energy: number;
  /** Factor of the exponent in time. */
  bend: number;
  /** Factor of the hours of use. */
  hours: number;
  room_K: number;
  /** Deviate of what all rises have in common. */
  shared: number;
  /** Share of its thickness swollen by when a fifth is lost, and by which it breathes. */
  swelling: number;
  breath: number;
  /** Factor of each cell's loss. */
  readonly cells: Float64Array;
}

/** The pack as its model has it, used as its duty says. */
export function typicalDraw(cells: number): Draw {
  return {
    member: 0,
    calendarLevel: 1,
    cycleLevel: 1,
    energy: 0,
    bend: 1,
    hours: 1,
    room_K: 0,
    shared: 0,
    swelling: 0,
    breath: 0,
    cells: new Float64Array(cells).fill(1),
  };
}

/** Draws another pack and another use; always as many random numbers, so that other inputs meet the same packs. */
export function redraw(
  draw: Draw,
  noise: Noise,
  from: {
    readonly spread: ModelSpread;
    readonly isLent: boolean;
    readonly doubt: DutyYear['doubt'];
    /** Largest factor of the hours that a day has room for. */
    readonly mostHours: number;
    readonly shift_J_per_mol: number;
  },
): void {
  const { spread, doubt } = from;
  const normal = () => drawDeviate(noise, null);
  draw.calendarLevel = Math.exp(spread.level * normal());
  draw.cycleLevel = Math.exp((from.isLent ? spread.lentLevel : spread.level) * normal());
  draw.energy = (spread.energy_J_per_mol * normal()) / from.shift_J_per_mol;
  draw.bend = Math.max(0.7, 1 + spread.bend * normal());
  const hours = 1 + (doubt?.hours ?? usualDoubt.hours) * normal();
  draw.hours = Math.min(from.mostHours, Math.max(0.1, hours));
  draw.room_K = (doubt?.room_K ?? usualDoubt.room_K) * normal();
  draw.shared = normal();
  draw.swelling = swellingAtEnd[0] + (swellingAtEnd[1] - swellingAtEnd[0]) * noise.uniform();
  draw.breath = breathing[0] + (breathing[1] - breathing[0]) * noise.uniform();
  for (let c = 0; c < draw.cells.length; c++) draw.cells[c] = Math.exp(spread.cell * normal());
}

/** A standard normal deviate, or one of Student's t where the degrees of freedom are few, cut off at four. */
export function drawDeviate(noise: Noise, dof: number | null): number {
  const z = noise.normal();
  return holdDeviate(dof === null ? z : z / spreadOfDof(noise, dof));
}

/** Square root of chi-square over its degrees of freedom. @source [WILSON-HILFERTY-31] the cube root of it is nearly normal */
function spreadOfDof(noise: Noise, dof: number): number {
  const part = 2 / (9 * Math.max(1, dof));
  const root = 1 - part + noise.normal() * Math.sqrt(part);
  return Math.sqrt(Math.max(0.02, root * root * root));
}

function holdDeviate(z: number): number {
  return Math.max(-mostDeviate, Math.min(mostDeviate, z));
}
