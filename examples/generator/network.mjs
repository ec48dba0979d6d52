/**
 * The invented device as six lumps that store heat, joined by conductances, with the room as the seventh. Everything the
 * demo knows about its own truth comes from this one network: the logs by stepping it (`soak.mjs`), the true rises by solving it at rest.
 *
 * Only sums, products, quotients and square roots are used, so the numbers do not depend on a machine's mathematics library.
 *
 * @typedef {'bare' | 'film' | 'plate' | 'strips'} SetupId
 * @typedef {{ seat: number, seatRatio: number, zoneBond: number, air: number }} Mounting factors on conductances: pack to back
 *   shell, the second cell's seat against the first's, processor to board, shell to room
 * @typedef {{ zone_W: number, board_W: number, cell1_W: number, cell2_W: number }} Heat
 */

export const nodes = /** @type {const} */ (['zone', 'board', 'shield', 'cell1', 'cell2', 'shell']);
const node = { zone: 0, board: 1, shield: 2, cell1: 3, cell2: 4, shell: 5 };

/** Heat capacities, J/K, of all but the shield: invented, of the size of such parts. */
const capacity_J_per_K = { zone: 14, board: 45, cell1: 95, cell2: 95, shell: 130 };

/** What no set-up changes, W/K. */
const common_W_per_K = {
  zoneBoard: 0.328,
  boardShell: 0.213,
  cellShell: 0.138,
  shellRoom: 0.394,
  cellCell: 0.029,
};

/**
 * What a set-up changes: the shield's own heat capacity, J/K, and its conductances, W/K. Where nothing lies between the zones
 * and the pack, the `shield` is the warm air there, which sees little but cell 1.
 *
 * @type {Record<SetupId, { shield_J_per_K: number, zoneShield: number, boardShield: number, shieldCell1: number, shieldCell2: number }>}
 */
const shields = {
  bare: {
    shield_J_per_K: 1.5,
    zoneShield: 0.024,
    boardShield: 0.522,
    shieldCell1: 0.937,
    shieldCell2: 0.015,
  },
  film: { shield_J_per_K: 2.5, zoneShield: 0.031, boardShield: 0.447, shieldCell1: 0.86, shieldCell2: 0.014 },
  plate: {
    shield_J_per_K: 8.5,
    zoneShield: 0.154,
    boardShield: 0.0353,
    shieldCell1: 1.661,
    shieldCell2: 0.329,
  },
  strips: {
    shield_J_per_K: 9,
    zoneShield: 0.115,
    boardShield: 0.036,
    shieldCell1: 0.518,
    shieldCell2: 0.2325,
  },
};

/** The set-ups, in the order of the record. */
export const setupIds = /** @type {const} */ (['bare', 'film', 'plate', 'strips']);

/** The mounting that defines the true rise of a set-up. */
export const idealMounting = Object.freeze({ seat: 1, seatRatio: 1, zoneBond: 1, air: 1 });

/**
 * The network of one set-up as mounted: conductance matrix G of `C dT/dt = Q - G (T - room)`, and capacities C.
 *
 * @param {SetupId} setup
 * @param {Mounting} mounting
 */
export function makeNetwork(setup, mounting = idealMounting) {
  const shield = shields[setup];
  const size = nodes.length;
  const conductance = Array.from({ length: size }, () => new Array(size).fill(0));
  const join = (one, other, bond_W_per_K) => {
    conductance[one][one] += bond_W_per_K;
    conductance[other][other] += bond_W_per_K;
    conductance[one][other] -= bond_W_per_K;
    conductance[other][one] -= bond_W_per_K;
  };
  join(node.zone, node.board, common_W_per_K.zoneBoard * mounting.zoneBond);
  join(node.board, node.shell, common_W_per_K.boardShell);
  join(node.cell1, node.shell, common_W_per_K.cellShell * mounting.seat);
  join(node.cell2, node.shell, common_W_per_K.cellShell * mounting.seat * mounting.seatRatio);
  join(node.cell1, node.cell2, common_W_per_K.cellCell);
  join(node.zone, node.shield, shield.zoneShield);
  join(node.board, node.shield, shield.boardShield);
  join(node.shield, node.cell1, shield.shieldCell1);
  join(node.shield, node.cell2, shield.shieldCell2);
  conductance[node.shell][node.shell] += common_W_per_K.shellRoom * mounting.air;
  const capacity = nodes.map((name) => (name === 'shield' ? shield.shield_J_per_K : capacity_J_per_K[name]));
  return { conductance, capacity };
}

/** @param {Heat} heat @returns {number[]} W per node */
export function heatOfNodes(heat) {
  return [heat.zone_W, heat.board_W, 0, heat.cell1_W, heat.cell2_W, 0];
}

/**
 * Rise of every node above the room when nothing changes any more: G T = Q, by Gaussian elimination. G is diagonally
 * dominant, so no pivoting is needed.
 *
 * @param {ReturnType<typeof makeNetwork>} network
 * @param {Heat} heat
 * @returns {number[]} K per node
 */
export function restingRise_K(network, heat) {
  const size = nodes.length;
  const rows = network.conductance.map((row, index) => [...row, heatOfNodes(heat)[index]]);
  for (let pivot = 0; pivot < size; pivot++) {
    for (let row = pivot + 1; row < size; row++) {
      const factor = rows[row][pivot] / rows[pivot][pivot];
      for (let column = pivot; column <= size; column++) rows[row][column] -= factor * rows[pivot][column];
    }
  }
  const rise_K = new Array(size).fill(0);
  for (let row = size - 1; row >= 0; row--) {
    let sum = rows[row][size];
    for (let column = row + 1; column < size; column++) sum -= rows[row][column] * rise_K[column];
    rise_K[row] = sum / rows[row][row];
  }
  return rise_K;
}

/**
 * The network's time constants, slowest first: one over the eigenvalues of C^-1/2 G C^-1/2, by Jacobi's rotations.
 *
 * @param {ReturnType<typeof makeNetwork>} network
 * @returns {number[]} s
 */
export function timeConstants_s(network) {
  const size = nodes.length;
  const roots = network.capacity.map((capacity) => Math.sqrt(capacity));
  const matrix = network.conductance.map((row, i) => row.map((value, j) => value / (roots[i] * roots[j])));
  for (let sweep = 0; sweep < 30; sweep++) {
    for (let p = 0; p < size - 1; p++) for (let q = p + 1; q < size; q++) rotate(matrix, p, q);
  }
  return matrix.map((row, index) => 1 / row[index]).sort((one, other) => other - one);
}

/** One rotation that brings the element (p, q) of a symmetric matrix to zero. */
function rotate(matrix, p, q) {
  if (matrix[p][q] === 0) return;
  const theta = (matrix[q][q] - matrix[p][p]) / (2 * matrix[p][q]);
  const tangent = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const cosine = 1 / Math.sqrt(tangent * tangent + 1);
  const sine = tangent * cosine;
  for (let k = 0; k < matrix.length; k++) {
    const [one, other] = [matrix[k][p], matrix[k][q]];
    matrix[k][p] = cosine * one - sine * other;
    matrix[k][q] = sine * one + cosine * other;
  }
  for (let k = 0; k < matrix.length; k++) {
    const [one, other] = [matrix[p][k], matrix[q][k]];
    matrix[p][k] = cosine * one - sine * other;
    matrix[q][k] = sine * one + cosine * other;
  }
}
