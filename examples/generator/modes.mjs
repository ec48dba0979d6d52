import { factorStrip, solveStrip, timesStrip } from './solve.mjs';

/**
 * A network's response as a few decays. Of the hundreds of modes only those count that the heat stirs and the probes see: the network
 * is looked at through a basis of what its inputs and outputs lead to, again and again, at rest and on the scales of a minute and of some
 * seconds (rational Krylov spaces of `G^-1 C` and of `(G + rate C)^-1 C`). At rest the answer is exact, and so is the balance of heat; in the
 * first seconds after a change of power it is off by less than a hundredth of a kelvin (a test holds it against a larger basis).
 *
 * @typedef {ReturnType<typeof import('./network.mjs').makeNetwork>} Network
 */

/** The time scales the network is looked at, as rates in 1/s, and how often at each. */
const looks = [
  { rate_per_s: 0, rounds: 2 },
  { rate_per_s: 1 / 60, rounds: 2 },
  { rate_per_s: 1 / 6, rounds: 1 },
];

/**
 * @param {Pick<Network, 'conductance' | 'capacity'>} network
 * @param {readonly Float64Array[]} inputs W per lump; heat stored evenly, C times 1 K, is one more by itself
 * @param {readonly Float64Array[]} outputs weights per lump
 * @param {readonly { rate_per_s: number, rounds: number }[]} [at] the scales, with the one at rest first
 * @returns {{ rates: Float64Array, inputs: Float64Array[], outputs: Float64Array[], evenly: Float64Array }} decay rates, 1/s, slowest
 *   first; inputs, outputs and C times 1 K as each decay has them
 */
export function findModes(network, inputs, outputs, at = looks) {
  const { conductance, capacity } = network;
  const basis = makeBasis(network, inputs, outputs, at);
  const pushed = basis.map((vector) => timesStrip(conductance, vector));
  const matrix = basis.map((one) => Float64Array.from(pushed, (other) => dot(one, other)));
  const { values, vectors } = findEigenpairs(matrix);
  const seen = (vector) => {
    const along = basis.map((one) => dot(one, vector));
    return Float64Array.from(values, (_, mode) => dot(vectors[mode], along));
  };
  return { rates: values, inputs: inputs.map(seen), outputs: outputs.map(seen), evenly: seen(capacity) };
}

function dot(one, other) {
  let sum = 0;
  for (let i = 0; i < one.length; i++) sum += one[i] * other[i];
  return sum;
}

/** Vectors with v C v' = 1 for one and 0 for two of them, twice orthogonalised; what adds nothing new is left out. */
function makeBasis({ conductance, capacity }, inputs, outputs, at) {
  const weighted = [];
  const basis = [];
  const keep = (vector) => {
    const size = dot(vector, timesDiagonal(capacity, vector));
    for (let pass = 0; pass < 2; pass++) {
      for (const [index, one] of basis.entries()) {
        const part = dot(weighted[index], vector);
        for (let i = 0; i < vector.length; i++) vector[i] -= part * one[i];
      }
    }
    const left = dot(vector, timesDiagonal(capacity, vector));
    if (!(left > 1e-18 * size)) return null;
    const scale = 1 / Math.sqrt(left);
    for (let i = 0; i < vector.length; i++) vector[i] *= scale;
    basis.push(vector);
    weighted.push(timesDiagonal(capacity, vector));
    return vector;
  };
  keep(new Float64Array(capacity.length).fill(1));
  for (const { rate_per_s, rounds } of at) {
    const factor = factorStrip(shift(conductance, capacity, rate_per_s));
    let block = rate_per_s === 0 ? [...inputs, ...outputs, capacity] : [...inputs, ...outputs];
    for (let round = 0; round < rounds; round++) {
      const kept = block.map((right) => keep(solveStrip(factor, right))).filter((vector) => vector !== null);
      block = kept.map((vector) => timesDiagonal(capacity, vector));
    }
  }
  return basis;
}

/** G + rate C. */
function shift(conductance, capacity, rate_per_s) {
  const values = conductance.values.slice();
  for (let i = 0; i < capacity.length; i++) values[conductance.offset[i] + i] += rate_per_s * capacity[i];
  return { ...conductance, values };
}

function timesDiagonal(diagonal, vector) {
  const out = new Float64Array(vector.length);
  for (let i = 0; i < out.length; i++) out[i] = diagonal[i] * vector[i];
  return out;
}

/** Eigenvalues, ascending, and eigenvectors of a small symmetric matrix, by Jacobi's rotations. */
export function findEigenpairs(matrix) {
  const size = matrix.length;
  const work = matrix.map((row) => Float64Array.from(row));
  const vectors = work.map((_, i) => Float64Array.from(work, (_, j) => (i === j ? 1 : 0)));
  for (let sweep = 0; sweep < 30 && offDiagonal(work) > 0; sweep++) {
    for (let p = 0; p < size - 1; p++) for (let q = p + 1; q < size; q++) rotate(work, vectors, p, q);
  }
  const order = work.map((_, i) => i).sort((one, other) => work[one][one] - work[other][other]);
  return {
    values: Float64Array.from(order, (i) => work[i][i]),
    vectors: order.map((i) => vectors[i]),
  };
}

/** Largest element beside the diagonal against the two on it; 0 where all are lost in the last digits. */
function offDiagonal(matrix) {
  let largest = 0;
  for (let p = 0; p < matrix.length; p++) {
    for (let q = p + 1; q < matrix.length; q++) {
      const part = (matrix[p][q] * matrix[p][q]) / (matrix[p][p] * matrix[q][q]);
      if (part > largest) largest = part;
    }
  }
  return largest > 1e-28 ? largest : 0;
}

/** One rotation that brings the element (p, q) of a symmetric matrix to zero; `vectors` holds the eigenvectors as rows. */
function rotate(matrix, vectors, p, q) {
  const [up, uq] = [matrix[p], matrix[q]];
  if (up[q] === 0) return;
  const theta = (uq[q] - up[p]) / (2 * up[q]);
  const tangent = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const cosine = 1 / Math.sqrt(tangent * tangent + 1);
  const sine = tangent * cosine;
  for (let k = 0; k < matrix.length; k++) {
    const row = matrix[k];
    const [one, other] = [row[p], row[q]];
    row[p] = cosine * one - sine * other;
    row[q] = sine * one + cosine * other;
  }
  turn(up, uq, cosine, sine);
  turn(vectors[p], vectors[q], cosine, sine);
}

function turn(one, other, cosine, sine) {
  for (let k = 0; k < one.length; k++) {
    const [a, b] = [one[k], other[k]];
    one[k] = cosine * a - sine * b;
    other[k] = sine * a + cosine * b;
  }
}
