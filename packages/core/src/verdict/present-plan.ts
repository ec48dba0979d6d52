import { locateProbe, type PlanView, probeTag } from '../drawing/index.js';
import { formatList, formatNumber } from '../measure/index.js';
import type { Build } from '../records/index.js';
import {
  cutLine,
  findHottestZone,
  findParts,
  nameCells,
  pickOutline,
  type SectionReading,
  shields,
} from './section-parts.js';

/** A plan, or what must be entered before one can be drawn. */
export type PlanOrMissing =
  | { readonly plan: PlanView; readonly missing: readonly [] }
  | { readonly plan: null; readonly missing: readonly string[] };

/** The plan of the device with one set-up, cut line through the same zone as the section with the same readings. */
export function presentPlan(
  build: Build,
  setupId: string,
  readings: readonly SectionReading[] = [],
): PlanOrMissing {
  const parts = findParts(build, setupId);
  if ('missing' in parts) return { plan: null, missing: parts.missing };
  const { device, pack, outline, setup } = parts;
  const focus = findHottestZone(build, readings);
  const layers = setup.layers.map((layer) => ({
    ...pickOutline(layer.outline ?? outline),
    name: layer.name,
    material: layer.material,
    strips: layer.strips ?? null,
  }));
  const sheet = layers.find((layer) => shields.includes(layer.material) && layer.strips === null);
  const told = [
    `${pack.name} with ${nameCells(pack).length === 1 ? 'one block' : `${pack.series} cells in series`}`,
    ...(sheet === undefined
      ? []
      : [`${sheet.name} ${formatNumber(sheet.length_mm, 0)} by ${formatNumber(sheet.width_mm, 0)} mm`]),
    ...(build.zones.length === 0 ? [] : [`zones ${formatList(build.zones.map((zone) => zone.name))}`]),
  ];
  return {
    plan: {
      label: `Plan of ${device.name} with ${setup.name}, ${formatNumber(device.length_mm, 0)} by ${formatNumber(device.width_mm, 0)} mm, from the pack side: ${told.join('; ')}. Line A–A is where the section is cut.`,
      length_mm: device.length_mm,
      width_mm: device.width_mm,
      pack: pickOutline(outline),
      cells: pack.series,
      zones: build.zones.map((zone) => ({ ...pickOutline(zone), name: zone.name })),
      layers,
      probes: build.probes.flatMap((probe) => {
        const at = locateProbe(probe, build, pack, outline);
        return at === null ? [] : [{ probe: probe.id, tag: probeTag(probe), ...at }];
      }),
      cut_mm: cutLine(focus, outline),
    },
    missing: [],
  };
}
