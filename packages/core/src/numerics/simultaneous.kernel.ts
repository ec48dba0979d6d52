/**
 * Distributions of the largest of several t variables that share one standard deviation.
 *   z  common normal variable   |   w  point in units of the true standard deviation
 *   s  estimated / true standard deviation, chi_n / sqrt n   |   n  degrees of freedom   |   v, u  ln point, ln s
 *   k  number of groups   |   b  loading of a comparison on z, c = sqrt(1 - b^2)   |   m  how many share that loading
 *
 * All integrands are analytic and die out at both ends, so the plain trapezoidal rule converges exponentially and no
 * node has to be placed. On a grid in ln w the inner integral does not depend on the point asked for: one set of inner
 * values serves a whole search for a quantile.
 *
 * @source [TREFETHEN-WEIDEMAN-2014] for the convergence; steps set from its bound exp(-2 pi width / step)
 */
import { stirlingRest } from './gamma-beta.kernel.js';
import { normalBelow, normalDensity } from './normal.kernel.js';

/** Width of the common normal variable that matters: beyond 8.5 its density is below 1e-16. */
const reach = 8.5;
/** Beyond this many standard deviations a range is below the point to the last digit, for hundreds of groups. */
const certain = 14;
/** The same for single normals: hundreds of them all lie within 9 but for less than 1e-16. */
const certainEach = 9;
/** What is left out of a sum at one node; all of them together stay below 1e-14. */
const nothing = 1e-17;

function power(x: number, k: number): number {
  let result = 1;
  for (; k > 0; k >>= 1) {
    if (k & 1) result *= x;
    x *= x;
  }
  return result;
}

/** Step in z that leaves about 1e-13 where the integrand grows like exp(growth y^2 / 2) off the real axis. */
function stepFor(growth: number): number {
  return Math.sqrt(0.66 / growth);
}

/** Probability that the range of k independent normals is below w. */
export function rangeLevel(k: number): (w: number) => number {
  const h = stepFor(k);
  const count = Math.floor(reach / h);
  const at: number[] = [];
  const below: number[] = [];
  const weight: number[] = [];
  for (let i = -count; i <= count; i++) {
    const z = i * h;
    const whole = normalBelow(z);
    if (normalDensity(z) * power(whole, k - 1) < 1e-19) continue;
    at.push(z);
    below.push(whole);
    weight.push(k * h * normalDensity(z));
  }
  return (w) => {
    if (w > certain) return 1;
    let sum = 0;
    for (let i = 0; i < at.length; i++) sum += weight[i]! * power(below[i]! - normalBelow(at[i]! - w), k - 1);
    return sum;
  };
}

/** Probability that every one of the normals with correlations b_i b_j is below w, or within -w and w. */
export function factorLevel(loadings: readonly number[], twoSided: boolean): (w: number) => number {
  const shared = new Map<number, number>();
  let growth = 1;
  for (const b of loadings) {
    const key = twoSided ? Math.abs(b) : b;
    shared.set(key, (shared.get(key) ?? 0) + 1);
    growth += (b * b) / (1 - b * b);
  }
  const h = stepFor(growth);
  const count = Math.floor(reach / h);
  // The largest loading first: its factor is the smallest at most nodes, and soonest shows that a node adds nothing.
  const groups = [...shared]
    .map(([b, m]) => ({ m, perW: 1 / Math.sqrt(1 - b * b), perZ: b / Math.sqrt(1 - b * b) }))
    .sort((one, other) => Math.abs(other.perZ) - Math.abs(one.perZ));
  // Two-sided, the integrand is even in z: half of the nodes do.
  const first = twoSided ? 0 : -count;
  const weight = Float64Array.from({ length: count - first + 1 }, (_, at) => {
    const i = first + at;
    return normalDensity(i * h) * (twoSided && i > 0 ? 2 * h : h);
  });
  return (w) => {
    if (Math.abs(w) > certainEach) return w > 0 ? 1 : 0;
    let sum = 0;
    for (let at = 0; at < weight.length; at++) {
      const z = (first + at) * h;
      let product = weight[at]!;
      for (let g = 0; g < groups.length && product > nothing; g++) {
        const { m, perW, perZ } = groups[g]!;
        const middle = w * perW;
        const shift = z * perZ;
        let within = normalBelow(middle - shift);
        // Two-sided, z and b are not negative: the lower tail dies out before the upper one does.
        if (twoSided && middle + shift < 8.6) within -= normalBelow(-middle - shift);
        product *= m === 1 ? within : power(within, m);
      }
      // Two-sided, every factor falls with z, and so does the rest.
      if (twoSided && product <= nothing) break;
      sum += product;
    }
    return sum;
  };
}

