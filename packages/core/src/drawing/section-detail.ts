import { makePath, roundPixel } from './make-shape.js';
import type { SectionDrawing } from './section.js';
import { drawBody, drawGrid, drawOverflowWords, overflowWords_px } from './section-body.js';
import { chipHeight_px, drawProbeRow, ringHeight } from './section-probes.js';
import { scaleSection } from './section-scale.js';
import type { SectionProbe, SectionView } from './section-view.js';

/** How much of the device a detail shows, along its length. */
const detail_mm = 34;

/** The zigzag by which a drawing says that the thing goes on. */
function breakLine(x: number, top: number, bottom: number): string {
  const middle = roundPixel((top + bottom) / 2);
  return `M${roundPixel(x)} ${roundPixel(top)}V${middle - 7}l-4 4l8 6l-4 4V${roundPixel(bottom)}`;
}

/**
 * A narrow piece of the section around the hottest zone, from shell to shell, so that set-ups can stand side by side.
 * Details of one device drawn at one width have one scale.
 *
 * @param width_px the room there is, from about 140 px up
 */
export function drawSectionDetail(view: SectionView, width_px: number): SectionDrawing {
  const shown_mm = Math.min(detail_mm, view.length_mm);
  const start_mm = Math.max(0, Math.min(view.length_mm - shown_mm, view.focus_mm - shown_mm / 2));
  const window_mm = [start_mm, start_mm + shown_mm] as const;
  const wanted = { stretch: 3, least_px: 180, most_px: width_px < 200 ? 340 : 470 };
  const at = scaleSection(view, { left: 6, right: width_px - 6, top: 22 }, wanted, window_mm);
  const seen = view.probes.filter((probe) => probe.x_mm >= window_mm[0] && probe.x_mm <= window_mm[1]);
  const packHeight = at.y(at.depths.packBack) - at.y(at.depths.pack);
  const common = {
    ringY: (probe: SectionProbe) => ringHeight(probe, at),
    left: at.left + 4,
    right: at.right - 4,
  };
  const cells = seen.filter((probe) => probe.place === 'cell');
  const chipTop = at.y(at.depths.pack) + Math.max(14, Math.min(62, packHeight / 2 - chipHeight_px));
  const ends = [at.top - 6, at.bottom + 6] as const;
  const breaks = [
    ...(window_mm[0] > 0.01 ? [breakLine(at.left, ...ends)] : []),
    ...(window_mm[1] < view.length_mm - 0.01 ? [breakLine(at.right, ...ends)] : []),
  ];
  const shapes = [
    drawGrid(at),
    ...drawBody(at, false),
    makePath('hl', breaks.join('')),
    ...drawOverflowWords(at),
  ];
  if (cells.length > 0)
    shapes.push(...drawProbeRow({ ...common, probes: cells, chipTop, isAbove: false, hasSub: false }, at));
  const bottom = at.bottom + (view.reserve_mm < 0 ? overflowWords_px : 0) + 12;
  return {
    width: width_px,
    height: Math.ceil(bottom),
    label: view.label,
    shapes,
    stretch: at.stretch,
    grid_mm: at.grid_mm,
  };
}
