/** Heat through a stack of full sheets, exactly: the yardstick for every other way of computing it. */
import { metreFromMillimetre, OutOfRangeError } from '../../measure/index.js';
import { addSeriesTerms, smoothCutoff } from './layered-series.kernel.js';
import {
  checkRectangle,
  describePattern,
  describeStack,
  type LayeredStack,
  nodeOf,
  type Rectangle,
  type StackPlane,
} from './layered-stack.js';

export type StackQuery =
  | ({ readonly kind: 'point'; readonly at_mm: readonly [number, number] } & StackPlane)
  /** Mean over a rectangle. */
  | ({ readonly kind: 'patch' } & StackPlane & Rectangle)
  /** Mean over a whole plane. */
  | ({ readonly kind: 'plane' } & StackPlane)
  /** Mean over the volume of a layer, counted from 0 at the top. */
  | { readonly kind: 'layer'; readonly layer: number };

export interface StackRise {
  /** Above ambient. */
  readonly rise_K: number;
  /** By how much the last doubling of the number of terms changed it, which is more than what is still missing. */
  readonly truncation_K: number;
}

export interface StackAnswer {
  /** One for each query, in their order. */
  readonly rises: readonly StackRise[];
  /** What leaves by the top and by the bottom. */
  readonly heatUp_W: number;
  readonly heatDown_W: number;
  /** Terms along each side. */
  readonly terms: number;
}

/** How far to sum. */
export interface SeriesEffort {
  /** The sum ends when a doubling of the terms changes no answer by more. */
  readonly tolerance_K: number;
  /** Or when there are so many along each side. */
  readonly mostTerms: number;
}

/** Planes a layer away from the source settle with some hundred terms. @assumed 1e-6 K is nothing to anybody */
const usualEffort: SeriesEffort = { tolerance_K: 1e-6, mostTerms: 1024 };
/** Terms of the first cut-off; each further one has twice as many. */
const firstTerms = 16;

/**
 * Rises in a stack of full, anisotropic sheets with rectangular sources in its planes, by the exact cosine series.
 *
 * Exact for the stack as described and for nothing else: sheets that cover a part, side walls, and films that differ over a face or
 * depend on temperature are outside it. Where a source lies off the centre, the hottest point is not its middle.
 *
 * @param stack lengths above 0 mm, conductivities above 0, films at least 0 and one of them above
 * @param queries what to tell
 * @param effort where to stop
 * @throws OutOfRangeError for a length, conductivity, film, plane or place that the stack does not have
 * @source derived here: separation of variables; each term is a chain of layers of admittance kz g, g² = (kx l² + ky d²)/kz. It contains the
 *   published solutions for rectangles on one and two layers, [MUZYCHKA-03] and [GHOLAMI-14]
 */
export function solveLayeredStack(
  stack: LayeredStack,
  queries: readonly StackQuery[],
  effort: Partial<SeriesEffort> = {},
): StackAnswer {
  const { tolerance_K, mostTerms } = { ...usualEffort, ...effort };
  const inner = describeStack(stack);
  const last = stack.layers.length;
  // Both outer faces come along, because the heat that leaves by them says whether the sum is right.
  const wanted = [
    ...queries.flatMap((query) => placesOf(query, stack)),
    wholePlane({ plane: 0 }, stack),
    wholePlane({ plane: last }, stack),
  ].map((place) => ({ node: nodeOf(inner, place), place }));
  const heated = stack.sources.map((source) => ({ node: nodeOf(inner, source), source }));
  const levels = Array.from(
    { length: Math.max(1, Math.floor(Math.log2(mostTerms / firstTerms)) + 1) },
    (_, level) => firstTerms * 2 ** level,
  );
  const longest = levels.at(-1) as number;
  const patterns = wanted.map(({ node, place }) => describePattern(stack, node, place, longest));
  const sources = heated.map(({ node, source }) => ({
    ...describePattern(stack, node, source, longest),
    P: source.power_W,
  }));
  const cutoffs = levels.map(smoothCutoff);
  const sums = new Float64Array(levels.length * wanted.length);
  let limit = extrapolate(sums, 0, wanted.length);
  let steps = limit;
  let terms = 0;
  for (const [level, last] of levels.entries()) {
    const open = sums.subarray(level * wanted.length);
    addSeriesTerms(inner, sources, patterns, cutoffs.slice(level), level === 0 ? 0 : terms + 1, last, open);
    const next = extrapolate(sums, level, wanted.length);
    steps = next.map((value, i) => Math.abs(value - (limit[i] as number)));
    limit = next;
    terms = last;
    if (level > 1 && steps.every((step) => step <= tolerance_K)) break;
  }
  const area_m2 = metreFromMillimetre(stack.width_mm) * metreFromMillimetre(stack.height_mm);
  return {
    rises: gather(queries, stack, limit, steps),
    heatUp_W: stack.topFilm_W_per_m2K * area_m2 * (limit.at(-2) as number),
    heatDown_W: stack.bottomFilm_W_per_m2K * area_m2 * (limit.at(-1) as number),
    terms,
  };
}

