import type { Build, Setup } from '../../records/index.js';
import { joinGaps, type LaidModel, layCells } from '../device/device-model.js';
import { centresWithin, volumeOf } from '../device/fill-cells.js';
import type { Gaps } from '../device/find-gaps.js';
import { type GridWish, layGrid } from '../device/lay-grid.js';
import { layParts } from '../device/lay-parts.js';
import type { LaidParts } from '../device/part.js';
import type { HeatGrid } from '../solve/grid.js';

/** A stretch of air as columns share it: its cells, the parts they lie in, and the parts that face it; -1 for the outside. */
interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly parts: readonly number[];
  readonly front: number;
  readonly back: number;
}

/** Cells that belong to the same parts whatever the layers' thickness and material. */
interface Pattern {
  readonly model: LaidModel;
  readonly stretches: readonly Stretch[];
  /** Which stretch each gap is. */
  readonly stretchOf: Uint16Array;
}

/**
 * Models of many set-ups of one device, one after the other.
 *
 * Layers that only change thickness, material or face leave the cells where they are: then nothing is laid anew but lengths and faces, for
 * a hundredth of the price, and the model is the same to the last bit as one made from nothing.
 */
export class QuickModels {
  private readonly build: Build;
  private readonly grid: GridWish;
  private readonly othersLaid: readonly LaidParts[];
  private readonly patterns = new Map<string, Pattern>();

  /**
   * @param others set-ups whose lines in plan every model shares, so that the error of the grid is much the same in all
   * @throws BadInputError where the device's records or one of these set-ups cannot carry a model
   */
  constructor(build: Build, others: readonly Setup[], grid: GridWish) {
    this.build = build;
    this.grid = grid;
    this.othersLaid = others.map((other) => layParts(build, other));
  }

  /** @throws BadInputError where the set-up does not fit or a material is not known */
  modelOf(setup: Setup): LaidModel {
    const laid = layParts(this.build, setup);
    const grid = layGrid(laid, this.othersLaid, this.grid);
    const key = patternKey(laid, grid);
    const known = this.patterns.get(key);
    const changed = known === undefined ? null : reshape(known, setup.id, laid, grid);
    if (changed !== null) return changed;
    const pattern = layPattern(this.build, setup, laid, grid);
    // A hand that drags an outline leaves one pattern after the other behind: only the last ones are kept.
    this.patterns.delete(key);
    for (const old of [...this.patterns.keys()].slice(0, Math.max(0, this.patterns.size - mostPatterns + 1)))
      this.patterns.delete(old);
    this.patterns.set(key, pattern);
    return pattern.model;
  }
}

/** Each takes some 20 bytes a cell. @assumed as many as one family of a sweep goes to and fro between */
const mostPatterns = 24;

/** As `makeDeviceModel` lays it, without what a rest temperature does not need. */
function layPattern(build: Build, setup: Setup, laid: LaidParts, grid: HeatGrid): Pattern {
  const model = layCells(build, setup, laid, grid);
  // Before gaps take over the cells of every part of air that they run through.
  const stretched = findStretches(model.partOf, model.gaps, model.nz);
  joinGaps(model);
  return { model, ...stretched };
}

/** Which cells every part and contact fills: equal keys, equal cells. */
function patternKey(laid: LaidParts, grid: HeatGrid): string {
  const counts = [grid.x_m.length, grid.y_m.length, grid.z_m.length];
  const parts = laid.parts.map(({ role, heat, x, y, z }) => [
    role,
    heat,
    ...centresWithin(grid.x_m, x),
    ...centresWithin(grid.y_m, y),
    ...centresWithin(grid.z_m, z),
  ]);
  const contacts = laid.contacts.map(({ x, y, z_mm, scaledBy }) => [
    scaledBy.id,
    ...centresWithin(grid.x_m, x),
    ...centresWithin(grid.y_m, y),
    ...centresWithin(grid.z_m, [0, z_mm]),
  ]);
  // Lines in plan do not move with a layer's thickness; where they do, it is another grid.
  return JSON.stringify([counts, parts, contacts, [...grid.x_m], [...grid.y_m]]);
}

