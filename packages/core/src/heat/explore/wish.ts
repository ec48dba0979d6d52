import { findMaterial } from '../../materials/index.js';
import { BadInputError, type Fault, formatNumber } from '../../measure/index.js';
import type { Build } from '../../records/index.js';
import type { Use } from '../calibrate/predict.js';
import { checkGeometry } from '../device/check-geometry.js';
import { roleOf, type Stock, stockMaterials, usualStock } from './stock.js';

/** Kinds of set-ups that are thought of, in words of the bench. */
export const families = ['bare', 'film', 'foam', 'graphite', 'plate', 'plate-graphite', 'strips'] as const;
export type Family = (typeof families)[number];

/** What a person looks for, and what there is to make it of. */
export interface ExploreWish {
  /** Most that the layers may add up to, mm; null takes what the bay leaves with `reserve_mm` kept free. */
  readonly budget_mm: number | null;
  /** Kept free for the pack to swell into, mm; null takes the usual share of its thickness. */
  readonly reserve_mm: number | null;
  readonly stock: readonly Stock[];
  readonly families: readonly Family[];
  /** How far sheets stay back from the edge of the pack, mm; null takes the usual ones that leave a sheet. */
  readonly insets_mm: readonly number[] | null;
  /** Every count with every width; null takes the usual ones that do not overlap. */
  readonly strips: { readonly counts: readonly number[]; readonly widths_mm: readonly number[] } | null;
  /** Most that all layers may weigh, g. */
  readonly mostMass_g: number | null;
  /** Most that all layers may cost, in the money of the stock's prices. */
  readonly mostPrice: number | null;
  readonly use: Use;
  /** Most set-ups that are computed. */
  readonly most: number;
  /** How many of them are predicted with intervals. */
  readonly finalists: number;
}

/**
 * Share of a pouch's thickness that is kept free for swelling.
 *
 * @assumed common practice, no source: makers ask for 5 to 10 % over a pouch's life; the maker's sheet comes first
 */
export const usualReserve = 0.05;

/** @assumed common practice, no source: a bare metal edge stays clear of the pack's own edge and of its tabs */
const usualInsets_mm = [2, 4, 8];
/** @assumed common practice, no source */
const usualStrips = { counts: [3, 5, 8], widths_mm: [3, 6] };

export const usualWish: ExploreWish = {
  budget_mm: null,
  reserve_mm: null,
  stock: usualStock,
  families,
  insets_mm: null,
  strips: null,
  mostMass_g: null,
  mostPrice: null,
  use: { charging: false, load_W: null },
  most: 400,
  finalists: 6,
};

/** What the device leaves for layers. */
export interface Room {
  /** Between zones, pack and back shell when there is nothing else, mm. */
  readonly free_mm: number;
  readonly reserve_mm: number;
  readonly budget_mm: number;
  /** The pack's thickness, which the reserve is a share of. */
  readonly pack_mm: number;
  readonly insets_mm: readonly number[];
  readonly strips: readonly { readonly count: number; readonly width_mm: number }[];
}

/** The greatest sweep: more is hours of work, and nobody reads it. */
const mostCandidates = 20_000;

/**
 * The room there is for a wish.
 *
 * @throws BadInputError naming every part of the wish that cannot be, before anything is computed
 */
