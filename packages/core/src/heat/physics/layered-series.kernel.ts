type Vector = Float64Array;

/** A stack reduced to nodes: faces of layers, two of them where a contact lies between. Everything in SI. */
export interface SeriesStack {
  readonly a: number;
  readonly b: number;
  /** Of each layer, top to bottom: thickness, conductivities along x, along y and through, and its upper node; the lower one is the next. */
  readonly t: Vector;
  readonly kx: Vector;
  readonly ky: Vector;
  readonly kz: Vector;
  readonly top: Int32Array;
  /** Contacts: the upper of their two nodes, and conductance per area. */
  readonly contactTop: Int32Array;
  readonly contact: Vector;
  readonly nodes: number;
  readonly hTop: number;
  readonly hBottom: number;
}

/** A pattern over the footprint as cosines, separately along x and y, with the node it belongs to. */
export interface SeriesPattern {
  readonly node: number;
  readonly X: Vector;
  readonly Y: Vector;
}

/** Terms smaller than this beside 1 are the rounding of a cosine that is 0. */
const nothing = 1e-14;

/**
 * Cosine series of a rectangle of width w about c along a side of length s: mean of cos(m pi x / s) over it, m = 0 to M. A width of 0
 * is a point.
 */
export function cosineMeans(c: number, w: number, s: number, M: number): Vector {
  const means = new Float64Array(M + 1);
  for (let m = 0; m <= M; m++) {
    const u = (m * Math.PI * w) / (2 * s);
    const sinc = u === 0 ? 1 : Math.sin(u) / u;
    const mean = Math.cos((m * Math.PI * c) / s) * sinc;
    means[m] = Math.abs(mean) < nothing ? 0 : mean;
  }
  return means;
}

/**
 * A cut-off that falls smoothly from 1 to nothing at M, and is 1 to the eighth order near 0. Cut sharply, the series goes on swinging about
 * its sum; cut like this the swings cancel, and what is left falls off in whole powers of M.
 */
export function smoothCutoff(M: number): Vector {
  const weights = new Float64Array(M + 1);
  for (let m = 0; m <= M; m++) weights[m] = Math.exp(-36 * (m / M) ** 8);
  return weights;
}

/**
 * Adds the terms m, n of which the larger is from `first` to `last` to `sums`: for each cut-off in turn, one sum for each query.
 *   S  stack        | sources  patterns with power P, W    | queries  patterns     | cutoffs  weights, all as long as `last` asks
 *   l, d  wave numbers along x, y, 1/m    | g  decay through a layer, 1/m          | G  its admittance kz g, W/(m² K)
 *   D, U  diagonal and upper off-diagonal of the nodes' balance, W/(m² K)          | q  heat in, W/m², then rise, K, of each node
 * Each term is a chain of nodes: a layer passes G coth(g t) and G / sinh(g t), which for the term 0, 0 is kz / t. The chain is solved by
 * elimination, stable because its matrix is diagonally dominant.
 */
export function addSeriesTerms(
  S: SeriesStack,
  sources: readonly (SeriesPattern & { readonly P: number })[],
  queries: readonly SeriesPattern[],
  cutoffs: readonly Vector[],
  first: number,
  last: number,
  sums: Vector,
): void {
  const { a, b, nodes } = S;
  const D = new Float64Array(nodes);
  const U = new Float64Array(nodes);
  const q = new Float64Array(nodes);
  for (let m = 0; m <= last; m++) {
    if (sources.every((source) => source.X[m] === 0)) continue;
    const l2 = ((m * Math.PI) / a) ** 2;
    for (let n = m < first ? first : 0; n <= last; n++) {
      const weight = ((m === 0 ? 1 : 2) * (n === 0 ? 1 : 2)) / (a * b);
      let any = 0;
      q.fill(0);
      for (const { P, X, Y, node } of sources) {
        const heat = P * weight * X[m]! * Y[n]!;
        q[node]! += heat;
        any += Math.abs(heat);
      }
      if (any === 0) continue;
      fillChain(S, l2, ((n * Math.PI) / b) ** 2, D, U);
      for (let j = 1; j < nodes; j++) {
        const f = U[j - 1]! / D[j - 1]!;
        D[j]! -= f * U[j - 1]!;
        q[j]! -= f * q[j - 1]!;
      }
      q[nodes - 1]! /= D[nodes - 1]!;
      for (let j = nodes - 2; j >= 0; j--) q[j] = (q[j]! - U[j]! * q[j + 1]!) / D[j]!;
      for (let i = 0; i < cutoffs.length; i++) {
        const w = cutoffs[i]![m]! * cutoffs[i]![n]!;
        for (let k = 0; k < queries.length; k++) {
          const { node, X, Y } = queries[k]!;
          sums[i * queries.length + k]! += w * q[node]! * X[m]! * Y[n]!;
        }
      }
    }
  }
}

/** The balance of the nodes for one term; symbols as in `addSeriesTerms`. */
function fillChain(S: SeriesStack, l2: number, d2: number, D: Vector, U: Vector): void {
  const { t, kx, ky, kz, top, contactTop, contact, nodes } = S;
  D.fill(0);
  D[0]! += S.hTop;
  D[nodes - 1]! += S.hBottom;
  for (let i = 0; i < t.length; i++) {
    const j = top[i]!;
    let own = kz[i]! / t[i]!;
    let across = own;
    if (l2 > 0 || d2 > 0) {
      const g = Math.sqrt((kx[i]! * l2 + ky[i]! * d2) / kz[i]!);
      const G = kz[i]! * g;
      const e = Math.exp(-g * t[i]!);
      const fall = -Math.expm1(-2 * g * t[i]!);
      own = (G * (1 + e * e)) / fall;
      across = (2 * G * e) / fall;
    }
    D[j]! += own;
    D[j + 1]! += own;
    U[j] = -across;
  }
  for (let i = 0; i < contact.length; i++) {
    const j = contactTop[i]!;
    D[j]! += contact[i]!;
    D[j + 1]! += contact[i]!;
    U[j] = -contact[i]!;
  }
}
