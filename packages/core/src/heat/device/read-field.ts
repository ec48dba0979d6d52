import { locateProbe } from '../../drawing/index.js';
import { metreFromMillimetre } from '../../measure/index.js';
import type { Build, Probe } from '../../records/index.js';
import type { HeatGrid } from '../solve/grid.js';
import { centreOf, centresWithin } from './fill-cells.js';
import type { LaidParts, Part, Span } from './part.js';

/** A reading as a weighted sum of cells: what a probe at a place would show of a field. */
export interface Reading {
  readonly cells: Int32Array;
  readonly weights: Float64Array;
}

/** Where a probe sits in the model, mm. */
export interface ProbePlace {
  readonly x_mm: number;
  readonly y_mm: number;
}

export function applyReading({ cells, weights }: Reading, field: Float64Array): number {
  return cells.reduce((sum, cell, index) => sum + (weights[index] as number) * (field[cell] as number), 0);
}

/** Place of a probe on the device in plan; null for the room's, or where its zone is not recorded. */
export function placeOfProbe(build: Build, probe: Probe): ProbePlace | null {
  const pack = build.newPack;
  return pack?.outline === undefined ? null : locateProbe(probe, build, pack, pack.outline);
}

/**
 * What a probe at a place reads: the face of the part it is stuck to, linear between cell centres in plan and drawn on from the two
 * cells nearest to the face.
 *
 * A probe on a zone sits on its top, one on a cell on the face towards the zones, one on the shell outside on the back.
 *
 * @returns null for a place off the part, so that no other part's temperature passes for it
 */
export function readingAt(
  grid: HeatGrid,
  laid: LaidParts,
  probe: Pick<Probe, 'place' | 'zone' | 'cell'>,
  place: ProbePlace,
): Reading | null {
  const part = partUnder(laid, probe, place);
  if (part === null) return null;
  const face = probe.place === 'cell' ? 'front' : 'back';
  const depth = probe.place === 'shell' ? ([laid.depths.backShell, laid.thickness_mm] as const) : part.z;
  const along = interpolate(grid.x_m, part.x, place.x_mm);
  const across = interpolate(grid.y_m, part.y, place.y_mm);
  const through = drawOut(grid.z_m, depth, face);
  if (along === null || across === null || through === null) return null;
  const [nx, nz] = [grid.x_m.length - 1, grid.z_m.length - 1];
  const cells: number[] = [];
  const weights: number[] = [];
  for (const x of along) {
    for (const y of across) {
      for (const z of through) {
        cells.push(z.index + nz * (x.index + nx * y.index));
        weights.push(x.weight * y.weight * z.weight);
      }
    }
  }
  return { cells: Int32Array.from(cells), weights: Float64Array.from(weights) };
}

function partUnder(
  laid: LaidParts,
  probe: Pick<Probe, 'place' | 'zone' | 'cell'>,
  { x_mm, y_mm }: ProbePlace,
): Part | null {
  const holds = (part: Part) =>
    part.x[0] <= x_mm && x_mm <= part.x[1] && part.y[0] <= y_mm && y_mm <= part.y[1];
  if (probe.place === 'shell') return laid.parts.find(({ role }) => role === 'shell') ?? null;
  if (probe.place === 'cell') {
    const cells = laid.parts.filter(({ role }) => role === 'cell');
    return cells.find(holds) ?? null;
  }
  return laid.parts.find((part) => part.heat === probe.zone && holds(part)) ?? null;
}

interface Weight {
  readonly index: number;
  readonly weight: number;
}

/** Two neighbouring cells of a part and their weights at a place; the outermost cell alone beyond its centre. */
function interpolate(edges_m: Float64Array, span: Span, at_mm: number): Weight[] | null {
  const [first, end] = centresWithin(edges_m, span);
  if (end <= first) return null;
  const at = metreFromMillimetre(at_mm);
  let index = first;
  while (index + 1 < end && centreOf(edges_m, index + 1) <= at) index++;
  const here = centreOf(edges_m, index);
  if (at <= here || index + 1 >= end) return [{ index, weight: 1 }];
  const share = (at - here) / (centreOf(edges_m, index + 1) - here);
  return [
    { index, weight: 1 - share },
    { index: index + 1, weight: share },
  ];
}

/** The face of a part from its two cells nearest to it. */
function drawOut(edges_m: Float64Array, span: Span, face: 'front' | 'back'): Weight[] | null {
  const [first, end] = centresWithin(edges_m, span);
  if (end <= first) return null;
  const near = face === 'front' ? first : end - 1;
  if (end - first === 1) return [{ index: near, weight: 1 }];
  const far = face === 'front' ? near + 1 : near - 1;
  const edge = metreFromMillimetre(face === 'front' ? span[0] : span[1]);
  const share = (edge - centreOf(edges_m, near)) / (centreOf(edges_m, far) - centreOf(edges_m, near));
  return [
    { index: near, weight: 1 - share },
    { index: far, weight: share },
  ];
}
