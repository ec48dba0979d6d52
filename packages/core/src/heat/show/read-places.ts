import type { DeviceModel } from '../device/device-model.js';
import { volumeOf } from '../device/fill-cells.js';

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

interface Extreme {
  cell: number;
  rise_K: number;
  sum: number;
  volume: number;
}

/** Hottest places and means of the cells of the pack, of the zones and of the outside, read in one pass. */
export function readPlaces(
  model: DeviceModel,
  rise_K: Float64Array,
  zones: readonly { readonly id: string; readonly name: string }[],
): PlaceRise[] {
  const { grid, nx, nz, partOf, laid } = model;
  const byPart = laid.parts.map((): Extreme => ({ cell: -1, rise_K: -Infinity, sum: 0, volume: 0 }));
  const faces: Record<'front' | 'back', Extreme> = {
    front: { cell: -1, rise_K: -Infinity, sum: 0, volume: 0 },
    back: { cell: -1, rise_K: -Infinity, sum: 0, volume: 0 },
  };
  const raise = (extreme: Extreme, cell: number, rise: number) => {
    if (rise <= extreme.rise_K) return;
    extreme.cell = cell;
    extreme.rise_K = rise;
  };
  for (let cell = 0; cell < partOf.length; cell++) {
    const rise = rise_K[cell] as number;
    const part = byPart[partOf[cell] as number] as Extreme;
    raise(part, cell, rise);
    const k = cell % nz;
    if (k === 0) raise(faces.front, cell, rise);
    if (k === nz - 1) raise(faces.back, cell, rise);
    if (laid.parts[partOf[cell] as number]?.role !== 'cell') continue;
    const column = (cell - k) / nz;
    const volume = volumeOf(grid, column % nx, Math.floor(column / nx), k);
    part.sum += rise * volume;
    part.volume += volume;
  }
  const middle = (edges: Float64Array, at: number) =>
    500 * ((edges[at] as number) + (edges[at + 1] as number));
  const hottest = (id: string, name: string, { cell, rise_K: rise }: Extreme): PlaceRise[] => {
    if (cell < 0) return [];
    const column = Math.floor(cell / nz);
    const at = { x_mm: middle(grid.x_m, column % nx), y_mm: middle(grid.y_m, Math.floor(column / nx)) };
    return [{ id, name: `${name}, hottest`, kind: 'hottest', probe: null, rise_K: rise, at }];
  };
  const cells = laid.parts.flatMap((part, index) => (part.role === 'cell' ? [byPart[index] as Extreme] : []));
  return [
    ...cells.flatMap((extreme, index): PlaceRise[] => {
      const name = cells.length > 1 ? `cell ${index + 1}` : 'the pack';
      const mean: PlaceRise = {
        id: `cell-${index + 1}-mean`,
        name: `${name}, mean`,
        kind: 'mean',
        probe: null,
        rise_K: extreme.sum / extreme.volume,
        at: null,
      };
      return extreme.cell < 0 ? [] : [...hottest(`cell-${index + 1}`, name, extreme), mean];
    }),
    ...zones.flatMap((zone) => {
      const part = laid.parts.findIndex(({ heat }) => heat === zone.id);
      return part < 0 ? [] : hottest(`zone:${zone.id}`, zone.name, byPart[part] as Extreme);
    }),
    ...hottest('shell-front', 'front shell outside', faces.front),
    ...hottest('shell-back', 'back shell outside', faces.back),
  ];
}
