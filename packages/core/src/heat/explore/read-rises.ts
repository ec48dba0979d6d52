import type { LaidModel } from '../device/device-model.js';
import { readPartRises } from '../device/find-places.js';

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

export function readRises(model: LaidModel, rise_K: Float64Array): QuickRises {
  const { laid } = model;
  const { most_K, mean_K, volume_m3, outside } = readPartRises(model, rise_K);
  const cells = laid.parts.flatMap(({ role }, part) => (role === 'cell' ? [part] : []));
  const volume = (part: number) => volume_m3[part] as number;
  const whole = cells.reduce((sum, part) => sum + volume(part), 0);
  const zones = laid.parts.flatMap(({ role, heat }, part) =>
    heat !== null && heat !== 'board' && role !== 'cell' ? [[heat, most_K[part] as number] as const] : [],
  );
  return {
    hottest_K: Math.max(...cells.map((part) => most_K[part] as number)),
    mean_K: cells.reduce((sum, part) => sum + volume(part) * (mean_K[part] as number), 0) / whole,
    cells_K: cells.map((part) => mean_K[part] as number),
    zones_K: Object.fromEntries(zones),
    shell_K: { front: outside.front.rise_K, back: outside.back.rise_K },
  };
}
