import { makeCircle, makePath, makeRect, makeText, roundPixel } from './make-shape.js';
import type { SectionScale } from './section-scale.js';
import type { SectionProbe } from './section-view.js';
import type { Shape } from './shape.js';
import { spreadAlong } from './spread.js';
import { temperatureColour } from './temperature-scale.js';
import { textWidth_px } from './text-width.js';

export const chipHeight_px = 20;
const swatch_px = 10;
/** Room between two chips; tags alone may stand closer. */
const gap_px = 8;
const tagGap_px = 3;

interface Chip {
  readonly probe: SectionProbe;
  readonly figure: string;
  readonly sub: string | null;
  readonly chipWidth: number;
  /** Chip or the words under it, whichever is wider. */
  readonly width: number;
  /** With the gap to its neighbour. */
  readonly room: number;
}

function makeChip(probe: SectionProbe, length: 'full' | 'short' | 'tag', hasSub: boolean): Chip {
  const figure = length === 'full' ? probe.figure : length === 'short' ? probe.shortFigure : probe.tag;
  const sub = !hasSub || length === 'tag' ? null : length === 'full' ? probe.sub : probe.shortSub;
  const padding = length === 'tag' ? 8 : 12;
  const chipWidth = textWidth_px(figure, true) + padding + (probe.level_C === null ? 0 : swatch_px + 1);
  const width = Math.max(chipWidth, sub === null ? 0 : textWidth_px(sub));
  return { probe, figure, sub, chipWidth, width, room: width + (length === 'tag' ? tagGap_px : gap_px) };
}

/** The fullest wording with which all chips stand in one row; if not even the tags do, the coolest are left out. */
function chooseChips(probes: readonly SectionProbe[], room: number, hasSub: boolean): Chip[] {
  const sorted = [...probes].sort((one, other) => one.x_mm - other.x_mm);
  for (const [length, withSub] of [
    ['full', hasSub],
    ['short', hasSub],
    ['short', false],
    ['tag', false],
  ] as const) {
    const chips = sorted.map((probe) => makeChip(probe, length, withSub));
    if (chips.reduce((sum, chip) => sum + chip.room, 0) <= room) return chips;
  }
  const warmest = [...probes].sort((one, other) => (other.level_C ?? -1e9) - (one.level_C ?? -1e9));
  while (warmest.length > 0) {
    const kept = sorted
      .filter((probe) => warmest.includes(probe))
      .map((probe) => makeChip(probe, 'tag', false));
    if (kept.reduce((sum, chip) => sum + chip.room, 0) <= room) return kept;
    warmest.pop();
  }
  return [];
}

export interface ProbeRow {
  readonly probes: readonly SectionProbe[];
  /** Height of a probe's ring. */
  ringY(probe: SectionProbe): number;
  /** Top edge of the chips. */
  readonly chipTop: number;
  readonly isAbove: boolean;
  readonly hasSub: boolean;
  /** The part of the device a probe belongs to, which its chip should not leave; null where there is none. */
  home?(probe: SectionProbe): readonly [number, number] | null;
  readonly left: number;
  readonly right: number;
}

/** Above or below the ring, moved so far that the chip stays within its cell, if it fits into it. */
function wishFor(chip: Chip, row: ProbeRow, at: SectionScale): number {
  const ring = at.x(chip.probe.x_mm);
  const home = row.home?.(chip.probe) ?? null;
  if (home === null || home[1] - home[0] < chip.room) return ring;
  return Math.max(home[0] + chip.room / 2, Math.min(home[1] - chip.room / 2, ring));
}

/** One row of chips with their rings and leaders. Chips keep the order of the rings, so leaders do not cross. */
export function drawProbeRow(row: ProbeRow, at: SectionScale): Shape[] {
  const chips = chooseChips(row.probes, row.right - row.left, row.hasSub);
  const places = spreadAlong(
    chips.map((chip) => wishFor(chip, row, at)),
    chips.map((chip) => chip.room),
    row.left - tagGap_px / 2,
    row.right + tagGap_px / 2,
  );
  const leaders: Shape[] = [];
  const boxes: Shape[] = [];
  for (const [index, chip] of chips.entries()) {
    const [middle, ringX, ringY] = [places[index] ?? 0, at.x(chip.probe.x_mm), row.ringY(chip.probe)];
    const left = middle - chip.chipWidth / 2;
    const footX = Math.max(left + 6, Math.min(left + chip.chipWidth - 6, ringX));
    const footY = row.isAbove ? row.chipTop + chipHeight_px : row.chipTop;
    leaders.push(
      makePath('ln', `M${roundPixel(ringX)} ${roundPixel(ringY)}L${roundPixel(footX)} ${roundPixel(footY)}`),
    );
    boxes.push(makeRect('chip', left, row.chipTop, chip.chipWidth, chipHeight_px, { rx: 2 }));
    const { level_C } = chip.probe;
    if (level_C !== null) {
      boxes.push(
        makeRect('', left + 1, row.chipTop + 1, swatch_px, chipHeight_px - 2, {
          fill: temperatureColour(level_C, at.view.anchors),
        }),
      );
    }
    const textMiddle = middle + (level_C === null ? 0 : (swatch_px + 1) / 2);
    boxes.push(makeText(chip.figure, textMiddle, row.chipTop + 14.2, 'b', 'middle'));
    if (chip.sub !== null)
      boxes.push(makeText(chip.sub, middle, row.chipTop + chipHeight_px + 14, '', 'middle'));
  }
  const rings = row.probes.map((probe) => makeCircle('pt', at.x(probe.x_mm), row.ringY(probe), 3.6));
  return [...leaders, ...rings, ...boxes];
}

/** The ring of a zone's probe sits inside the zone; that of a cell's on its hot face; that of the shell's outside. */
export function ringHeight(probe: SectionProbe, at: SectionScale): number {
  if (probe.place === 'cell') return at.y(at.depths.pack);
  if (probe.place === 'shell') return at.y(at.depths.total);
  const zone = at.view.zones.find((each) => each.id === probe.zone);
  const height = zone?.height_mm ?? 0;
  return at.y(at.depths.boardBack + height / 2);
}
