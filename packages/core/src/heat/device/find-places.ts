import type { DeviceModel } from './device-model.js';
import { volumeOf } from './fill-cells.js';
import type { Reading } from './read-field.js';
import { readParts } from './read-parts.kernel.js';

/** Somewhere of a device and how warm it is there, without its doubt. Ids are those of predictions. */
export interface PlaceRise {
  readonly id: string;
  readonly name: string;
  readonly kind: 'probe' | 'hottest' | 'mean';
  readonly probe: string | null;
  readonly rise_K: number;
  /** Where the hottest place is, mm in plan; null for means. */
  readonly at: { readonly x_mm: number; readonly y_mm: number } | null;
}

/** A place that a field was searched for: the hottest cell of something, or the mean of a part. */
export interface FoundPlace extends PlaceRise {
  readonly kind: 'hottest' | 'mean';
  readonly probe: null;
  /** The cell of a hottest place, the part of a mean. */
  readonly where: number;
}

/** All that reading a field needs of a model. */
export type ReadableModel = Pick<DeviceModel, 'grid' | 'nx' | 'ny' | 'nz' | 'partOf' | 'laid'>;

/** What every part is at, by its place in the list of parts, and the hottest place of the outside. */
export interface PartRises {
  /** Greatest rise of each part, K, and its cell; -Infinity and -1 for a part without cells. */
  readonly most_K: Float64Array;
  readonly cellOf: Int32Array;
  readonly mean_K: Float64Array;
  readonly volume_m3: Float64Array;
  readonly outside: Readonly<Record<'front' | 'back', { readonly rise_K: number; readonly cell: number }>>;
}

/** Reads a field in one pass. */
export function readPartRises(
  { grid, nx, ny, nz, partOf, laid }: ReadableModel,
  rise_K: Float64Array,
): PartRises {
  const parts = laid.parts.length;
  const most = new Float64Array(parts + 2).fill(Number.NEGATIVE_INFINITY);
  const at = new Int32Array(parts + 2).fill(-1);
  const sum = new Float64Array(parts);
  const volume = new Float64Array(parts);
  readParts(rise_K, partOf, nx, ny, nz, grid.x_m, grid.y_m, grid.z_m, most, at, sum, volume);
  const outside = (place: number) => ({ rise_K: most[place] as number, cell: at[place] as number });
  return {
    most_K: most.subarray(0, parts),
    cellOf: at.subarray(0, parts),
    mean_K: sum.map((each, part) => each / (volume[part] as number)),
    volume_m3: volume,
    outside: { front: outside(parts), back: outside(parts + 1) },
  };
}

/** Hottest places and means of the cells of the pack, and hottest places of the zones and of the outside. */
export function findPlaces(
  model: ReadableModel,
  rise_K: Float64Array,
  zones: readonly { readonly id: string; readonly name: string }[],
): FoundPlace[] {
  const { grid, nx, nz, laid } = model;
  const { most_K, cellOf, mean_K, outside } = readPartRises(model, rise_K);
  const middle = (edges: Float64Array, at: number) =>
    500 * ((edges[at] as number) + (edges[at + 1] as number));
  const hottest = (id: string, name: string, cell: number, rise: number): FoundPlace[] => {
    if (cell < 0) return [];
    const column = Math.floor(cell / nz);
    const at = { x_mm: middle(grid.x_m, column % nx), y_mm: middle(grid.y_m, Math.floor(column / nx)) };
    return [{ id, name: `${name}, hottest`, kind: 'hottest', probe: null, rise_K: rise, at, where: cell }];
  };
  const hottestOf = (id: string, name: string, part: number) =>
    hottest(id, name, cellOf[part] as number, most_K[part] as number);
  const cells = laid.parts.flatMap(({ role }, part) => (role === 'cell' ? [part] : []));
  return [
    ...cells.flatMap((part, index): FoundPlace[] => {
      if ((cellOf[part] as number) < 0) return [];
      const name = cells.length > 1 ? `cell ${index + 1}` : 'the pack';
      const id = `cell-${index + 1}`;
      const mean: FoundPlace = {
        id: `${id}-mean`,
        name: `${name}, mean`,
        kind: 'mean',
        probe: null,
        rise_K: mean_K[part] as number,
        at: null,
        where: part,
      };
      return [...hottestOf(id, name, part), mean];
    }),
    ...zones.flatMap((zone) => {
      const part = laid.parts.findIndex(({ heat }) => heat === zone.id);
      return part < 0 ? [] : hottestOf(`zone:${zone.id}`, zone.name, part);
    }),
    ...(['front', 'back'] as const).flatMap((face) =>
      hottest(`shell-${face}`, `${face} shell outside`, outside[face].cell, outside[face].rise_K),
    ),
  ];
}

/** A found place as a weighted sum of cells: what adjoints and other fields of the same cells are read with. */
export function readingOfPlace(
  { grid, nx, nz, partOf }: ReadableModel,
  { kind, where }: FoundPlace,
): Reading {
  if (kind === 'hottest') return { cells: Int32Array.of(where), weights: Float64Array.of(1) };
  const cells: number[] = [];
  for (let cell = 0; cell < partOf.length; cell++) if (partOf[cell] === where) cells.push(cell);
  const volumes = cells.map((cell) => {
    const column = Math.floor(cell / nz);
    return volumeOf(grid, column % nx, Math.floor(column / nx), cell % nz);
  });
  const whole = volumes.reduce((sum, volume) => sum + volume, 0);
  return {
    cells: Int32Array.from(cells),
    weights: Float64Array.from(volumes, (volume) => volume / whole),
  };
}
