import type { Margin } from '../compare/index.js';
import type { Build } from '../records/index.js';
import { presentSection } from './present-section.js';

/** What speaks against fitting a set-up that is shown to be cooler. */
export type Obstacle =
  | { readonly kind: 'too-thick'; readonly by_mm: number }
  | { readonly kind: 'limit'; readonly margin: Margin };

/**
 * Why a set-up is not to be fitted as things stand, the bay first: a pack that is pressed can burn at any temperature.
 *
 * A limit counts that ends the use of the device without the charger. One that is passed while it charges leaves the device usable, and
 * the answer says up to which room.
 *
 * @returns null where nothing of what was entered and judged speaks against it
 */
export function findObstacle(build: Build, setup: string, margins: readonly Margin[]): Obstacle | null {
  const reserve_mm = presentSection(build, setup).section?.view.reserve_mm ?? 0;
  if (reserve_mm < 0) return { kind: 'too-thick', by_mm: -reserve_mm };
  const passed = margins
    .filter(
      (margin) =>
        margin.setup === setup &&
        margin.limit.level === 'stop' &&
        margin.level === 'stop' &&
        margin.use.startsWith('discharging'),
    )
    .sort((one, other) => (one.margin_K ?? 0) - (other.margin_K ?? 0));
  const [margin] = passed;
  return margin === undefined ? null : { kind: 'limit', margin };
}