export function checkWish(build: Build, wish: ExploreWish): Room {
  const { room_mm, thickness_mm, outline } = checkGeometry(build, { id: 'bare', name: 'bare', layers: [] });
  const faults: Fault[] = [];
  const fault = (where: string, what: string, remedy: string) => faults.push({ where, what, remedy });
  const isLength = (value: number) => Number.isFinite(value) && value > 0;
  if (wish.reserve_mm !== null && !(wish.reserve_mm >= 0 && wish.reserve_mm < room_mm))
    fault(
      'reserve_mm',
      `${wish.reserve_mm} mm cannot be kept free in a bay that has ${formatNumber(room_mm, 2)} mm beside the pack.`,
      'Give it from 0 to less than that.',
    );
  const reserve_mm = wish.reserve_mm ?? usualReserve * thickness_mm;
  const budget_mm = wish.budget_mm ?? room_mm - reserve_mm;
  if (wish.budget_mm !== null && !isLength(wish.budget_mm))
    fault('budget_mm', `${wish.budget_mm} mm is no room for layers.`, 'Give it in millimetres, above 0.');
  else if (wish.budget_mm !== null && wish.budget_mm > room_mm + 1e-9)
    fault(
      'budget_mm',
      `${wish.budget_mm} mm is more than the ${formatNumber(room_mm, 2)} mm that the bay leaves beside the pack.`,
      'Give less, or measure the bay again.',
    );
  else if (!(budget_mm > 0))
    fault(
      'budget_mm',
      `The bay leaves ${formatNumber(room_mm, 2)} mm beside the pack, and ${formatNumber(reserve_mm, 2)} mm of it are kept for swelling.`,
      'There is no room for a set-up. See the maker’s sheet for the swelling, and state the reserve.',
    );
  wish.stock.forEach((stock, index) => {
    const where = `stock[${index}] ${stock.material}`;
    if (findMaterial(stock.material) === undefined || roleOf(stock.material) === undefined)
      fault(where, 'There is no such material for layers.', `Use one of: ${stockMaterials.join(', ')}.`);
    const wrong = stock.thicknesses_mm.find((thickness_mm) => !isLength(thickness_mm));
    if (wrong !== undefined)
      fault(where, `A sheet of ${wrong} mm is none.`, 'Give thicknesses in millimetres, above 0.');
    if (stock.thicknesses_mm.length === 0)
      fault(where, 'It has no thickness.', 'Say which sheets there are, as in 0.3 and 0.5 mm.');
    if (stock.price_per_m2 !== undefined && !(stock.price_per_m2 >= 0))
      fault(where, `${stock.price_per_m2} is no price.`, 'Give it for a square metre, 0 or more.');
  });
  const leavesSheet = (inset_mm: number) =>
    inset_mm >= 0 && 2 * inset_mm < Math.min(outline.length_mm, outline.width_mm);
  const insets_mm = wish.insets_mm ?? usualInsets_mm.filter(leavesSheet);
  for (const inset_mm of insets_mm) {
    if (!leavesSheet(inset_mm))
      fault(
        'insets_mm',
        `A sheet ${inset_mm} mm in from every edge of the pack is none.`,
        'Give less than half of the pack’s width, 0 or more.',
      );
  }
  const along_mm = outline.length_mm - 2 * Math.min(...insets_mm, outline.length_mm / 2);
  const { counts, widths_mm } = wish.strips ?? usualStrips;
  const strips = counts
    .flatMap((count) => widths_mm.map((width_mm) => ({ count, width_mm })))
    .filter(({ count, width_mm }) => wish.strips !== null || count * width_mm <= along_mm);
  for (const { count, width_mm } of strips) {
    if (!(Number.isInteger(count) && count >= 1 && count <= 40 && isLength(width_mm)))
      fault(
        'strips',
        `${count} strips of ${width_mm} mm are none.`,
        'Give 1 to 40 strips with a width above 0.',
      );
    else if (count * width_mm > along_mm)
      fault(
        'strips',
        `${count} strips of ${width_mm} mm overlap on ${formatNumber(along_mm)} mm.`,
        'Choose fewer or narrower strips.',
      );
  }
  const unknown = wish.families.find((family) => !families.includes(family));
  if (unknown !== undefined)
    fault(
      'families',
      `There is no kind of set-up called ${unknown}.`,
      `Use some of: ${families.join(', ')}.`,
    );
  for (const [where, most] of [
    ['mostMass_g', wish.mostMass_g],
    ['mostPrice', wish.mostPrice],
  ] as const)
    if (most !== null && !(most >= 0)) fault(where, `${most} is no limit.`, 'Give 0 or more.');
  if (!(Number.isInteger(wish.most) && wish.most >= 1 && wish.most <= mostCandidates))
    fault('most', `${wish.most} set-ups cannot be computed.`, `Give a whole number up to ${mostCandidates}.`);
  if (!(Number.isInteger(wish.finalists) && wish.finalists >= 1 && wish.finalists <= 40))
    fault('finalists', `${wish.finalists} is no number of finalists.`, 'Give a whole number from 1 to 40.');
  if (wish.use.load_W !== null && !(wish.use.load_W >= 0 && wish.use.load_W <= 1000))
    fault('use.load_W', `${wish.use.load_W} W is no load.`, 'Give it in watts, 0 or more.');
  if (faults.length > 0) throw new BadInputError(faults);
  return { free_mm: room_mm, reserve_mm, budget_mm, pack_mm: thickness_mm, insets_mm, strips };
}
