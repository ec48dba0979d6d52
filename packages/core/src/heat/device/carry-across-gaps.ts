import { kelvinFromCelsius } from '../../measure/index.js';
import { fillGaps } from './fill-network.kernel.js';
import type { Gaps } from './find-gaps.js';

/**
 * Puts what still air and radiation carry across each gap at a field into the conductivities of its cells.
 *
 * @param rise_K of each cell above the ambient
 * @param factors on the air's conduction, by part
 * @param kx W/mK, written in the cells of gaps
 * @param kz W/mK, written in the cells of gaps
 */
export function carryAcrossGaps(
  { first, last, thickness_m, emissivity, part }: Gaps,
  ambient_C: number,
  rise_K: Float64Array,
  factors: Float64Array,
  kx: Float64Array,
  kz: Float64Array,
): void {
  const ambient_K = kelvinFromCelsius(ambient_C);
  fillGaps(rise_K, ambient_K, first, last, thickness_m, emissivity, part, factors, kx, kz);
}
