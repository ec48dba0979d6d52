import type { Shape } from './shape.js';
import type { Anchor, WordRun } from './text-width.js';

type Attrs = Readonly<Record<string, string | number>>;

/** A tenth of a pixel is finer than any screen here, and keeps the text of a drawing short. */
export function roundPixel(value: number): number {
  const rounded = Math.round(value * 10) / 10;
  return rounded === 0 ? 0 : rounded;
}

export function makePath(classes: string, d: string, more: Attrs = {}): Shape {
  return { tag: 'path', attrs: classes === '' ? { d, ...more } : { class: classes, d, ...more } };
}

/** A path through points; an empty list gives an empty path. */
export function pathThrough(points: readonly (readonly [number, number])[]): string {
  return points
    .map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${roundPixel(x)} ${roundPixel(y)}`)
    .join('');
}

export function makeRect(
  classes: string,
  x: number,
  y: number,
  width: number,
  height: number,
  more: Attrs = {},
): Shape {
  const place = {
    x: roundPixel(x),
    y: roundPixel(y),
    width: roundPixel(Math.max(0, width)),
    height: roundPixel(Math.max(0, height)),
  };
  return {
    tag: 'rect',
    attrs: classes === '' ? { ...place, ...more } : { class: classes, ...place, ...more },
  };
}

export function makeCircle(classes: string, cx: number, cy: number, r: number, more: Attrs = {}): Shape {
  return { tag: 'circle', attrs: { class: classes, cx: roundPixel(cx), cy: roundPixel(cy), r, ...more } };
}

const anchorClass: Readonly<Record<Anchor, string>> = { start: '', middle: ' m', end: ' e' };

export function makeText(words: string, x: number, y: number, classes = '', anchor: Anchor = 'start'): Shape {
  const all = `${classes}${anchorClass[anchor]}`.trim();
  const place = { x: roundPixel(x), y: roundPixel(y) };
  return { tag: 'text', attrs: all === '' ? place : { class: all, ...place }, text: words };
}

/** One line of bold and quiet words. */
export function makeRuns(
  runs: readonly WordRun[],
  x: number,
  y: number,
  classes = '',
  anchor: Anchor = 'start',
): Shape {
  const children = runs.map(
    (run): Shape =>
      run.quiet
        ? { tag: 'tspan', attrs: { class: 'q', 'font-weight': 400 }, text: run.words }
        : { tag: 'tspan', attrs: {}, text: run.words },
  );
  return {
    tag: 'text',
    attrs: { class: `b ${classes}${anchorClass[anchor]}`.trim(), x: roundPixel(x), y: roundPixel(y) },
    children,
  };
}

export function makeGroup(children: readonly Shape[], attrs: Attrs = {}): Shape {
  return { tag: 'g', attrs, children };
}

/** What a pointer resting on the group is told; also read out. */
export function withTitle(words: string, children: readonly Shape[]): Shape {
  return { tag: 'g', attrs: {}, children: [{ tag: 'title', attrs: {}, text: words }, ...children] };
}

/** Strokes at 45° inside a rectangle, for cut shells. Worked out line by line, so that no clip path is needed. */
export function hatchRect(left: number, top: number, right: number, bottom: number, spacing_px = 7): string {
  if (right <= left || bottom <= top) return '';
  const strokes: string[] = [];
  // Each stroke lies on x + y = sum; sums are multiples of the spacing, so neighbouring rectangles continue each other.
  for (let sum = Math.ceil((left + top) / spacing_px) * spacing_px; sum < right + bottom; sum += spacing_px) {
    const startX = Math.max(left, sum - bottom);
    const endX = Math.min(right, sum - top);
    if (endX - startX > 0.2) {
      strokes.push(
        `M${roundPixel(startX)} ${roundPixel(sum - startX)}L${roundPixel(endX)} ${roundPixel(sum - endX)}`,
      );
    }
  }
  return strokes.join('');
}
