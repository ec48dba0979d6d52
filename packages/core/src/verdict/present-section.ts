import {
  formatThickness,
  locateProbe,
  probeTag,
  type SectionLayer,
  type SectionProbe,
  type SectionView,
  sectionDepths,
  temperatureAnchors,
} from '../drawing/index.js';
import { formatCelsius, formatEstimate, formatList, formatNumber } from '../measure/index.js';
import type { Build, Outline, Pack, Probe } from '../records/index.js';
import {
  cutLine,
  findHottestZone,
  findParts,
  nameCells,
  overlaps,
  type SectionReading,
} from './section-parts.js';
import { describeLayers, nameRows } from './section-rows.js';

export interface PresentedSection {
  readonly view: SectionView;
  /** For the title block: "A–A, through the processor". */
  readonly cut: string;
  /** The layers as one sentence, for where the drawing has no room for the column. */
  readonly layersWords: string;
}

/** A section, or what must be entered before one can be drawn. */
export type SectionOrMissing =
  | { readonly section: PresentedSection; readonly missing: readonly [] }
  | { readonly section: null; readonly missing: readonly string[] };

/**
 * The section of the device with one set-up.
 *
 * @param readings of the state the page speaks of; probes without one are drawn as rings with their tag
 */
export function presentSection(
  build: Build,
  setupId: string,
  readings: readonly SectionReading[] = [],
): SectionOrMissing {
  const parts = findParts(build, setupId);
  if ('missing' in parts) return { section: null, missing: parts.missing };
  const { device, pack, outline, thickness_mm, setup } = parts;

  const focus = findHottestZone(build, readings);
  const cut_mm = cutLine(focus, outline);
  const zoneRoom_mm = Math.max(
    0,
    ...build.zones.filter((zone) => overlaps(zone, outline)).map((zone) => zone.height_mm),
  );
  const layers = setup.layers.map((layer): SectionLayer => {
    const { x_mm, length_mm } = layer.outline ?? outline;
    const { name, material, strips } = layer;
    return { name, material, thickness_mm: layer.thickness_mm, x_mm, length_mm, strips: strips ?? null };
  });
  const layers_mm = layers.reduce((sum, layer) => sum + layer.thickness_mm, 0);
  // Thicknesses are typed with a few decimals; what is left of a sum that should be zero must not read as an overflow.
  const reserve_mm = roundAway(device.bay_mm - zoneRoom_mm - layers_mm - thickness_mm);
  const rows = nameRows(device, build.zones, layers, pack, zoneRoom_mm, thickness_mm, reserve_mm);
  const cut = focus === undefined ? 'A–A, through the middle of the pack' : `A–A, through ${focus.name}`;
  const view: Omit<SectionView, 'label'> = {
    length_mm: device.length_mm,
    frontShell_mm: device.frontShell_mm,
    frontGap_mm: device.frontGap_mm,
    board: device.board,
    bay_mm: device.bay_mm,
    backShell_mm: device.backShell_mm,
    zones: build.zones.map((zone) => ({
      id: zone.id,
      name: zone.name,
      x_mm: zone.x_mm,
      length_mm: zone.length_mm,
      height_mm: zone.height_mm,
      isCut: zone.y_mm <= cut_mm && cut_mm <= zone.y_mm + zone.width_mm,
    })),
    zoneRoom_mm,
    layers,
    pack: { x_mm: outline.x_mm, length_mm: outline.length_mm, thickness_mm },
    cells: nameCells(pack),
    reserve_mm,
    rows,
    probes: build.probes.flatMap((probe) => placeProbe(probe, build, pack, outline, readings)),
    anchors: temperatureAnchors(build),
    focus_mm: focus === undefined ? outline.x_mm + outline.length_mm / 2 : focus.x_mm + focus.length_mm / 2,
  };
  const layersWords = describeLayers(rows);
  const total_mm = sectionDepths({ ...view, label: '' }).total;
  const read = readings.flatMap((reading) => {
    const probe = build.probes.find((each) => each.id === reading.probe);
    if (probe === undefined) return [];
    return [`${probe.name} ${readingWords(reading)}${reading.sub === undefined ? '' : `, ${reading.sub}`}`];
  });
  const label = `Section ${cut}, with ${setup.name}: ${formatThickness(total_mm)} mm thick. ${layersWords}${read.length > 0 ? ` ${formatList(read)}.` : ''}`;
  return { section: { view: { ...view, label }, cut, layersWords }, missing: [] };
}

function readingWords({ level_C, u_K }: SectionReading): string {
  return u_K === null ? formatCelsius(level_C) : formatEstimate({ value: level_C, u: u_K }, '°C');
}

function roundAway(length_mm: number): number {
  return Math.round(length_mm * 1e6) / 1e6;
}

function placeProbe(
  probe: Probe,
  build: Build,
  pack: Pack,
  outline: Outline,
  readings: readonly SectionReading[],
): SectionProbe[] {
  const at = locateProbe(probe, build, pack, outline);
  if (at === null || probe.place === 'ambient') return [];
  const reading = readings.find((each) => each.probe === probe.id);
  const tag = probeTag(probe);
  const figure = reading === undefined ? tag : `${tag} ${readingWords(reading).replace(/\s*°C$/, '')}`;
  return [
    {
      probe: probe.id,
      place: probe.place,
      x_mm: at.x_mm,
      zone: probe.zone ?? null,
      tag,
      figure,
      shortFigure: reading === undefined ? tag : `${tag} ${formatNumber(reading.level_C)}`,
      level_C: reading?.level_C ?? null,
      sub: reading?.sub ?? null,
      shortSub: reading?.shortSub ?? null,
    },
  ];
}
