import { type SectionDepths, type SectionView, sectionDepths } from './section-view.js';

/** Where millimetres of the section stand in pixels. */
export interface SectionScale {
  readonly view: SectionView;
  readonly depths: SectionDepths;
  /** Edges of what is drawn; a detail cuts the device off here. */
  readonly left: number;
  readonly right: number;
  readonly top: number;
  /** Outer face of the back shell, or of a pack that stands out of it. */
  readonly bottom: number;
  /** How many times thicknesses are drawn larger than lengths. */
  readonly stretch: number;
  readonly grid_mm: number;
  x(along_mm: number): number;
  y(depth_mm: number): number;
}

const stretches = [1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20];

/**
 * Chooses the stretch: the wanted one, unless the section would get too tall to see at once or too flat to read.
 * Where even no stretch is too tall, the whole section is drawn smaller.
 */
export function scaleSection(
  view: SectionView,
  field: { readonly left: number; readonly right: number; readonly top: number },
  wanted: { readonly stretch: number; readonly least_px: number; readonly most_px: number },
  window_mm: readonly [number, number] = [0, view.length_mm],
): SectionScale {
  const depths = sectionDepths(view);
  const deepest = Math.max(depths.total, depths.packBack);
  let perMillimetre = (field.right - field.left) / (window_mm[1] - window_mm[0]);
  const heightAt = (stretch: number) => deepest * perMillimetre * stretch;
  const order = [...stretches].sort(
    (one, other) => Math.abs(Math.log(one / wanted.stretch)) - Math.abs(Math.log(other / wanted.stretch)),
  );
  const fits = order.find(
    (stretch) => heightAt(stretch) <= wanted.most_px && heightAt(stretch) >= wanted.least_px,
  );
  const stretch = fits ?? (heightAt(wanted.stretch) < wanted.least_px ? (stretches.at(-1) ?? 1) : 1);
  if (heightAt(stretch) > wanted.most_px) perMillimetre *= wanted.most_px / heightAt(stretch);

  const perDepth = perMillimetre * stretch;
  const middle = (field.left + field.right) / 2 - (perMillimetre * (window_mm[0] + window_mm[1])) / 2;
  // Aligned with the left edge, where the dimension line stands, unless a detail is cut out of the middle.
  const isWhole = window_mm[0] <= 0 && window_mm[1] >= view.length_mm;
  const offset = isWhole ? field.left : middle;
  return {
    view,
    depths,
    left: isWhole ? field.left : offset + perMillimetre * window_mm[0],
    right: offset + perMillimetre * window_mm[1],
    top: field.top,
    bottom: field.top + deepest * perDepth,
    stretch,
    grid_mm: [5, 10, 20, 50, 100].find((step) => step * perMillimetre >= 7) ?? 200,
    x: (along_mm) => offset + along_mm * perMillimetre,
    y: (depth_mm) => field.top + depth_mm * perDepth,
  };
}
