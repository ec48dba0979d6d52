/** Where a figure was seen. Nobody should lean on "assumed" as on "read". */
export type SourceStatus = 'read' | 'second hand' | 'from memory' | 'assumed';

/** A property of a material: a figure to use, the range that published figures cover, and how far to trust it. */
export interface Property {
  readonly value: number;
  /** Standard deviation of the property's natural logarithm about that of `value`: 0.1 means some 10 %. */
  readonly spread: number;
  /** What published figures cover, lowest and highest. */
  readonly range: readonly [number, number];
  /** A key of docs/sources.md in brackets, or one of the plain markers. */
  readonly source: string;
  readonly status: SourceStatus;
}

/**
 * Spread of a property of which only a published range is known.
 *
 * Published ranges mix alloys, grades and ways of measuring; nobody says how often each occurs. So the logarithm counts as equally likely
 * anywhere in the range, and the figure in use, where it is not in the middle, pays for its distance from it.
 *
 * @param value the figure in use, above 0
 * @param range lowest and highest published figure, both above 0
 * @returns root mean square of ln(x / value), x spread evenly in its logarithm over the range
 * @source [JCGM-100] 4.3.7, limits without further knowledge, here of the logarithm: width / sqrt 12
 */
export function spreadOfRange(value: number, [low, high]: readonly [number, number]): number {
  const width = Math.log(high / low);
  const offCentre = Math.log(value / Math.sqrt(low * high));
  return Math.sqrt((width * width) / 12 + offCentre * offCentre);
}

/** A row's figure with its published range; the spread follows from both. */
export function property(
  value: number,
  range: readonly [number, number],
  source: string,
  status: SourceStatus,
): Property {
  return { value, spread: spreadOfRange(value, range), range, source, status };
}

/** A figure so far outside what is published is more often a slip of the unit than a find. @assumed common practice, no source */
const confirmBeyond = 3;

/** How a figure that a person gives compares with what is published. */
export interface RangeCheck {
  readonly inside: boolean;
  /** How many times it lies above the highest published figure, or below the lowest; 1 inside. */
  readonly factor: number;
  readonly side: 'below' | 'inside' | 'above';
  /** More than three times outside: to be used only after somebody has confirmed the figure and its unit. */
  readonly needsConfirmation: boolean;
}

/**
 * Whether a person's figure lies where published ones do, and if not, how far out.
 *
 * Inside is no proof: the ranges are wide enough to hold another material's figure.
 *
 * @param value any number; nothing that is not above 0 can be a property of matter, and its factor is infinite
 */
export function checkAgainstRange(
  { range: [low, high] }: Pick<Property, 'range'>,
  value: number,
): RangeCheck {
  if (!(value > 0)) {
    return { inside: false, factor: Number.POSITIVE_INFINITY, side: 'below', needsConfirmation: true };
  }
  const factor = Math.max(1, value / high, low / value);
  const side = value > high ? 'above' : value < low ? 'below' : 'inside';
  return { inside: side === 'inside', factor, side, needsConfirmation: factor > confirmBeyond };
}
