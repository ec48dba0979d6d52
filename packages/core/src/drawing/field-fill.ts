import type { FieldFrame, FieldView } from './field-view.js';
import { makePath, roundPixel } from './make-shape.js';
import type { Shape } from './shape.js';
import { temperatureColour } from './temperature-scale.js';

/**
 * The field as areas of one colour each, for paper: neighbours of a row that have the same colour are one rectangle, so that a plane of
 * some thousand cells stays a few ten kilobytes.
 *
 * @param band_K temperatures closer than this have one colour
 */
export function fillField(view: FieldView, frame: FieldFrame, band_K: number): Shape[] {
  const { x_mm, y_mm, level_C, anchors } = view;
  const [columns, rows] = [x_mm.length - 1, y_mm.length - 1];
  const perX = frame.width / frame.length_mm;
  const perY = frame.height / frame.across_mm;
  const xAt = (index: number) => roundPixel(frame.left + (x_mm[index] as number) * perX);
  const yAt = (index: number) => {
    const down = (y_mm[index] as number) * perY;
    return roundPixel(frame.isDown ? frame.top + down : frame.top + frame.height - down);
  };
  const byBand = new Map<number, string[]>();
  for (let row = 0; row < rows; row++) {
    const [top, bottom] = [yAt(row), yAt(row + 1)].sort((one, other) => one - other) as [number, number];
    // A row thinner than a tenth of a pixel cannot be seen.
    if (bottom <= top) continue;
    let first = 0;
    const bandAt = (column: number) => Math.floor((level_C[column + columns * row] as number) / band_K);
    for (let column = 1; column <= columns; column++) {
      const band = bandAt(first);
      if (column < columns && bandAt(column) === band) continue;
      const pieces = byBand.get(band) ?? [];
      if (pieces.length === 0) byBand.set(band, pieces);
      const [left, right] = [xAt(first), xAt(column)];
      pieces.push(`M${left} ${top}H${right}V${bottom}H${left}Z`);
      first = column;
    }
  }
  return [...byBand]
    .sort(([one], [other]) => one - other)
    .map(([band, pieces]) =>
      makePath('', pieces.join(''), {
        fill: temperatureColour((band + 0.5) * band_K, anchors),
        'shape-rendering': 'crispEdges',
      }),
    );
}
