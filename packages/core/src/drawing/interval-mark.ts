import type { IntervalRow } from './interval-view.js';
import { makeCircle, makePath, makeText, roundPixel } from './make-shape.js';
import type { Shape } from './shape.js';
import { shortenWords, textWidth_px } from './text-width.js';

type Scale = (value: number) => number;

/** A stroke with hatching on the far side, as a wall is drawn: here it ends. The preferred value is a plain stroke. */
function drawLimit(
  limit: NonNullable<IntervalRow['limit']>,
  y: number,
  x: Scale,
  low: number,
  high: number,
): Shape[] {
  const at = roundPixel(x(limit.at));
  const half = textWidth_px(limit.words) / 2;
  const words = makeText(
    limit.words,
    Math.max(low + half, Math.min(high - half, at)),
    y - 15,
    'q halo',
    'middle',
  );
  if (limit.kind === 'prefer')
    return [makePath('ln', `M${at} ${roundPixel(y - 9)}v18`), ...(limit.words === '' ? [] : [words])];
  const hatch = [-4.5, 1, 6.5, 12].map((down) => `M${at + 1} ${roundPixel(y + down - 2)}l5 -4`).join('');
  return [
    makePath('lim', `M${at} ${roundPixel(y - 11)}v22`),
    makePath('', hatch, { stroke: 'var(--stop)', 'stroke-width': 1, fill: 'none' }),
    words,
  ];
}

/** The strokes, the dot and what belongs to them: single runs, limit, value. `bounds` is where words may stand. */
export function drawMark(row: IntervalRow, y: number, x: Scale, bounds: readonly [number, number]): Shape[] {
  const [low, high] = bounds;
  const { mark, limit } = row;
  const height = roundPixel(y);
  const shapes: Shape[] = limit ? drawLimit(limit, y, x, low, high) : [];
  if (mark === null) {
    // Beneath the limit's stroke, which may stand anywhere along the row.
    const absent = shortenWords(row.absent ?? 'not measured', high - low - 8);
    shapes.push(makeText(absent, low + 4, limit ? y + 20 : y + 4, 'q halo'));
    return shapes;
  }
  const isFirm = row.isFirm ?? true;
  const accent = row.isChosen ? ' ac' : '';
  const across = (from: number, to: number) => `M${roundPixel(x(from))} ${height}H${roundPixel(x(to))}`;
  if (limit && mark.value !== null) {
    const isPast = mark.value > limit.at;
    const stroke = isPast && limit.kind === 'limit' ? 'var(--stop)' : 'var(--ink2)';
    shapes.push(
      makePath('', across(mark.value, limit.at), {
        stroke,
        'stroke-width': 1.25,
        'stroke-dasharray': '2 3',
        fill: 'none',
      }),
    );
  }
  shapes.push(makePath(isFirm ? `thin${accent}` : `thin${accent} dash`, across(...mark.thin)));
  if (isFirm) shapes.push(makePath(`thick${accent}`, across(...mark.thick)));
  else
    shapes.push(
      makePath('', across(...mark.thick), { stroke: 'var(--ink2)', 'stroke-width': 3, fill: 'none' }),
    );
  if (mark.atLeast) {
    const tip = Math.min(high, x(mark.thin[1]) + 14);
    shapes.push(
      makePath(
        `thin${accent}`,
        `M${roundPixel(x(mark.thin[1]))} ${height}H${roundPixel(tip)}m-5 -4l5 4l-5 4`,
      ),
    );
  }
  if (mark.value !== null) shapes.push(makeCircle(`pt${accent}`, x(mark.value), y, 4.6));
  for (const run of row.runs ?? [])
    shapes.push(makePath('raw', `M${roundPixel(x(run))} ${roundPixel(y + 9)}v7`));
  if (row.valueWords) {
    const half = textWidth_px(row.valueWords) / 2;
    const middle = x(mark.value ?? mark.thick[0]);
    shapes.push(
      makeText(row.valueWords, Math.max(low + half, Math.min(high - half, middle)), y + 20, 'halo', 'middle'),
    );
  }
  return shapes;
}
