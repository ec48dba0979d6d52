/** Nodes and weights of a quadrature rule on -1 to 1. */
export interface QuadratureRule {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

/**
 * Gauss-Legendre rule: exact for polynomials up to degree 2 count - 1.
 *
 * A kink or a jump inside the interval ruins it: split the interval there.
 *
 * @param count number of nodes, 1 to 1000
 * @throws RangeError outside that range
 * @source [DLMF] 3.5(v): roots of the Legendre polynomial, by Newton from the estimate cos(pi (k - 1/4) / (n + 1/2))
 */
export function gaussLegendre(count: number): QuadratureRule {
  if (!(Number.isInteger(count) && count >= 1 && count <= 1000)) {
    throw new RangeError(`count must be a whole number from 1 to 1000, received ${count}.`);
  }
  const nodes: number[] = [];
  const weights: number[] = [];
  for (let index = count; index >= 1; index--) {
    let node = Math.cos((Math.PI * (index - 0.25)) / (count + 0.5));
    let slope = 1;
    for (let round = 0; round < 20; round++) {
      const legendre = evaluateLegendre(count, node);
      slope = legendre.slope;
      const step = legendre.value / slope;
      node -= step;
      if (Math.abs(step) < 1e-15) break;
    }
    nodes.push(node);
    weights.push(2 / ((1 - node * node) * slope * slope));
  }
  return { nodes, weights };
}

/** Legendre polynomial and its derivative by the three-term recurrence. @source [DLMF] 18.9 */
function evaluateLegendre(degree: number, at: number): { value: number; slope: number } {
  let previous = 1;
  let value = at;
  for (let order = 2; order <= degree; order++) {
    const next = ((2 * order - 1) * at * value - (order - 1) * previous) / order;
    previous = value;
    value = next;
  }
  return { value, slope: (degree * (previous - at * value)) / (1 - at * at) };
}

/**
 * Integral of a smooth function over a finite interval by a Gauss-Legendre rule.
 *
 * @param rule from `gaussLegendre`; made once and passed in, so that repeated integrals do not pay for it
 */
export function integrateOver(
  from: number,
  to: number,
  rule: QuadratureRule,
  valueAt: (at: number) => number,
): number {
  const half = (to - from) / 2;
  const centre = (to + from) / 2;
  let sum = 0;
  rule.nodes.forEach((node, index) => {
    sum += (rule.weights[index] ?? 0) * valueAt(centre + half * node);
  });
  return sum * half;
}
