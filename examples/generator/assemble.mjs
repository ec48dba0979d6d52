import { makeStrip } from './solve.mjs';

/**
 * Lumps and the conductances between them, before they are numbered.
 *
 * @typedef {object} Lump
 * @property {number} order lumps with neighbouring orders get neighbouring numbers, which keeps the matrix narrow
 * @property {number} capacity_J_per_K
 * @property {number} room_W_per_K straight to the room
 * @property {number} node its number; -1 until assembled
 * @property {import('./plan-grid.mjs').Piece} piece
 */

export class Assembly {
  /** @type {Lump[]} */
  lumps = [];
  /** @type {[Lump, Lump, number][]} */
  joins = [];

  /** @param {number} order @param {import('./plan-grid.mjs').Piece} piece @param {number} capacity_J_per_K @returns {Lump} */
  add(order, piece, capacity_J_per_K) {
    const lump = { order, piece, capacity_J_per_K, room_W_per_K: 0, node: -1 };
    this.lumps.push(lump);
    return lump;
  }

  /** @param {Lump} one @param {Lump | null} other null for the room @param {number} bond_W_per_K */
  join(one, other, bond_W_per_K) {
    if (other === null) one.room_W_per_K += bond_W_per_K;
    else if (bond_W_per_K > 0) this.joins.push([one, other, bond_W_per_K]);
  }

  /**
   * Joins what meets at a place without heat capacity: the star of conductances becomes the mesh that carries the same heat.
   *
   * @param {readonly (readonly [Lump, number])[]} arms W/K
   * @param {number} [room_W_per_K] from that place to the room
   */
  joinStar(arms, room_W_per_K = 0) {
    const all_W_per_K = arms.reduce((sum, [, bond]) => sum + bond, room_W_per_K);
    for (const [index, [one, bond]] of arms.entries()) {
      for (const [other, next] of arms.slice(index + 1)) this.join(one, other, (bond * next) / all_W_per_K);
      this.join(one, null, (bond * room_W_per_K) / all_W_per_K);
    }
  }

  /** Numbers the lumps and writes down the matrix of `C dT/dt = Q - G (T - room)`. */
  assemble() {
    const sorted = this.lumps.toSorted((one, other) => one.order - other.order);
    for (const [node, lump] of sorted.entries()) lump.node = node;
    const first = Int32Array.from(sorted, (_, node) => node);
    for (const [one, other] of this.joins) {
      const [low, high] = one.node < other.node ? [one.node, other.node] : [other.node, one.node];
      if (low < first[high]) first[high] = low;
    }
    const conductance = makeStrip(first);
    const { offset, values } = conductance;
    for (const [node, lump] of sorted.entries()) values[offset[node] + node] = lump.room_W_per_K;
    for (const [one, other, bond] of this.joins) {
      const [low, high] = one.node < other.node ? [one.node, other.node] : [other.node, one.node];
      values[offset[low] + low] += bond;
      values[offset[high] + high] += bond;
      values[offset[high] + low] -= bond;
    }
    return {
      conductance,
      capacity: Float64Array.from(sorted, (lump) => lump.capacity_J_per_K),
      room: Float64Array.from(sorted, (lump) => lump.room_W_per_K),
    };
  }
}
