import { formatNumber } from '../measure/index.js';
import type { Build, Layer, Outline, Pack, Setup, Zone } from '../records/index.js';

/** What a probe is said to read, in whichever state the page speaks of. */
export interface SectionReading {
  readonly probe: string;
  readonly level_C: number;
  readonly u_K: number | null;
  /** Stands under the chip of a cell, such as "7.1 K below limit"; the short form where there is little room. */
  readonly sub?: string;
  readonly shortSub?: string;
}

/** The records a section cannot do without. */
export interface Parts {
  readonly device: NonNullable<Build['device']>;
  readonly pack: Pack;
  readonly outline: Outline;
  readonly thickness_mm: number;
  readonly setup: Setup;
}

/** Those records, or the names of those that are missing. */
export function findParts(build: Build, setupId: string): Parts | { missing: string[] } {
  const setup = build.setups.find((each) => each.id === setupId);
  const { device, newPack: pack } = build;
  const missing: string[] = [];
  if (setup === undefined) missing.push('a set-up');
  if (device === undefined) missing.push('the device: its length, width and thicknesses');
  if (pack === undefined) missing.push('the new pack');
  else {
    if (pack.outline === undefined) missing.push('the new pack’s outline');
    if (pack.thickness_mm === undefined) missing.push('the new pack’s thickness');
  }
  if (!setup || !device || !pack?.outline || pack.thickness_mm === undefined) return { missing };
  return { device, pack, outline: pack.outline, thickness_mm: pack.thickness_mm, setup };
}

/** By measurement where its probe was read, else by the power it is said to give off, else the first one entered. */
export function findHottestZone(build: Build, readings: readonly SectionReading[]): Zone | undefined {
  const level = (zone: Zone) => {
    const probes = build.probes
      .filter((probe) => probe.place === 'zone' && probe.zone === zone.id)
      .map((probe) => probe.id);
    return Math.max(
      ...readings.filter((reading) => probes.includes(reading.probe)).map((reading) => reading.level_C),
    );
  };
  const best = (value: (zone: Zone) => number) => {
    const known = build.zones.filter((zone) => Number.isFinite(value(zone)));
    return known.length === 0
      ? undefined
      : known.reduce((most, zone) => (value(zone) > value(most) ? zone : most));
  };
  return best(level) ?? best((zone) => zone.load_W ?? Number.NaN) ?? build.zones[0];
}

/** Where across the device the section is cut: through the middle of the hottest zone, else of the pack. */
export function cutLine(focus: Zone | undefined, outline: Outline): number {
  return focus === undefined ? outline.y_mm + outline.width_mm / 2 : focus.y_mm + focus.width_mm / 2;
}

/** Whether two outlines share an area in plan. */
export function overlaps(one: Outline, other: Outline): boolean {
  return (
    one.x_mm < other.x_mm + other.length_mm &&
    other.x_mm < one.x_mm + one.length_mm &&
    one.y_mm < other.y_mm + other.width_mm &&
    other.y_mm < one.y_mm + one.width_mm
  );
}

/** Layers that spread heat: what a set-up is usually about. */
export const shields: readonly Layer['material'][] = ['aluminium', 'copper', 'graphite'];

/** A caption for each cell in series; one alone means that the pack is drawn as a block. */
export function nameCells(pack: Pack): string[] {
  const each_Wh =
    pack.energy_Wh === undefined ? '' : ` · ${formatNumber(pack.energy_Wh / pack.series, 0)} Wh`;
  if (pack.series === 1) return [pack.parallel === 1 ? `cell${each_Wh}` : `pack${each_Wh}`];
  const noun = pack.parallel === 1 ? 'cell' : 'group';
  return Array.from({ length: pack.series }, (_, index) => `${noun} ${index + 1}${each_Wh}`);
}

/** An outline without what else its record may carry. */
export function pickOutline({ x_mm, y_mm, length_mm, width_mm }: Outline): Outline {
  return { x_mm, y_mm, length_mm, width_mm };
}
