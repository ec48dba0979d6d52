import { heatOfNodes } from './network.mjs';

/** Seconds per step. Rows, loops, phases and faults all fall on whole steps, so the heat is constant within each. */
const step_s = 2;

/** Terms of the exponential series: the largest rate times the step is below 5, and 5^48/48! is below 1e-27. */
const terms = 48;

/**
 * Takes the network through a run. Within a step the heat is constant and the room moves in a straight line, and for such a
 * step the solution is exact: `T <- E T + F1 (Q/C + c room) + F2 c slope`, with E = exp(A h) and F1, F2 its first two
 * integrals, all from their power series. No error builds up, however stiff the network.
 *
 * @param {ReturnType<typeof import('./network.mjs').makeNetwork>} network
 * @param {object} run
 * @param {number[]} run.start_C temperature of each node
 * @param {(after_s: number) => number} run.room_C
 * @param {(after_s: number) => import('./network.mjs').Heat} run.heat
 * @param {number} run.rows
 * @param {number} run.interval_s a whole number of steps
 * @returns {number[][]} temperature of each node in each row, °C
 */
export function soak(network, run) {
  const { conductance, capacity } = network;
  const rate = conductance.map((row, i) => row.map((value) => -value / capacity[i]));
  const roomRate = conductance.map((row, i) => row.reduce((sum, value) => sum + value, 0) / capacity[i]);
  const [stay, push, slope] = stepMatrices(rate);
  const roomPush = timesVector(push, roomRate);
  const roomSlope = timesVector(slope, roomRate);
  const stepsPerRow = run.interval_s / step_s;

  let level_C = run.start_C;
  let room_C = run.room_C(0);
  const history = [level_C];
  for (let step = 0; history.length < run.rows; step++) {
    const heat_W = heatOfNodes(run.heat(step * step_s));
    const heatPush = timesVector(
      push,
      heat_W.map((value, i) => value / capacity[i]),
    );
    const next_C = run.room_C((step + 1) * step_s);
    const change = (next_C - room_C) / step_s;
    const kept = timesVector(stay, level_C);
    level_C = kept.map((value, i) => value + heatPush[i] + roomPush[i] * room_C + roomSlope[i] * change);
    room_C = next_C;
    if ((step + 1) % stepsPerRow === 0) history.push(level_C);
  }
  return history;
}

/** exp(A h), its integral over the step, and the integral of that: sums of (A h)^k over k!, (k+1)! and (k+2)!. */
function stepMatrices(rate) {
  const zero = rate.map((row) => row.map(() => 0));
  const sums = [zero, zero, zero];
  let power = rate.map((row, i) => row.map((_, j) => (i === j ? 1 : 0)));
  for (let k = 0; k < terms; k++) {
    // Here `power` is (A h)^k / k!.
    const weights = [1, step_s / (k + 1), (step_s * step_s) / ((k + 1) * (k + 2))];
    for (const [index, weight] of weights.entries()) {
      sums[index] = sums[index].map((row, i) => row.map((value, j) => value + weight * power[i][j]));
    }
    power = timesMatrix(power, rate).map((row) => row.map((value) => (value * step_s) / (k + 1)));
  }
  return sums;
}

function timesMatrix(one, other) {
  return one.map((row) => other.map((_, j) => row.reduce((sum, value, k) => sum + value * other[k][j], 0)));
}

function timesVector(matrix, vector) {
  const out = new Array(vector.length);
  for (let i = 0; i < vector.length; i++) {
    let sum = 0;
    for (let j = 0; j < vector.length; j++) sum += matrix[i][j] * vector[j];
    out[i] = sum;
  }
  return out;
}
