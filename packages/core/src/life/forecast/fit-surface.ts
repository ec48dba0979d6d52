/** A smooth function of two variables over a box, as monomials of both scaled to -1..1; u runs fastest. */
export interface Surface {
  readonly coefficients: Float64Array;
  readonly nu: number;
  readonly nv: number;
}

/** Roots of the Chebyshev polynomial of degree n: where a polynomial must be pinned so that it swings least in between. */
export function chebyshevNodes(n: number): number[] {
  return Array.from({ length: n }, (_, i) => Math.cos((Math.PI * (2 * i + 1)) / (2 * n)));
}

/** For each number of nodes, the monomials of the polynomials that are one at one node and nought at the others; nodes run fastest. */
const bases = new Map<number, Float64Array>();

function basisOf(n: number): Float64Array {
  const known = bases.get(n);
  if (known) return known;
  const basis = new Float64Array(n * n);
  for (let node = 0; node < n; node++) {
    const monomials = monomialsOfNode(n, node);
    for (const [power, factor] of monomials.entries()) basis[power * n + node] = factor;
  }
  bases.set(n, basis);
  return basis;
}

/** @source [PRESS-07] section 5.8, and 5.10 for the change of basis */
function monomialsOfNode(n: number, node: number): number[] {
  const monomials = new Array<number>(n).fill(0);
  let before: number[] = [];
  let current: number[] = [1];
  for (let k = 0; k < n; k++) {
    const share = ((k === 0 ? 1 : 2) * Math.cos((Math.PI * k * (2 * node + 1)) / (2 * n))) / n;
    for (const [power, factor] of current.entries())
      monomials[power] = (monomials[power] as number) + share * factor;
    // T(k+1) = 2 x T(k) - T(k-1); T(1) = x.
    const next = [0, ...current.map((factor) => (k === 0 ? 1 : 2) * factor)];
    for (const [power, factor] of before.entries()) next[power] = (next[power] as number) - factor;
    before = current;
    current = next;
  }
  return monomials;
}

/** Monomials of the polynomial through values at the Chebyshev nodes. */
function fitNodes(values: readonly number[]): number[] {
  const n = values.length;
  const basis = basisOf(n);
  const monomials = new Array<number>(n).fill(0);
  for (let power = 0; power < n; power++) {
    let sum = 0;
    for (let node = 0; node < n; node++)
      sum += (basis[power * n + node] as number) * (values[node] as number);
    monomials[power] = sum;
  }
  return monomials;
}

/** Fits a surface through a function's values at the nodes: one row for each u, and in it one value for each v. */
export function fitSurface(values: readonly (readonly number[])[]): Surface {
  const nu = values.length;
  const nv = values[0]?.length ?? 0;
  const alongU = Array.from({ length: nv }, (_, j) => fitNodes(values.map((row) => row[j] as number)));
  const coefficients = new Float64Array(nu * nv);
  for (let i = 0; i < nu; i++) {
    const alongV = fitNodes(alongU.map((row) => row[i] as number));
    for (const [j, factor] of alongV.entries()) coefficients[i + nu * j] = factor;
  }
  return { coefficients, nu, nv };
}
