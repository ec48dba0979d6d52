import { makePath, makeRect, makeText, pathThrough, roundPixel } from './make-shape.js';
import { countCrossings, type LabelField } from './place-label.js';
import type { RunChartScales, TracedLine } from './run-chart-scales.js';
import type { RunChartPlateau } from './run-chart-view.js';
import type { Shape } from './shape.js';
import { type Anchor, type Box, boxesOverlap, textBox, textWidth_px } from './text-width.js';

interface DrawnPlateau {
  readonly under: Shape[];
  readonly over: Shape[];
  /** Whether its words found a place; if not, the line is named like any other. */
  readonly isNamed: boolean;
}

interface Place {
  readonly x: number;
  readonly y: number;
  readonly anchor: Anchor;
}

/** The place among candidates with the fewest lines through it; earlier candidates win a tie. Null if all are taken. */
function choosePlace(
  words: string,
  isBold: boolean,
  places: readonly Place[],
  label: LabelField,
  mostCrossings = 1e9,
): Place | null {
  const width = textWidth_px(words, isBold);
  let best: { place: Place; cost: number; box: Box } | null = null;
  for (const place of places) {
    const box = textBox(width, place.x, place.y, place.anchor);
    const { field } = label;
    if (box.left < field.left || box.right > field.right || box.top < field.top || box.bottom > field.bottom)
      continue;
    if (label.taken.some((other) => boxesOverlap(box, other, 3))) continue;
    const cost = countCrossings(box, label.traces);
    if (cost <= mostCrossings && (best === null || cost < best.cost)) best = { place, cost, box };
  }
  if (best === null) return null;
  label.taken.push(best.box);
  return best.place;
}

function drawTimeConstant(plateau: RunChartPlateau, at: RunChartScales, label: LabelField): Shape[] {
  const { timeConstant } = plateau;
  if (timeConstant === null) return [];
  const [start, end] = [at.x(plateau.from_s), at.x(plateau.from_s + timeConstant.tau_s)];
  if (!(end <= at.right && end - start >= 6)) return [];
  const curve = at.y(timeConstant.level_C);
  for (const [words, most] of [
    [timeConstant.words, 0],
    [timeConstant.shortWords, 1e9],
  ] as const) {
    const places: Place[] = [];
    for (let y = curve + 34; y < at.bottom - 14; y += 6) {
      places.push(
        { x: end + 7, y: y + 4, anchor: 'start' },
        { x: (start + end) / 2, y: y - 6, anchor: 'middle' },
      );
    }
    const place = choosePlace(words, false, places, label, most);
    if (place === null) continue;
    const y = place.anchor === 'start' ? place.y - 4 : place.y + 6;
    label.taken.push({ left: start, right: end, top: y - 2, bottom: y + 4 });
    const d = `M${roundPixel(start)} ${roundPixel(y)}H${roundPixel(end)}M${roundPixel(end)} ${roundPixel(y + 6)}V${roundPixel(curve)}`;
    return [
      makePath('', d, { stroke: 'var(--accent)', 'stroke-width': 1.25, fill: 'none' }),
      makeText(words, place.x, place.y, 'a halo', place.anchor),
    ];
  }
  return [];
}

function drawSettled(plateau: RunChartPlateau, at: RunChartScales, label: LabelField): Shape[] {
  if (plateau.settled_s === null) return [];
  const [left, right] = [at.x(plateau.settled_s[0]), at.x(plateau.settled_s[1])];
  const y = at.bottom - 8;
  const width = textWidth_px('settled');
  const middle = Math.max(at.left + width / 2 + 2, Math.min(at.right - width / 2, (left + right) / 2));
  label.taken.push(textBox(width, middle, y - 7, 'middle'), { left, right, top: y - 5, bottom: y + 5 });
  return [
    makePath(
      'ac',
      `M${roundPixel(left)} ${y}H${roundPixel(right)}M${roundPixel(left)} ${y - 5}v10M${roundPixel(right)} ${y - 5}v10`,
    ),
    makeText('settled', middle, y - 7, 'a halo', 'middle'),
  ];
}

/** Band of the plateau ± u over its phase, the level carried on, the fitted curve, the time constant, where it settled. */
export function drawPlateau(
  plateau: RunChartPlateau,
  at: RunChartScales,
  label: LabelField,
  chosen: TracedLine | undefined,
): DrawnPlateau {
  const [left, right] = [at.x(plateau.from_s), at.x(plateau.to_s)];
  const level = at.y(plateau.level_C);
  const half = Math.max(1.5, level - at.y(plateau.level_C + plateau.u_K));
  const under: Shape[] = [
    makeRect('', left, level - half, right - left, 2 * half, { fill: 'var(--accent)', opacity: 0.22 }),
    makePath('', `M${roundPixel(left)} ${roundPixel(level)}H${at.right}`, {
      stroke: 'var(--accent)',
      'stroke-width': 1.25,
      'stroke-dasharray': '4 3',
      fill: 'none',
    }),
    ...drawSettled(plateau, at, label),
  ];
  const curve = pathThrough(
    plateau.curve.map((point): [number, number] => [at.x(point.after_s), at.y(point.level_C)]),
  );
  const over: Shape[] = [
    makePath('', curve, { stroke: 'var(--ink)', 'stroke-width': 0.9, fill: 'none', 'data-part': 'fit' }),
  ];

  for (const [words, most] of [
    [plateau.words, 0],
    [plateau.shortWords, 1e9],
  ] as const) {
    const places: Place[] = [];
    // Beside the band's end first, where the plateau is; then back along the band; above before below.
    for (let x = Math.min(right - 8, at.right); x > at.left + 40; x -= 12) {
      for (const y of [level - half - 7, level + half + 15]) places.push({ x, y, anchor: 'end' });
    }
    places.push({ x: at.right, y: level - half - 7, anchor: 'end' });
    const place = choosePlace(
      words,
      true,
      places,
      { ...label, traces: label.traces.filter((each) => each !== chosen) },
      most,
    );
    if (place === null) continue;
    over.push(
      makeText(words, place.x, place.y, 'b a halo', place.anchor),
      ...drawTimeConstant(plateau, at, label),
    );
    return { under, over, isNamed: true };
  }
  over.push(...drawTimeConstant(plateau, at, label));
  return { under, over, isNamed: false };
}
