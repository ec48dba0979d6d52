import { inventedDevice } from './device.mjs';
import { halfShell_m2K_per_W } from './housing.mjs';
import { air_W_per_m2K, emissivity } from './layers.mjs';
import { pieceOf, sharedEdge_mm } from './plan-grid.mjs';
import { area_m2, cutPlate, eachCell, metre, metre2 } from './plates.mjs';

/**
 * @typedef {import('./plates.mjs').Site} Site
 * @typedef {import('./plates.mjs').Plate} Plate
 * @typedef {{ plates: Plate[], thicknesses_mm: number[], cells: { lump: import('./plates.mjs').Lump, share: number }[][] }} PackLumps `share`: of the cell's volume
 */

/** What the pack is cut into across its thickness: thin where the heat comes in. */
const shares = [0.12, 0.28, 0.6];

/** Specific heat of a pouch cell, 0.8 to 1.3 J/gK. */
const store_J_per_gK = 1.03;

/** From the middle of one of the pack's plates to its face, m2K/W. @param {number} thickness_mm @param {Site['of']} of */
export const halfCell_m2K_per_W = (thickness_mm, of) => (metre * thickness_mm) / 2 / of.cellThrough_W_per_mK;

/**
 * The two cells one behind the other along the device, cut along, across and through, and seated on the back shell across what the bay has left.
 *
 * @param {Site} site
 * @param {Plate} back
 * @param {number} reserve_mm
 * @returns {PackLumps}
 */
export function addPack(site, back, reserve_mm) {
  const { assembly, of, mounting } = site;
  const { newPack, device } = inventedDevice;
  const { outline, thickness_mm } = newPack;
  const half_mm = (outline.length_mm - of.cellGap_mm) / 2;
  const outlines = [
    { ...outline, length_mm: half_mm },
    { ...outline, x_mm: outline.x_mm + half_mm + of.cellGap_mm, length_mm: half_mm },
  ];
  const volume_m3 = 2 * area_m2(pieceOf(outlines[0])) * metre * thickness_mm;
  const thicknesses_mm = shares.map((share) => share * thickness_mm);
  const byCell = outlines.map((each) =>
    thicknesses_mm.map((part_mm) =>
      cutPlate(site, each, {
        thickness_mm: part_mm,
        k_W_per_mK: of.cell_W_per_mK,
        store_J_per_m3K: (store_J_per_gK * newPack.mass_g) / volume_m3,
      }),
    ),
  );
  for (const [depth, part_mm] of thicknesses_mm.entries())
    joinCells(site, byCell[0][depth], byCell[1][depth], part_mm);

  const toShell = halfShell_m2K_per_W(device.backShell_mm, of);
  for (const [cell, plates] of byCell.entries()) {
    const seat = mounting.seat * (cell === 1 ? mounting.seatRatio : 1);
    const gap_W_per_m2K =
      seat * air_W_per_m2K(reserve_mm + of.backUneven_mm, emissivity.pouch, emissivity.shell, of);
    eachCell(site, (column, row) => {
      const through = plates.map((plate) => plate[column][row]);
      if (through[0] === null) return;
      const flat_m2 = area_m2(through[0].piece);
      const halves = thicknesses_mm.map((part_mm) => halfCell_m2K_per_W(part_mm, of));
      for (let depth = 1; depth < through.length; depth++) {
        assembly.join(through[depth - 1], through[depth], flat_m2 / (halves[depth - 1] + halves[depth]));
      }
      assembly.join(
        through.at(-1),
        back[column][row],
        flat_m2 / (halves.at(-1) + 1 / gap_W_per_m2K + toShell),
      );
    });
  }
  return {
    plates: thicknesses_mm.map((_, depth) =>
      site.columns.map((_, column) =>
        site.rows.map((_, row) => byCell[0][depth][column][row] ?? byCell[1][depth][column][row]),
      ),
    ),
    thicknesses_mm,
    cells: byCell.map((plates) =>
      plates.flatMap((plate, depth) =>
        plate
          .flat()
          .filter((lump) => lump !== null)
          .map((lump) => ({
            lump,
            share: (2 * area_m2(lump.piece) * metre * thicknesses_mm[depth]) / volume_m3,
          })),
      ),
    ),
  };
}

/** Across the gap between the cells, from middle to middle of the pieces on either side. */
function joinCells({ assembly, rows, of }, one, other, thickness_mm) {
  const last = one.findLast((line) => line.some(Boolean));
  const first = other.find((line) => line.some(Boolean));
  for (const row of rows.keys()) {
    const [from, to] = [last[row], first[row]];
    if (from === null || to === null) continue;
    const inCells_mm = (from.piece.x.to - from.piece.x.from + to.piece.x.to - to.piece.x.from) / 2;
    const path = (metre * inCells_mm) / of.cell_W_per_mK + (metre * of.cellGap_mm) / of.cellGap_W_per_mK;
    assembly.join(from, to, (metre2 * thickness_mm * sharedEdge_mm(from.piece.y, to.piece.y)) / path);
  }
}
