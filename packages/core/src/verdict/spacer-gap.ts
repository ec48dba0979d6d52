import type { SetupRises } from '../life/index.js';
import type { Build, Setup } from '../records/index.js';
import { setupThickness_mm } from './choose-setup.js';
import { findParts, overlaps } from './section-parts.js';

/** What is taken for granted of the swelling. @assumed common practice, no source */
export const swellingWords =
  'A pouch is taken to swell to both faces alike: half into the free room behind the pack until that is full, the rest into the gap of the strips. Where the records leave no room behind it, all of it.';

/** The gap that strips hold open, the room behind the pack, and what is left once the gap is used up: the same layers without the strips. */
export function spacerOf(build: Build, id: string): SetupRises['spacer'] {
  const setup = build.setups.find((each) => each.id === id);
  const strips = setup?.layers.filter((layer) => layer.strips) ?? [];
  if (!setup || strips.length === 0) return undefined;
  const rest = layersWord(setup.layers.filter((layer) => !layer.strips));
  const becomes = build.setups.find((each) => each.id !== id && layersWord(each.layers) === rest);
  const room_mm = roomBehind_mm(build, setup);
  return {
    gap_mm: strips.reduce((sum, { thickness_mm }) => sum + thickness_mm, 0),
    ...(room_mm === null ? {} : { room_mm }),
    becomes: becomes?.id ?? '',
  };
}

/** What the bay leaves free behind the pack; none where the pack rests on the back shell, and null where the records do not say. */
function roomBehind_mm(build: Build, { id }: Setup): number | null {
  const parts = findParts(build, id);
  if ('missing' in parts) return null;
  const { device, outline, thickness_mm } = parts;
  if (device.packRestsOn === 'back-shell') return 0;
  const zones_mm = build.zones.flatMap((zone) => (overlaps(zone, outline) ? [zone.height_mm] : []));
  const left_mm = device.bay_mm - Math.max(0, ...zones_mm) - setupThickness_mm(build, id) - thickness_mm;
  return Math.max(0, left_mm);
}

/** What makes two stacks of layers the same, whatever they are called. */
function layersWord(layers: Setup['layers']): string {
  return JSON.stringify(
    layers.map(({ material, grade, thickness_mm, outline, strips }) => [
      material,
      grade ?? null,
      thickness_mm,
      outline ? [outline.x_mm, outline.y_mm, outline.length_mm, outline.width_mm] : null,
      strips ?? null,
    ]),
  );
}
