import type { Build, Outline, Pack, Probe } from '../records/index.js';

/** Place of a probe in plan; what was not entered is taken from the zone or cell it belongs to. Null for the room's. */
export function locateProbe(
  probe: Probe,
  build: Pick<Build, 'zones'>,
  pack: Pick<Pack, 'series' | 'parallel'>,
  outline: Outline,
): { x_mm: number; y_mm: number } | null {
  if (probe.place === 'ambient') return null;
  const zone = build.zones.find((each) => each.id === probe.zone);
  if (probe.place === 'zone' && zone === undefined) return null;
  const group =
    probe.cell === undefined ? null : Math.min(pack.series, Math.ceil(probe.cell / pack.parallel));
  const cell_x =
    outline.x_mm +
    (group === null ? outline.length_mm / 2 : ((group - 0.5) / pack.series) * outline.length_mm);
  const home = zone
    ? { x_mm: zone.x_mm + zone.length_mm / 2, y_mm: zone.y_mm + zone.width_mm / 2 }
    : { x_mm: cell_x, y_mm: outline.y_mm + outline.width_mm / 2 };
  return { x_mm: probe.x_mm ?? home.x_mm, y_mm: probe.y_mm ?? home.y_mm };
}
