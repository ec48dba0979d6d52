import { area_mm2, overlapOf, pieceOf } from './plan-grid.mjs';

/**
 * What lies between board and pack, as resistances of one square metre, m2K/W: slabs in series, strips and air side by side, air as
 * conduction and radiation. No gap here is high enough to convect.
 *
 * @typedef {import('../../packages/core/src/records/build-record.ts').Layer} Layer
 * @typedef {import('./properties.mjs').Properties} Properties
 * @typedef {import('./plan-grid.mjs').Piece} Piece
 */

const metre_per_mm = 1e-3;

/** 4 x Stefan-Boltzmann x (313.15 K)^3: radiation between black faces near 40 °C, W/m2K. */
const radiation_W_per_m2K = 4 * 5.670374419e-8 * 313.15 * 313.15 * 313.15;

/** Total emissivities near room temperature, common practice. */
export const emissivity = /** @type {const} */ ({
  board: 0.9,
  pouch: 0.82,
  shell: 0.92,
  polyimide: 0.8,
  aluminium: 0.09,
  copper: 0.07,
  graphite: 0.85,
  foam: 0.9,
  tape: 0.9,
  paper: 0.9,
  air: 0.9,
  other: 0.9,
});

/** Layers along which heat spreads get lumps of their own; the rest only resist. */
const sheets = ['aluminium', 'copper', 'graphite'];
/** @param {Layer} layer */
export const isSheet = (layer) => sheets.includes(layer.material) && layer.strips === undefined;

/** Heat capacity of one cubic metre, J/m3K, handbook values. */
export const volumetric_J_per_m3K = {
  aluminium: 2.44e6,
  copper: 3.44e6,
  graphite: 1.0e6,
  polyimide: 1.55e6,
  tape: 1.65e6,
  paper: 1.3e6,
  foam: 0.08e6,
  air: 0.0011e6,
  other: 1.5e6,
};

/** Along the layer and across it, W/mK. @param {Layer['material']} material @param {Properties} of */
export function conductivity_W_per_mK(material, of) {
  if (material === 'graphite') return { along: of.graphite_W_per_mK, across: of.graphiteThrough_W_per_mK };
  if (material === 'other') throw new RangeError('Nothing is known of how the material "other" conducts.');
  const both = of[`${material}_W_per_mK`];
  return { along: both, across: both };
}

/**
 * Conductance of a gap of air, W/m2K.
 *
 * @param {number} gap_mm
 * @param {number} one emissivity of a face
 * @param {number} other of the other
 * @param {Properties} of
 */
export function air_W_per_m2K(gap_mm, one, other, of) {
  return of.air_W_per_mK / (metre_per_mm * gap_mm) + radiation_W_per_m2K / (1 / one + 1 / other - 1);
}

/** Share of a piece that a layer covers; a layer without an outline covers the whole pack. @param {Layer} layer @param {Piece} piece */
export function coverOf(layer, piece) {
  return layer.outline === undefined
    ? 1
    : area_mm2(overlapOf(pieceOf(layer.outline), piece)) / area_mm2(piece);
}

/** Share of the covered part of a piece on which strips stand; the outer strips are flush with the ends. */
function stripShare(layer, piece, pack) {
  const outline = layer.outline ?? pack;
  const { count, width_mm } = layer.strips;
  const pitch_mm = count === 1 ? 0 : (outline.length_mm - width_mm) / (count - 1);
  const first_mm = outline.x_mm + (count === 1 ? (outline.length_mm - width_mm) / 2 : 0);
  const covered = overlapOf(pieceOf(outline), piece);
  let stood_mm2 = 0;
  for (let strip = 0; strip < count; strip++) {
    const at = pieceOf({ ...outline, x_mm: first_mm + strip * pitch_mm, length_mm: width_mm });
    stood_mm2 += area_mm2(overlapOf(at, covered));
  }
  return stood_mm2 / area_mm2(covered);
}

/**
 * Resistance of one layer that is no sheet.
 *
 * @param {Layer} layer
 * @param {readonly [number, number]} faces emissivities of what the air between strips sees
 * @param {Piece} piece
 * @param {import('./plan-grid.mjs').Outline} pack
 * @param {Properties} of
 */
function layer_m2K_per_W(layer, faces, piece, pack, of) {
  const { across } = conductivity_W_per_mK(layer.material, of);
  const solid_W_per_m2K = across / (metre_per_mm * layer.thickness_mm);
  if (layer.material === 'air') return 1 / air_W_per_m2K(layer.thickness_mm, ...faces, of);
  if (layer.strips === undefined) return 1 / solid_W_per_m2K;
  const share = stripShare(layer, piece, pack);
  return 1 / (share * solid_W_per_m2K + (1 - share) * air_W_per_m2K(layer.thickness_mm, ...faces, of));
}

/**
 * A cell's set-up as bands, each with the same layers all over: where an outline ends within the cell, its layers cover the band that
 * the smaller ones leave. For each band, the resistances from sheet to sheet, and what is wanted for the air above.
 *
 * @param {readonly Layer[]} layers from the zones towards the pack
 * @param {Piece} piece of the pack
 * @param {import('./plan-grid.mjs').Outline} pack
 * @param {Properties} of
 * @returns {{ share: number, sheets: number[], sections_m2K_per_W: number[], absent_mm: number, emissivity: number }[]} `sections`
 *   holds one more than `sheets`: down to the first sheet, from sheet to sheet, and from the last one to the pack
 */
export function bandsOf(layers, piece, pack, of) {
  const covers = layers.map((layer) => coverOf(layer, piece));
  const steps = [...new Set([0, ...covers, 1])].sort((one, other) => one - other);
  return steps.slice(1).map((top, index) => {
    const present = layers.map((_, at) => at).filter((at) => covers[at] >= top);
    const sections = [0];
    const sheets = [];
    for (const [order, at] of present.entries()) {
      const layer = layers[at];
      if (isSheet(layer)) {
        const half =
          (metre_per_mm * layer.thickness_mm) / 2 / conductivity_W_per_mK(layer.material, of).across;
        sections[sections.length - 1] += half;
        sheets.push(at);
        sections.push(half);
        continue;
      }
      const above = layers[present[order - 1]]?.material ?? 'board';
      const below = layers[present[order + 1]]?.material ?? 'pouch';
      sections[sections.length - 1] += layer_m2K_per_W(
        layer,
        [emissivity[above], emissivity[below]],
        piece,
        pack,
        of,
      );
    }
    return {
      share: top - steps[index],
      sheets,
      sections_m2K_per_W: sections,
      absent_mm: layers.reduce((sum, layer, at) => sum + (present.includes(at) ? 0 : layer.thickness_mm), 0),
      emissivity: present.length === 0 ? emissivity.pouch : emissivity[layers[present[0]].material],
    };
  });
}
