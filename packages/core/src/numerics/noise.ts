/**
 * Reproducible noise: the minimal standard generator, exact in double precision on every machine.
 * For generated data and simulations only; nothing measured ever passes through it.
 *
 * @source [PARK-MILLER-88] Park and Miller, Random number generators: good ones are hard to find
 */
export interface Noise {
  /** Uniform in (0, 1). */
  uniform(): number;
  /** Roughly standard normal: the sum of twelve uniforms minus six. */
  normal(): number;
}

const modulus = 2147483647;

/** @param seed whole number, 1 to 2147483646 */
export function makeNoise(seed: number): Noise {
  let state = seed;
  const uniform = () => {
    state = (16807 * state) % modulus;
    return state / modulus;
  };
  const normal = () => {
    let sum = 0;
    for (let i = 0; i < 12; i++) sum += uniform();
    return sum - 6;
  };
  return { uniform, normal };
}

/**
 * First-order autoregressive noise of unit variance.
 *
 * @param phi correlation between neighbours, 0 to below 1
 */
export function makeRedNoise(noise: Noise, phi: number): () => number {
  let level: number | undefined;
  return () => {
    const shock = noise.normal();
    level = level === undefined ? shock : phi * level + Math.sqrt(1 - phi * phi) * shock;
    return level;
  };
}