/**
 * Averages level(w) over s, for any n: the probability at the point exp(v), with w = exp(v) s. `base` is level(0); taking
 * it out makes the rest vanish towards small s even for few degrees of freedom.
 *
 * The step is one of a ladder a factor sqrt 2 apart, so that neighbouring n meet the same w: the inner values of one n
 * serve the next, and a family whose comparisons differ a little in n costs hardly more than one of them.
 */
export function mixOverScale(
  level: (w: number) => number,
  base: number,
  growth: number,
): (n: number) => (v: number) => number {
  const ladder = new Map<number, Map<number, number>>();
  return (n) => {
    const widest = Math.min(0.14, Math.sqrt(0.33 / (n + growth)));
    const rung = Math.ceil(2 * Math.log2(0.14 / widest) - 1e-9);
    const h = 0.14 * 2 ** (-rung / 2);
    const a = n / 2;
    const top = Math.log(2 * h) + 0.5 * Math.log(a / (2 * Math.PI)) - stirlingRest(a);
    const known = ladder.get(rung) ?? new Map<number, number>();
    ladder.set(rung, known);
    const riseAt = (j: number): number => {
      let rise = known.get(j);
      if (rise === undefined) known.set(j, (rise = level(Math.exp(j * h)) - base));
      return rise;
    };
    return (v) => {
      const middle = Math.round(v / h);
      let sum = 0;
      for (let j = middle, f = 1; f > 1e-17 || j * h <= v; j++) {
        const u = j * h - v;
        f = Math.exp(top - a * (Math.expm1(2 * u) - 2 * u));
        sum += f * riseAt(j);
      }
      for (let j = middle - 1, term = 1; Math.abs(term) > 1e-18; j--) {
        const u = j * h - v;
        term = Math.exp(top - a * (Math.expm1(2 * u) - 2 * u)) * riseAt(j);
        sum += term;
      }
      return base + sum;
    };
  };
}

/** Root of an increasing function between low and high, by Chandrupatla's bisection with inverse quadratic steps. */
export function risingRoot(f: (x: number) => number, low: number, high: number): number {
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  if (fa >= 0) return a;
  if (fb <= 0) return b;
  let t = fa / (fa - fb);
  for (let i = 0; i < 200; i++) {
    const x = a + t * (b - a);
    const fx = f(x);
    let c: number;
    let fc: number;
    if (Math.sign(fx) === Math.sign(fa)) {
      c = a;
      fc = fa;
    } else {
      c = b;
      b = a;
      fc = fb;
      fb = fa;
    }
    a = x;
    fa = fx;
    const best = Math.abs(fa) < Math.abs(fb) ? a : b;
    const limit = (4e-16 * Math.abs(best) + 1e-300) / Math.abs(b - a);
    if (fa === 0 || limit > 0.25) return best;
    const xi = (a - b) / (c - b);
    const phi = (fa - fb) / (fc - fb);
    const isSmooth = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi;
    t = isSmooth
      ? (fa / (fb - fa)) * (fc / (fb - fc)) + ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb))
      : 0.5;
    t = Math.min(1 - limit, Math.max(limit, t));
  }
  return a;
}