/**
 * What the sums with one cut-off after another tend to. Behind a smooth cut-off the missing part falls off as whole powers of the number of
 * terms, beginning with the second; three of them are taken off, where there are sums enough.
 *
 * @param sums those of each cut-off in turn
 * @param level of the last cut-off that is complete
 * @source [PRESS-07] chapter 4.3, Richardson's extrapolation, from memory
 */
function extrapolate(sums: Float64Array, level: number, queries: number): Float64Array {
  let rows = Array.from({ length: Math.min(level, 3) + 1 }, (_, back) =>
    sums.slice((level - back) * queries, (level - back + 1) * queries),
  );
  for (let power = 2; rows.length > 1; power++) {
    const factor = 2 ** power - 1;
    rows = rows.slice(1).map((coarse, i) => {
      const fine = rows[i] as Float64Array;
      return fine.map((value, k) => value + (value - (coarse[k] as number)) / factor);
    });
  }
  return rows[0] as Float64Array;
}

/** A mean over a rectangle of a plane; a point is a rectangle of no size. */
type Place = StackPlane & Rectangle;

function wholePlane({ plane, side }: StackPlane, { width_mm, height_mm }: LayeredStack): Place {
  return { plane, side, centre_mm: [width_mm / 2, height_mm / 2], size_mm: [width_mm, height_mm] };
}

/** The places whose mean answers a query: one, or for a layer its two faces, between which its mean temperature runs straight. */
function placesOf(query: StackQuery, stack: LayeredStack): readonly Place[] {
  switch (query.kind) {
    case 'point': {
      const place = {
        plane: query.plane,
        side: query.side,
        centre_mm: query.at_mm,
        size_mm: [0, 0] as const,
      };
      checkRectangle(stack, place);
      return [place];
    }
    case 'patch':
      checkRectangle(stack, query);
      return [query];
    case 'plane':
      return [wholePlane(query, stack)];
    case 'layer': {
      const last = stack.layers.length - 1;
      if (!(Number.isInteger(query.layer) && query.layer >= 0 && query.layer <= last)) {
        throw new OutOfRangeError('layer', query.layer, [0, last], 'Layers are counted from 0 at the top.');
      }
      return [
        wholePlane({ plane: query.layer, side: 'below' }, stack),
        wholePlane({ plane: query.layer + 1, side: 'above' }, stack),
      ];
    }
  }
}

function gather(
  queries: readonly StackQuery[],
  stack: LayeredStack,
  sums: Float64Array,
  steps: Float64Array,
): readonly StackRise[] {
  let at = 0;
  return queries.map((query) => {
    const end = at + placesOf(query, stack).length;
    const middle = (values: Float64Array) =>
      values.subarray(at, end).reduce((sum, value) => sum + value, 0) / (end - at);
    const rise = { rise_K: middle(sums), truncation_K: middle(steps) };
    at = end;
    return rise;
  });
}
