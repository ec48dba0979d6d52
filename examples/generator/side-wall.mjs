import { inventedDevice } from './device.mjs';
import { wallStore_J_per_K } from './housing.mjs';
import { air_W_per_m2K, emissivity } from './layers.mjs';
import { middleOf } from './plan-grid.mjs';
import { metre } from './plates.mjs';

/** @typedef {import('./plates.mjs').Plate} Plate */

/**
 * The four side walls: each piece of a shell's rim has a fin half as high as the wall, warmed from within by the board on its front
 * half and by the pack on its back half, whichever piece of them stands next to it.
 *
 * @param {import('./plates.mjs').Site} site
 * @param {{ front: Plate, back: Plate, board: Plate, pack: import('./pack.mjs').PackLumps }} parts
 */
export function addSideWalls({ assembly, of, mounting }, { front, back, board, pack }) {
  const { device } = inventedDevice;
  const film = of.side_W_per_m2K * mounting.air;
  const height_mm = (device.frontGap_mm + device.board.thickness_mm + device.bay_mm) / 2;
  const pack_mm = pack.thicknesses_mm.reduce((sum, part_mm) => sum + part_mm, 0);
  const packPart = Math.min(1, pack_mm / height_mm) / pack_mm;
  const halves = [
    {
      shell: front,
      thickness_mm: device.frontShell_mm,
      inside: [{ plate: board, part: device.board.thickness_mm / height_mm }],
    },
    {
      shell: back,
      thickness_mm: device.backShell_mm,
      inside: pack.plates.map((plate, depth) => ({ plate, part: packPart * pack.thicknesses_mm[depth] })),
    },
  ];
  for (const { shell, thickness_mm, inside } of halves) {
    for (const { lump, axis, end, edge, inward } of rimOf(shell)) {
      const length_m = metre * (edge.to - edge.from);
      const outer_mm = lump.piece[axis][end];
      const near = inside
        .map(({ plate, part }) => ({ lump: inward(plate), part }))
        .filter((each) => each.lump !== undefined);
      const gap_mm =
        near.length === 0 ? 1 : Math.abs(near[0].lump.piece[axis][end] - outer_mm) - thickness_mm;
      const share = near.reduce((sum, { part }) => sum + part, 0);
      const wall = sideWall_W_per_K({
        height_m: metre * height_mm,
        length_m,
        thickness_m: metre * thickness_mm,
        k_W_per_mK: of.shell_W_per_mK,
        film_W_per_m2K: film,
        inside_W_per_m2K: share * air_W_per_m2K(gap_mm, emissivity.pouch, emissivity.shell, of),
      });
      // The wall's foot is the shell's edge, half a piece away from the lump's middle.
      const toEdge =
        (of.shell_W_per_mK * thickness_mm * length_m) / Math.abs(middleOf(lump.piece[axis]) - outer_mm);
      assembly.joinStar(
        [[lump, toEdge], ...near.map((each) => [each.lump, (wall.footInside * each.part) / share])],
        wall.footRoom + metre * thickness_mm * length_m * film,
      );
      lump.capacity_J_per_K += wallStore_J_per_K(metre * height_mm, length_m, metre * thickness_mm);
      for (const each of near) assembly.join(each.lump, null, (wall.insideRoom * each.part) / share);
    }
  }
}

/** The pieces of a shell at its rim, each with the edge it has there and the way to what stands behind it in another plate. @param {Plate} shell */
function rimOf(shell) {
  const lineAlong = (row) => (plate) => plate.map((line) => line[row]);
  const out = [];
  for (const row of shell[0].keys()) {
    const along = lineAlong(row);
    const edge = shell[0][row].piece.y;
    out.push({
      lump: shell[0][row],
      axis: 'x',
      end: 'from',
      edge,
      inward: (plate) => along(plate).find(Boolean),
    });
    out.push({
      lump: shell.at(-1)[row],
      axis: 'x',
      end: 'to',
      edge,
      inward: (plate) => along(plate).findLast(Boolean),
    });
  }
  for (const [column, line] of shell.entries()) {
    const edge = line[0].piece.x;
    out.push({ lump: line[0], axis: 'y', end: 'from', edge, inward: (plate) => plate[column].find(Boolean) });
    out.push({
      lump: line.at(-1),
      axis: 'y',
      end: 'to',
      edge,
      inward: (plate) => plate[column].findLast(Boolean),
    });
  }
  return out;
}

/**
 * A side wall between one shell and its own middle height: a fin that the shell heats at its foot and what stands inside heats through
 * the air, and that gives its heat to the room. With a = film + inside, m = sqrt(a / (k t)) and n = tanh(m L) / (m L), the exact
 * solution of `k t T'' = film (T - room) + inside (T - T_inside)`, flat at the middle, acts as three conductances.
 *
 * @param {object} wall
 * @param {number} wall.height_m from the shell to the middle
 * @param {number} wall.length_m along the device
 * @param {number} wall.thickness_m
 * @param {number} wall.k_W_per_mK
 * @param {number} wall.film_W_per_m2K
 * @param {number} wall.inside_W_per_m2K
 * @returns {{ footRoom: number, footInside: number, insideRoom: number }} W/K
 */
export function sideWall_W_per_K({
  height_m,
  length_m,
  thickness_m,
  k_W_per_mK,
  film_W_per_m2K,
  inside_W_per_m2K,
}) {
  const both = film_W_per_m2K + inside_W_per_m2K;
  const reach = height_m * Math.sqrt(both / (k_W_per_mK * thickness_m));
  const share = tanh(reach) / reach;
  const area_m2 = height_m * length_m;
  return {
    footRoom: area_m2 * film_W_per_m2K * share,
    footInside: area_m2 * inside_W_per_m2K * share,
    insideRoom: (area_m2 * film_W_per_m2K * inside_W_per_m2K * (1 - share)) / both,
  };
}

/** Lambert's continued fraction, x / (1 + x2 / (3 + x2 / (5 + ...))): quotients only, the same on every machine. @param {number} x */
function tanh(x) {
  let tail = 41;
  for (let odd = 39; odd >= 1; odd -= 2) tail = odd + (x * x) / tail;
  return x / tail;
}
