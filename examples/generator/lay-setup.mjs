import { inventedDevice } from './device.mjs';
import { halfBoard_m2K_per_W } from './housing.mjs';
import {
  air_W_per_m2K,
  bandsOf,
  conductivity_W_per_mK,
  coverOf,
  emissivity,
  isSheet,
  volumetric_J_per_m3K,
} from './layers.mjs';
import { halfCell_m2K_per_W } from './pack.mjs';
import { pieceOf } from './plan-grid.mjs';
import { area_m2, cutPlate, eachCell, metre } from './plates.mjs';

/**
 * The set-up between board and pack: its sheets as lumps, everything else as resistances down to the pack's face.
 *
 * @typedef {import('./plates.mjs').Lump} Lump
 * @typedef {(readonly [Lump, number])[]} Face the conductances that meet at one piece of the pack's face, W/K
 *
 * @param {import('./plates.mjs').Site} site
 * @param {readonly import('./layers.mjs').Layer[]} layers
 * @param {{ board: import('./plates.mjs').Plate, zones: Lump[], pack: import('./pack.mjs').PackLumps, zoneRoom_mm: number }} parts
 * @returns {Face[][]} by column and row
 */
export function laySetup(site, layers, { board, zones, pack, zoneRoom_mm }) {
  const { assembly, of } = site;
  const outline = inventedDevice.newPack.outline;
  const sheets = layers.map((layer) =>
    isSheet(layer)
      ? cutPlate(site, layer.outline ?? outline, {
          thickness_mm: layer.thickness_mm,
          k_W_per_mK: conductivity_W_per_mK(layer.material, of).along,
          store_J_per_m3K: volumetric_J_per_m3K[layer.material],
        })
      : null,
  );
  /** @type {Face[][]} */
  const faces = site.columns.map(() => site.rows.map(() => []));
  eachCell(site, (column, row) => {
    const top = pack.plates[0][column][row];
    const under = board[column][row];
    if (top === null || under === null) return;
    const flat_m2 = area_m2(top.piece);
    const face = faces[column][row];
    face.push([top, flat_m2 / halfCell_m2K_per_W(pack.thicknesses_mm[0], of)]);
    top.capacity_J_per_K += layers
      .filter((layer) => !isSheet(layer))
      .reduce(
        (sum, layer) =>
          sum +
          flat_m2 *
            coverOf(layer, top.piece) *
            metre *
            layer.thickness_mm *
            volumetric_J_per_m3K[layer.material],
        0,
      );

    const uppers = findUppers(top, under, zones, of);
    for (const band of bandsOf(layers, top.piece, outline, of)) {
      const stops = band.sheets.map((at) => sheets[at][column][row]);
      const meet = (one, stop, bond_W_per_K) => {
        if (stop !== undefined) assembly.join(one, stop, bond_W_per_K);
        else face.push([one, bond_W_per_K]);
      };
      for (const upper of uppers) {
        const air_mm = Math.max(of.touch_mm, zoneRoom_mm - upper.height_mm + band.absent_mm);
        const air_W = air_W_per_m2K(air_mm, emissivity.board, band.emissivity, of);
        const path = upper.inside_m2K_per_W + 1 / air_W + band.sections_m2K_per_W[0];
        meet(upper.lump, stops[0], (band.share * upper.flat_m2) / path);
      }
      for (const [at, stop] of stops.entries()) {
        meet(stop, stops[at + 1], (band.share * flat_m2) / band.sections_m2K_per_W[at + 1]);
      }
    }
    assembly.joinStar(face);
  });
  return faces;
}

/** What looks at a piece of the pack from above: the zones over it, and the board where there is none. */
function findUppers(top, under, zones, of) {
  const over = inventedDevice.zones
    .map((zone, at) => ({
      lump: zones[at],
      flat_m2: area_m2(pieceOf(zone), top.piece),
      height_mm: zone.height_mm,
      inside_m2K_per_W: 0,
    }))
    .filter(({ flat_m2 }) => flat_m2 > 0);
  const rest_m2 = over.reduce((sum, { flat_m2 }) => sum - flat_m2, area_m2(top.piece, under.piece));
  const inside_m2K_per_W = halfBoard_m2K_per_W(of);
  return [
    ...over,
    ...(rest_m2 > 1e-12 ? [{ lump: under, flat_m2: rest_m2, height_mm: 0, inside_m2K_per_W }] : []),
  ];
}
