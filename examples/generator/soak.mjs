/** Seconds per step. Rows, loops, phases and faults all fall on whole steps, so the heat is constant within each. */
const step_s = 2;

/**
 * Takes the network through a run. Within a step the heat is constant and the room moves in a straight line, and for such a step each
 * mode has an exact solution: what it holds of the rise above the room decays towards what heat and room drive it to. No error
 * builds up, however stiff the network.
 *
 * @param {ReturnType<typeof import('./modes.mjs').findModes>} modes
 * @param {object} run
 * @param {readonly number[]} run.start W of each input at which the device has settled before the first row
 * @param {number} [run.warmth] which part of that rise it has
 * @param {(after_s: number) => number} run.room_C
 * @param {(after_s: number) => readonly number[]} run.heat W of each input; the same array as long as nothing changes
 * @param {number} run.rows
 * @param {number} run.interval_s a whole number of steps
 * @returns {Float64Array[]} rise of each output above the room in each row, K
 */
export function soak(modes, run) {
  const { rates, inputs, outputs, evenly } = modes;
  const drive = (heat_W) => {
    const out = new Float64Array(rates.length);
    for (const [index, input] of inputs.entries()) {
      for (let mode = 0; mode < out.length; mode++) out[mode] += heat_W[index] * input[mode];
    }
    return out;
  };
  const keep = Float64Array.from(rates, (rate) => decay(rate * step_s));
  const push = Float64Array.from(rates, (rate, mode) => (1 - keep[mode]) / rate);
  const level = drive(run.start).map((value, mode) => ((run.warmth ?? 1) * value) / rates[mode]);
  const history = outputs.map(() => new Float64Array(run.rows));
  const note = (row) => {
    for (const [index, output] of outputs.entries()) {
      for (let mode = 0; mode < output.length; mode++) history[index][row] += output[mode] * level[mode];
    }
  };

  const stepsPerRow = run.interval_s / step_s;
  let room_C = run.room_C(0);
  let last = run.heat(0);
  let driven = drive(last);
  note(0);
  for (let step = 0; step < (run.rows - 1) * stepsPerRow; step++) {
    const heat_W = run.heat(step * step_s);
    if (heat_W !== last) driven = drive(heat_W);
    last = heat_W;
    const next_C = run.room_C((step + 1) * step_s);
    const change = (next_C - room_C) / step_s;
    for (let mode = 0; mode < level.length; mode++) {
      level[mode] = keep[mode] * level[mode] + push[mode] * (driven[mode] - change * evenly[mode]);
    }
    room_C = next_C;
    if ((step + 1) % stepsPerRow === 0) note((step + 1) / stepsPerRow);
  }
  return history;
}

/** exp(-x) without a mathematics library: the power series of a small part of x, squared up again. @param {number} x 0 or more */
function decay(x) {
  let [small, doublings] = [x, 0];
  while (small > 0.5) {
    small /= 2;
    doublings++;
  }
  let [sum, term] = [1, 1];
  for (let k = 1; k <= 16; k++) {
    term *= small / k;
    sum += term;
  }
  let value = 1 / sum;
  for (; doublings > 0; doublings--) value *= value;
  return value;
}
