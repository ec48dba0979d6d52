import type { Build, Device, Setup } from '../../records/index.js';
import type { HeatGrid } from '../solve/grid.js';
import { centresWithin, fillCells, findHeatCells, type HeatCells } from './fill-cells.js';
import { findGaps, type Gaps } from './find-gaps.js';
import { type GridWish, layGrid, usualGrid } from './lay-grid.js';
import { layParts } from './lay-parts.js';
import type { LaidParts } from './part.js';
import { films, type Unknown } from './unknown.js';

/** One set-up in its device on a grid: what rest temperatures need and does not change while they and unknowns do. */
export interface LaidModel {
  readonly setup: string;
  readonly laid: LaidParts;
  readonly grid: HeatGrid;
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  readonly partOf: Uint16Array;
  readonly gaps: Gaps;
  readonly heat: readonly HeatCells[];
  /** Contact resistance on the face above each cell, m²K/W, and which contact it is (its place in the list plus one). */
  readonly contactOf: Uint8Array;
  readonly surroundings: Surroundings;
}

/** With what else is asked of a set-up: how fast it warms, and how sure that is. */
export interface DeviceModel extends LaidModel {
  readonly capacity_J_per_m3K: Float64Array;
  /** What of this device is not known well, each once. */
  readonly unknowns: readonly Unknown[];
}

/** How the device lies or stands, and what its faces meet. */
export interface Surroundings {
  readonly posture: 'flat' | 'upright';
  readonly front: 'air' | 'table' | 'cloth' | 'hand';
  readonly back: 'air' | 'table' | 'cloth' | 'hand';
}

/** As the record has them: flat and in air where nothing is noted. */
export function surroundingsOf(noted: Device['surroundings']): Surroundings {
  const { posture = 'flat', front = 'air', back = 'air' } = noted ?? {};
  return { posture, front, back };
}

/**
 * The model of one set-up of a build.
 *
 * @param setup need not be among the build's: what somebody thinks of is laid as what was measured
 * @param others set-ups it will be compared with; they share its grid in plan
 * @throws BadInputError where records are missing or cannot be
 * @throws OutOfRangeError where the grid would have too many cells
 */
export function makeDeviceModel(
  build: Build,
  setup: Setup,
  options: { readonly others?: readonly Setup[]; readonly grid?: GridWish } = {},
): DeviceModel {
  const laid = layParts(build, setup);
  const others = (options.others ?? []).map((other) => layParts(build, other));
  const grid = layGrid(laid, others, options.grid ?? usualGrid);
  const model = layCells(build, setup, laid, grid);
  joinGaps(model);
  return {
    ...model,
    capacity_J_per_m3K: Float64Array.from(
      model.partOf,
      (part) => laid.parts[part]?.heatCapacity_J_per_m3K as number,
    ),
    unknowns: listUnknowns(laid),
  };
}

/** Which part fills each cell of a grid, and what follows from it. Each stretch of a gap is still in the part of air it lies in. */
export function layCells(build: Build, { id }: Setup, laid: LaidParts, grid: HeatGrid): LaidModel {
  const partOf = fillCells(grid, laid);
  return {
    setup: id,
    laid,
    grid,
    nx: grid.x_m.length - 1,
    ny: grid.y_m.length - 1,
    nz: grid.z_m.length - 1,
    partOf,
    gaps: findGaps(grid, laid, partOf),
    heat: findHeatCells(grid, laid, partOf),
    contactOf: placeContacts(grid, laid),
    surroundings: surroundingsOf(build.device?.surroundings),
  };
}

/** A gap that runs through several parts of air is one gap, and what scales it scales all of it: its cells are put into one part. */
export function joinGaps({ gaps: { count, first, last, part }, partOf }: LaidModel): void {
  for (let gap = 0; gap < count; gap++)
    partOf.fill(part[gap] as number, first[gap], (last[gap] as number) + 1);
}

/** Which contact the face between each cell and the one behind it is. */
function placeContacts(grid: HeatGrid, laid: LaidParts): Uint8Array {
  const [nx, ny, nz] = [grid.x_m.length - 1, grid.y_m.length - 1, grid.z_m.length - 1];
  const contactOf = new Uint8Array(nx * ny * nz);
  laid.contacts.forEach((contact, index) => {
    const [x, y] = [centresWithin(grid.x_m, contact.x), centresWithin(grid.y_m, contact.y)];
    const k = centresWithin(grid.z_m, [0, contact.z_mm])[1] - 1;
    if (k < 0) return;
    for (let j = y[0]; j < y[1]; j++) {
      for (let i = x[0]; i < x[1]; i++) contactOf[k + nz * (i + nx * j)] = index + 1;
    }
  });
  return contactOf;
}

function listUnknowns(laid: LaidParts): Unknown[] {
  const all = [
    ...laid.parts.flatMap(({ scaledBy }) => [scaledBy.inPlane, scaledBy.through]),
    ...laid.contacts.map(({ scaledBy }) => scaledBy),
    ...Object.values(films),
  ];
  const byId = new Map<string, Unknown>();
  for (const unknown of all) if (unknown !== null && !byId.has(unknown.id)) byId.set(unknown.id, unknown);
  return [...byId.values()];
}
