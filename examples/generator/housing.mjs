import { inventedDevice } from './device.mjs';
import { air_W_per_m2K, emissivity } from './layers.mjs';
import { middleOf, pieceOf } from './plan-grid.mjs';
import { area_m2, cutPlate, eachCell, metre } from './plates.mjs';

/**
 * @typedef {import('./plates.mjs').Site} Site
 * @typedef {import('./plates.mjs').Plate} Plate
 */

/** Heat capacities: handbook values for the materials, invented for what is fitted to board and front. */
const shell_J_per_m3K = 1.45e6;
const board_J_per_m3K = 2.2e6;
const zone_J_per_m3K = 2e6;
const onBoard_J_per_K = 14;
const onFront_J_per_K = 22;

/** From the middle of a shell to its face, m2K/W. @param {number} thickness_mm @param {Site['of']} of */
export const halfShell_m2K_per_W = (thickness_mm, of) => (metre * thickness_mm) / 2 / of.shell_W_per_mK;

/** From the middle of the board to its face, m2K/W. @param {Site['of']} of */
export const halfBoard_m2K_per_W = (of) =>
  (metre * inventedDevice.device.board.thickness_mm) / 2 / of.boardThrough_W_per_mK;

/** One shell, and its face's way to the room. @param {Site} site @param {'front' | 'back'} side @returns {Plate} */
export function addShell(site, side) {
  const { device } = inventedDevice;
  const { assembly, of, mounting } = site;
  const thickness_mm = side === 'front' ? device.frontShell_mm : device.backShell_mm;
  const whole = { x_mm: 0, y_mm: 0, length_mm: device.length_mm, width_mm: device.width_mm };
  const plate = cutPlate(site, whole, {
    thickness_mm,
    k_W_per_mK: of.shell_W_per_mK,
    store_J_per_m3K: shell_J_per_m3K + (side === 'front' ? fitted(onFront_J_per_K, whole, thickness_mm) : 0),
  });
  const film_W_per_m2K = (side === 'front' ? of.front_W_per_m2K : of.back_W_per_m2K) * mounting.air;
  const toRoom = halfShell_m2K_per_W(thickness_mm, of) + 1 / film_W_per_m2K;
  for (const lump of plate.flat()) assembly.join(lump, null, area_m2(lump.piece) / toRoom);
  return plate;
}

/** What is fitted to a plate, as if it were stored in the plate itself, J/m3K. */
function fitted(store_J_per_K, outline, thickness_mm) {
  return store_J_per_K / (area_m2(pieceOf(outline)) * metre * thickness_mm);
}

/** The board, its way to the front shell through keys and air, and past the pack to the back shell. @param {Site} site @param {Plate} front @param {Plate} back @returns {Plate} */
export function addBoard(site, front, back) {
  const { assembly, of } = site;
  const { device, newPack } = inventedDevice;
  const { board } = device;
  const plate = cutPlate(site, board, {
    thickness_mm: board.thickness_mm,
    k_W_per_mK: of.board_W_per_mK,
    store_J_per_m3K: board_J_per_m3K + fitted(onBoard_J_per_K, board, board.thickness_mm),
  });
  const frontGap_W_per_m2K =
    (of.frontSolid * of.keys_W_per_mK) / (metre * of.frontGap_mm) +
    (1 - of.frontSolid) * air_W_per_m2K(of.frontGap_mm, emissivity.board, emissivity.shell, of);
  const toFront =
    halfBoard_m2K_per_W(of) + 1 / frontGap_W_per_m2K + halfShell_m2K_per_W(device.frontShell_mm, of);
  const bay_W_per_m2K = air_W_per_m2K(device.bay_mm, emissivity.board, emissivity.shell, of);
  const toBack = halfBoard_m2K_per_W(of) + 1 / bay_W_per_m2K + halfShell_m2K_per_W(device.backShell_mm, of);
  eachCell(site, (column, row) => {
    const lump = plate[column][row];
    if (lump === null) return;
    const free_m2 = area_m2(lump.piece) - area_m2(lump.piece, pieceOf(newPack.outline));
    assembly.join(lump, front[column][row], area_m2(lump.piece) / toFront);
    assembly.join(lump, back[column][row], free_m2 / toBack);
  });
  return plate;
}

/** Each zone as one lump, bonded to the pieces of the board it covers. @param {Site} site @param {Plate} board */
export function addZones({ assembly, columns, of, mounting }, board) {
  return inventedDevice.zones.map((zone) => {
    const piece = pieceOf(zone);
    const column = columns.findIndex(({ to }) => middleOf(piece.x) < to);
    const lump = assembly.add(column, piece, area_m2(piece) * metre * zone.height_mm * zone_J_per_m3K);
    const bond = zone.id === 'processor' ? mounting.zoneBond : 1;
    for (const under of board.flat()) {
      if (under !== null)
        assembly.join(lump, under, (bond * area_m2(piece, under.piece)) / of.zoneBond_m2K_per_W);
    }
    return lump;
  });
}

/** Heat capacity of a piece of side wall that a shell's rim carries, J/K. */
export const wallStore_J_per_K = (height_m, length_m, thickness_m) =>
  height_m * length_m * thickness_m * shell_J_per_m3K;