function findStretches(
  partOf: Uint16Array,
  gaps: Gaps,
  nz: number,
): Pick<Pattern, 'stretches' | 'stretchOf'> {
  const stretches: Stretch[] = [];
  const stretchOf = new Uint16Array(gaps.count);
  for (let gap = 0; gap < gaps.count; gap++) {
    const [first, last] = [gaps.first[gap] as number, gaps.last[gap] as number];
    const from = first % nz;
    const to = from + last - first;
    const front = from === 0 ? -1 : (partOf[first - 1] as number);
    const back = to === nz - 1 ? -1 : (partOf[last + 1] as number);
    const isThis = (known: Stretch | undefined) =>
      known?.from === from &&
      known.to === to &&
      known.front === front &&
      known.back === back &&
      known.parts.every((part, at) => part === partOf[first + at]);
    // Mostly that of the same gap one column before: two gaps to a column.
    const near = stretchOf[gap - 2] ?? -1;
    let place = isThis(stretches[near]) ? near : stretches.findIndex(isThis);
    if (place < 0) {
      place = stretches.length;
      stretches.push({ from, to, parts: Array.from(partOf.subarray(first, last + 1)), front, back });
    }
    stretchOf[gap] = place;
  }
  return { stretches, stretchOf };
}

/** The same cells with other lengths and faces; null where a stretch of air would now count with another part. */
function reshape(pattern: Pattern, setup: string, laid: LaidParts, grid: HeatGrid): LaidModel | null {
  const { model, stretches, stretchOf } = pattern;
  const measured = stretches.map((stretch) => measureStretch(stretch, laid, grid));
  const { count, part } = model.gaps;
  const thickness_m = new Float64Array(count);
  const emissivity = new Float64Array(count);
  for (let gap = 0; gap < count; gap++) {
    const stretch = measured[stretchOf[gap] as number] as ReturnType<typeof measureStretch>;
    if (stretch.part !== part[gap]) return null;
    thickness_m[gap] = stretch.thickness_m;
    emissivity[gap] = stretch.emissivity;
  }
  const gaps: Gaps = { ...model.gaps, thickness_m, emissivity };
  return { ...model, setup, laid, grid, gaps, heat: shareAnew(model, grid) };
}

function measureStretch({ from, to, parts, front, back }: Stretch, laid: LaidParts, grid: HeatGrid) {
  const depths = new Map<number, number>();
  parts.forEach((part, at) => {
    const depth_m = (grid.z_m[from + at + 1] as number) - (grid.z_m[from + at] as number);
    depths.set(part, (depths.get(part) ?? 0) + depth_m);
  });
  const faces = [front, back].map((face) => (face < 0 ? 1 : (laid.parts[face]?.emissivity ?? 1)));
  return {
    part: [...depths].reduce((most, each) => (each[1] > most[1] ? each : most))[0],
    thickness_m: (grid.z_m[to + 1] as number) - (grid.z_m[from] as number),
    emissivity: 1 / faces.reduce((sum, each) => sum + 1 / each, -1),
  };
}

/** Heat is even over the volume of its source, and cells may have changed theirs. */
function shareAnew({ heat, nx, nz }: LaidModel, grid: HeatGrid): LaidModel['heat'] {
  return heat.map(({ id, cells }) => {
    const shares = new Float64Array(cells.length);
    let whole = 0;
    for (let at = 0; at < cells.length; at++) {
      const k = (cells[at] as number) % nz;
      const column = ((cells[at] as number) - k) / nz;
      const volume = volumeOf(grid, column % nx, Math.floor(column / nx), k);
      shares[at] = volume;
      whole += volume;
    }
    for (let at = 0; at < shares.length; at++) shares[at] = (shares[at] as number) / whole;
    return { id, cells, shares };
  });
}
