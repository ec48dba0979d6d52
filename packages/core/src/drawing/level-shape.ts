import { makeGroup, makePath, roundPixel } from './make-shape.js';
import type { Shape } from './shape.js';

/**
 * What a judgement looks like before any colour: disc, triangle, barred square, dashed ring.
 * `prefer` and `wear` judge a temperature and share the shapes of `holds` and `look`; `shown` and `not-shown` judge a
 * difference, in ink, because a difference is neither good nor bad.
 */
export type LevelLook = 'holds' | 'look' | 'stop' | 'none' | 'prefer' | 'wear' | 'shown' | 'not-shown';

const lookClass: Readonly<Record<LevelLook, string>> = {
  holds: 'lv holds',
  prefer: 'lv holds',
  look: 'lv look',
  wear: 'lv look',
  stop: 'lv stop',
  none: 'lv none',
  shown: 'lv',
  'not-shown': 'lv',
};

/** The shape alone, in a field of 14 by 14, drawn in `currentColor`. */
function lookShapes(look: LevelLook): Shape[] {
  switch (look) {
    case 'holds':
    case 'prefer':
    case 'shown':
      return [{ tag: 'circle', attrs: { cx: 7, cy: 7, r: 6, fill: 'currentColor' } }];
    case 'look':
    case 'wear':
      return [makePath('', 'M7 .5 13.6 13H.4Z', { fill: 'currentColor' })];
    case 'stop':
      return [
        makePath('', 'M.8 .8h12.4v12.4h-12.4Z', { fill: 'currentColor' }),
        makePath('', 'M3.4 7h7.2', { stroke: 'var(--paper)', 'stroke-width': 2.4, fill: 'none' }),
      ];
    case 'none':
    case 'not-shown':
      return [
        {
          tag: 'circle',
          attrs: {
            cx: 7,
            cy: 7,
            r: 5.2,
            fill: 'none',
            stroke: 'currentColor',
            'stroke-width': 1.6,
            'stroke-dasharray': '2.6 2',
          },
        },
      ];
  }
}

/** For a sentence or a table: the class of a small `svg` element, its `viewBox`, and what is in it. */
export function levelIcon(look: LevelLook): {
  readonly classes: string;
  readonly viewBox: string;
  readonly shapes: readonly Shape[];
} {
  return { classes: lookClass[look], viewBox: '0 0 14 14', shapes: lookShapes(look) };
}

/** The same inside a drawing, centred, about the size of a capital letter. */
export function levelShape(look: LevelLook, cx: number, cy: number, size_px = 11): Shape {
  const scale = Math.round((size_px / 14) * 1000) / 1000;
  const shift = `translate(${roundPixel(cx - size_px / 2)} ${roundPixel(cy - size_px / 2)}) scale(${scale})`;
  return makeGroup(lookShapes(look), { class: lookClass[look], transform: shift, color: colourOf(look) });
}

/** Outside `.lv` rules (a group in a drawing keeps them too) the colour is named, so that the shape never falls back to black. */
function colourOf(look: LevelLook): string {
  if (look === 'holds' || look === 'prefer') return 'var(--holds)';
  if (look === 'look' || look === 'wear') return 'var(--look)';
  if (look === 'stop') return 'var(--stop)';
  return look === 'none' ? 'var(--ink2)' : 'var(--ink)';
}
