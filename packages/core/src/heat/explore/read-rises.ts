import type { QuickModel } from './quick-model.js';
import { readParts } from './read-rises.kernel.js';

/** What a field shows where it matters, K over the room. */
export interface QuickRises {
  readonly hottest_K: number;
  readonly mean_K: number;
  /** Mean of each cell of the pack, from the one nearest to the device's lower left corner. */
  readonly cells_K: readonly number[];
  /** Hottest place of each zone, by its id. */
  readonly zones_K: Readonly<Record<string, number>>;
  /** Hottest place outside. */
  readonly shell_K: { readonly front: number; readonly back: number };
}

export function readRises({ grid, laid, nx, ny, nz, partOf }: QuickModel, rise_K: Float64Array): QuickRises {
  const parts = laid.parts.length;
  const most = new Float64Array(parts).fill(Number.NEGATIVE_INFINITY);
  const sum = new Float64Array(parts);
  const volume = new Float64Array(parts);
  const ends = new Float64Array(2).fill(Number.NEGATIVE_INFINITY);
  readParts(rise_K, partOf, nx, ny, nz, grid.x_m, grid.y_m, grid.z_m, most, sum, volume, ends);
  const cells = laid.parts.flatMap(({ role }, part) => (role === 'cell' ? [part] : []));
  const mean = (of: readonly number[]) =>
    of.reduce((total, part) => total + (sum[part] as number), 0) /
    of.reduce((total, part) => total + (volume[part] as number), 0);
  const zones = laid.parts.flatMap(({ role, heat }, part) =>
    heat !== null && heat !== 'board' && role !== 'cell' ? [[heat, most[part] as number] as const] : [],
  );
  return {
    hottest_K: Math.max(...cells.map((part) => most[part] as number)),
    mean_K: mean(cells),
    cells_K: cells.map((part) => mean([part])),
    zones_K: Object.fromEntries(zones),
    shell_K: { front: ends[0] as number, back: ends[1] as number },
  };
}
