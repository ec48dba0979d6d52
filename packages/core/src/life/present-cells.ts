import { formatPercent } from '../measure/index.js';
import type { LifeOutlook } from './forecast/forecast-life.js';
import { yearsRange } from './life-words.js';

/** How one set-up wears the cells in series, cell by cell. */
export interface CellWear {
  readonly setup: string;
  readonly name: string;
  readonly cells: readonly {
    readonly cell: number;
    /** How often it gives out first. */
    readonly first: string;
    /** Its own years to 80 %. */
    readonly years: string;
  }[];
  /** By how much the best cell is ahead at the horizon. */
  readonly ahead: string;
}

export function presentCells({ setups }: LifeOutlook): readonly CellWear[] {
  return setups.map(({ setup, name, cells, imbalance }) => {
    const end = imbalance.at(-1);
    return {
      setup,
      name,
      cells: cells.map(({ cell, weakest, years }) => ({
        cell,
        first: formatPercent(weakest),
        years: yearsRange(years),
      })),
      ahead: `${formatPercent(end?.p50 ?? 0)}, rarely over ${formatPercent(end?.p95 ?? 0)}`,
    };
  });
}
