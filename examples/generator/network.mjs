import { Assembly } from './assemble.mjs';
import { inventedDevice } from './device.mjs';
import { addBoard, addShell, addZones } from './housing.mjs';
import { laySetup } from './lay-setup.mjs';
import { addPack } from './pack.mjs';
import { demoLines, pieceOf, spansBetween } from './plan-grid.mjs';
import { area_m2 } from './plates.mjs';
import { demoProperties } from './properties.mjs';
import { readFace, readLump } from './read-probe.mjs';
import { addSideWalls } from './side-wall.mjs';
import { factorStrip, solveStrip } from './solve.mjs';

/**
 * The invented device as some two hundred lumps that store heat, joined by conductances that follow from its drawing (`device.mjs`) and
 * its true properties (`properties.mjs`) by hand formulas: slabs in series and side by side, air as conduction and radiation, films
 * outside, fins at the sides. The room is one lump more. Everything the demo knows about its own truth comes from this network: the logs
 * by stepping it (`soak.mjs`), the true rises by solving it at rest. It shares no code with `core`.
 *
 * From the front to the back, as the section of the device is drawn: front shell, gap with keys, board, zones; the set-up, which the
 * tallest zone touches; the pack; the swelling reserve, whatever the bay has left; back shell. So a thicker set-up moves the pack
 * towards the back shell, and the reserve lies behind the pack, not before it.
 *
 * Only sums, products, quotients and square roots are used, so the numbers do not depend on a machine's mathematics library.
 *
 * @typedef {import('./layers.mjs').Layer} Layer
 * @typedef {{ seat: number, seatRatio: number, zoneBond: number, air: number }} Mounting factors on conductances: pack to back
 *   shell, the second cell's seat against the first's, processor to board, shell to room
 * @typedef {{ zone_W: number, board_W: number, cell1_W: number, cell2_W: number }} Heat the processor's, the other zones', each cell's
 */

/** The mounting that defines the true rise of a set-up. */
export const idealMounting = Object.freeze({ seat: 1, seatRatio: 1, zoneBond: 1, air: 1 });

/** @param {string} id @returns {readonly Layer[]} */
export function layersOf(id) {
  const setup = inventedDevice.setups.find((candidate) => candidate.id === id);
  if (setup === undefined) throw new RangeError(`There is no set-up called ${id}.`);
  return setup.layers;
}

/**
 * The network of one set-up as mounted: conductance matrix G of `C dT/dt = Q - G (T - room)`, capacities C, and where heat
 * comes in and probes sit.
 *
 * @param {readonly Layer[]} layers from the zones towards the pack
 * @param {Mounting} [mounting]
 * @param {import('./properties.mjs').Properties} [of]
 * @param {import('./plan-grid.mjs').Lines} [lines]
 */
export function makeNetwork(layers, mounting = idealMounting, of = demoProperties, lines = demoLines) {
  const { device, zones, newPack } = inventedDevice;
  const underPack = zones.filter((zone) => area_m2(pieceOf(zone), pieceOf(newPack.outline)) > 0);
  const zoneRoom_mm = Math.max(...underPack.map(({ height_mm }) => height_mm));
  const layers_mm = layers.reduce((sum, { thickness_mm }) => sum + thickness_mm, 0);
  const reserve_mm = device.bay_mm - zoneRoom_mm - layers_mm - newPack.thickness_mm;
  if (reserve_mm < -1e-9) throw new RangeError(`The set-up is ${-reserve_mm} mm too thick for the bay.`);

  const assembly = new Assembly();
  const site = { assembly, columns: spansBetween(lines.x_mm), rows: spansBetween(lines.y_mm), of, mounting };
  const front = addShell(site, 'front');
  const back = addShell(site, 'back');
  const board = addBoard(site, front, back);
  const zoneLumps = addZones(site, board);
  const pack = addPack(site, back, reserve_mm);
  const faces = laySetup(site, layers, { board, zones: zoneLumps, pack, zoneRoom_mm });
  addSideWalls(site, { front, back, board, pack });

  const matrices = assembly.assemble();
  const size = matrices.capacity.length;
  return {
    ...matrices,
    zoneNodes: zoneLumps.map((lump) => lump.node),
    cells: pack.cells.map((parts) => parts.map(({ lump, share }) => ({ node: lump.node, share }))),
    split: splitHeat(of),
    probes: {
      z1: readLump(zoneLumps[zones.findIndex(({ id }) => id === 'processor')], size),
      c1: readFace(placeOf('c1'), pack.plates[0], faces, size),
      c2: readFace(placeOf('c2'), pack.plates[0], faces, size),
    },
  };
}

/** Where a probe sits, in plan. @param {string} id */
function placeOf(id) {
  const probe = inventedDevice.probes.find((candidate) => candidate.id === id);
  return { x_mm: probe.x_mm, y_mm: probe.y_mm };
}

/**
 * Which part of the processor's planned heat, and of the other zones', arises in each zone. The sum is metered, so what the processor
 * does not make of its plan the others do.
 *
 * @param {import('./properties.mjs').Properties} of
 */
function splitHeat(of) {
  const rest = { converter: of.converterShare, preamplifier: 1 - of.converterShare };
  return inventedDevice.zones.map(({ id }) =>
    id === 'processor'
      ? { zone: of.processorFactor, board: 0 }
      : { zone: (1 - of.processorFactor) * rest[id], board: rest[id] },
  );
}

/**
 * Heat per lump, W. A cell's own heat arises evenly in it.
 *
 * @param {ReturnType<typeof makeNetwork>} network
 * @param {Heat} heat
 * @returns {Float64Array}
 */
export function heatOfNodes(network, heat) {
  const out = new Float64Array(network.capacity.length);
  for (const [at, part] of network.split.entries()) {
    out[network.zoneNodes[at]] += heat.zone_W * part.zone + heat.board_W * part.board;
  }
  for (const [cell, heat_W] of [heat.cell1_W, heat.cell2_W].entries()) {
    for (const { node, share } of network.cells[cell]) out[node] += heat_W * share;
  }
  return out;
}

/**
 * Rises above the room at the probes when nothing changes any more: G T = Q.
 *
 * @param {ReturnType<typeof makeNetwork>} network
 * @param {readonly Heat[]} heats
 * @returns {{ z1: number, c1: number, c2: number }[]} K, for each heat
 */
export function restingRises_K(network, heats) {
  const factor = factorStrip(network.conductance);
  return heats.map((heat) => {
    const rise_K = solveStrip(factor, heatOfNodes(network, heat));
    const read = (weights) => weights.reduce((sum, weight, node) => sum + weight * rise_K[node], 0);
    return { z1: read(network.probes.z1), c1: read(network.probes.c1), c2: read(network.probes.c2) };
  });
}
