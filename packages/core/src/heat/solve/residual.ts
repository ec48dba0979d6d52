import { applyNetwork } from './krylov.kernel.js';
import { lettersOf } from './level.js';
import type { HeatNetwork } from './network.js';
import { subtractFrom } from './vectors.kernel.js';

/**
 * The heat that a field leaves unexplained: what is made in each cell less what it gives off.
 *
 * @param source_W, rise_K one number for each cell
 * @param into receives it, W
 */
export function fillResidual(
  network: HeatNetwork,
  source_W: Float64Array,
  rise_K: Float64Array,
  into: Float64Array,
): void {
  const { nx, ny, nz } = network;
  applyNetwork(lettersOf(network), nx, ny, nz, rise_K, into);
  subtractFrom(source_W, into);
}
