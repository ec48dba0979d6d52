/**
 * Reproducible chance: the same seed gives the same numbers on every machine, because only exact integer steps and sums are used.
 *
 * @typedef {object} Random
 * @property {() => number} uniform between 0 and 1, both excluded
 * @property {() => number} normal roughly standard normal: twelve uniforms minus six, so never beyond 6
 */

const modulus = 2147483647;

/** Neighbouring seeds give neighbouring first numbers; after this many steps nothing is left of that. */
const stepsToForget = 40;

/**
 * The minimal standard generator, x <- 16807 x mod (2^31 - 1). Its products stay below 2^53, so doubles carry it exactly.
 *
 * @source S. K. Park, K. W. Miller, Random number generators: good ones are hard to find, Commun. ACM 31 (1988) 1192-1201
 * @param {number} seed a whole number from 1 to 2147483646
 * @returns {Random}
 */
export function makeRandom(seed) {
  if (!(Number.isInteger(seed) && seed >= 1 && seed < modulus)) {
    throw new RangeError(`seed must be a whole number from 1 to ${modulus - 1}, received ${seed}.`);
  }
  let state = seed;
  const uniform = () => {
    state = (16807 * state) % modulus;
    return state / modulus;
  };
  for (let step = 0; step < stepsToForget; step++) uniform();
  const normal = () => {
    let sum = 0;
    for (let term = 0; term < 12; term++) sum += uniform();
    return sum - 6;
  };
  return { uniform, normal };
}

/**
 * Noise of a sensor: a part that remembers (first-order autoregressive) and a part that does not.
 *
 * @param {Random} random
 * @param {number} count readings
 * @param {{ red_K: number, memory: number, white_K: number }} size standard deviations, and the correlation of neighbours
 * @returns {number[]} K
 */
export function sensorNoise_K(random, count, size) {
  const fresh = Math.sqrt(1 - size.memory * size.memory);
  const noise = [];
  let red = random.normal();
  for (let row = 0; row < count; row++) {
    if (row > 0) red = size.memory * red + fresh * random.normal();
    noise.push(size.red_K * red + size.white_K * random.normal());
  }
  return noise;
}
