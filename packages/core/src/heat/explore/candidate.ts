import { findMaterial, materialOfLayer } from '../../materials/index.js';
import type { Build, Layer, Outline, Setup } from '../../records/index.js';
import { hashText } from './hash-text.js';
import type { Stock } from './stock.js';
import type { Family } from './wish.js';

/** A set-up that is thought of, with what can be said of it before any heat is computed. */
export interface Candidate {
  readonly setup: Setup;
  readonly family: Family;
  readonly thickness_mm: number;
  readonly mass_g: number;
  /** In the money of the stock's prices; null where the price of some layer is not known. */
  readonly price: number | null;
}

/** A candidate from its layers, named by what it is made of. */
export function makeCandidate(
  family: Family,
  layers: readonly Layer[],
  outline: Outline,
  stock: readonly Stock[],
): Candidate {
  const words = nameOf(layers, outline);
  const setup: Setup = {
    id: `try-${hashText(JSON.stringify(layers))}`,
    name: words.slice(0, 120),
    layers: [...layers],
  };
  return { setup, family, ...measureLayers(layers, outline, stock) };
}

/**
 * Thickness, mass and price of layers, from their outlines and the table's densities. Offcuts are not counted.
 *
 * @param outline of the pack: what a layer without an outline of its own covers
 * @source derived: area times thickness times density
 */
export function measureLayers(
  layers: readonly Layer[],
  outline: Outline,
  stock: readonly Stock[],
): Pick<Candidate, 'thickness_mm' | 'mass_g' | 'price'> {
  let mass_g = 0;
  let price: number | null = 0;
  for (const layer of layers) {
    if (layer.material === 'air') continue;
    const looked = materialOfLayer(layer);
    const { length_mm, width_mm } = layer.outline ?? outline;
    const along_mm = layer.strips === undefined ? length_mm : layer.strips.count * layer.strips.width_mm;
    const area_m2 = along_mm * width_mm * 1e-6;
    const density = looked.ok ? looked.value.density_kg_per_m3.value : Number.NaN;
    // A square metre a millimetre thick is a litre: kilograms per cubic metre are grams per litre.
    mass_g += area_m2 * layer.thickness_mm * density;
    const each = looked.ok
      ? stock.find(({ material }) => material === looked.value.id)?.price_per_m2
      : undefined;
    price = price === null || each === undefined ? null : price + area_m2 * each;
  }
  return {
    thickness_mm: round(layers.reduce((sum, { thickness_mm }) => sum + thickness_mm, 0)),
    mass_g,
    price,
  };
}

/** Sums of hundredths in binary end in dust. */
function round(length_mm: number): number {
  return Math.round(length_mm * 1e6) / 1e6;
}

function nameOf(layers: readonly Layer[], outline: Outline): string {
  const shown = layers.filter(({ material }) => material !== 'tape' && material !== 'polyimide');
  const main = shown.length > 0 ? shown : layers.filter(({ material }) => material !== 'tape');
  if (main.length === 0) return 'bare';
  const words = main.map((layer) => {
    const name = layer.name;
    return layer.strips === undefined
      ? `${layer.thickness_mm} mm ${name}`
      : `${layer.strips.count} strips of ${layer.thickness_mm} mm ${name}, ${layer.strips.width_mm} mm wide`;
  });
  const inset = main.find(({ outline: own }) => own !== undefined)?.outline;
  const inset_mm = inset === undefined ? 0 : round((outline.width_mm - inset.width_mm) / 2);
  const film = shown.length > 0 && layers.find(({ material }) => material === 'polyimide');
  const tape = layers.find(({ material }) => material === 'tape');
  return [
    words.join(' on '),
    ...(inset_mm > 0 ? [`${inset_mm} mm in`] : []),
    ...(film ? [`film ${film.thickness_mm}`] : []),
    ...(tape ? [`tape ${tape.thickness_mm}`] : []),
  ].join(', ');
}

/** A layer of a stock, over an outline. */
export function layerOf(
  material: string,
  thickness_mm: number,
  more: Pick<Layer, 'outline' | 'strips'> = {},
): Layer {
  const row = findMaterial(material);
  if (row === undefined) throw new RangeError(`There is no material ${material}.`);
  const usual = materialOfLayer({ material: row.layer });
  const isUsual = usual.ok && usual.value.id === row.id;
  return {
    material: row.layer,
    ...(isUsual ? {} : { grade: row.id }),
    name: shortName(row.id),
    thickness_mm,
    ...more,
  };
}

function shortName(id: string): string {
  return id === 'acrylic-tape' ? 'tape' : id.replaceAll('-', ' ');
}

/** The pack's outline with sheets kept back from its edge. */
export function insetOf({ x_mm, y_mm, length_mm, width_mm }: Outline, inset_mm: number): Outline {
  return {
    x_mm: round(x_mm + inset_mm),
    y_mm: round(y_mm + inset_mm),
    length_mm: round(length_mm - 2 * inset_mm),
    width_mm: round(width_mm - 2 * inset_mm),
  };
}

/** The outline of the new pack. @throws RangeError for a build whose records were not checked */
export function packOutline(build: Pick<Build, 'newPack'>): Outline {
  const outline = build.newPack?.outline;
  if (outline === undefined) throw new RangeError('The outline of the new pack is not entered.');
  return outline;
}
