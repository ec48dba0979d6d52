export interface SearchEnd {
  readonly closeness: number;
  readonly flatness: number;
}

/**
 * Time constants of one or two decays on top of fixed columns, by Gauss-Newton with damping, all in buffers of its own.
 *   t  times                         n | y  data, the fixed columns taken out of it     n
 *   Q  orthonormal fixed columns  q × n | tau  time constants, start in, result out      p = 1 or 2
 * The decays are cleared of the fixed columns, their amplitudes solved exactly at every trial, and only log(tau) is sought
 * (variable projection). One pass of clearing does: a decay of 20 spans, the flattest sought, keeps 13 digits.
 * Returns what the curve leaves over, or null where the search leaves [low, high] or does not settle in 200 steps.
 * The search ends where a step moves the time constants by less than `closeness`, relative, or takes less than `flatness` off
 * the squares left over, relative: along a flat valley it would else go on for hundreds of steps.
 *
 * @source [KAUFMAN-75] for the reduced Jacobian; [MARQUARDT-63] for the damping
 */
export function searchDecays(
  t: Float64Array,
  y: Float64Array,
  Q: readonly Float64Array[],
  tau: number[],
  low: number,
  high: number,
  { closeness, flatness }: SearchEnd,
): { readonly rss: number; readonly residuals: Float64Array } | null {
  const n = t.length;
  const p = tau.length;
  const e = [new Float64Array(n), new Float64Array(n)]; // decays as they are
  const d = [new Float64Array(n), new Float64Array(n)]; // cleared decays
  const v = [new Float64Array(n), new Float64Array(n)]; // change of the curve with each log(tau)
  const r = new Float64Array(n); // what the curve leaves over
  const amplitude = [0, 0];

  const clear = (x: Float64Array) => {
    for (const q of Q) {
      const share = dot(q, x);
      for (let i = 0; i < n; i++) x[i] = x[i]! - share * q[i]!;
    }
  };
  const share = [0, 0];
  /** Shares of the decays in x by their normal equations, left in `share`; false where the two decays are one. */
  const resolve = (x: Float64Array): boolean => {
    const a = dot(d[0]!, d[0]!);
    const b = p > 1 ? dot(d[0]!, d[1]!) : 0;
    const c = p > 1 ? dot(d[1]!, d[1]!) : 1;
    const det = a * c - b * b;
    const f = dot(d[0]!, x);
    const g = p > 1 ? dot(d[1]!, x) : 0;
    share[0] = (c * f - b * g) / det;
    share[1] = (a * g - b * f) / det;
    return det > 1e-13 * a * c;
  };
  /** Amplitudes and remainder at these time constants; infinity where the two decays are one. */
  const evaluate = (at: readonly number[]): number => {
    for (let k = 0; k < p; k++) {
      const x = d[k]!;
      for (let i = 0; i < n; i++) x[i] = e[k]![i] = Math.exp(-t[i]! / at[k]!);
      clear(x);
    }
    if (!resolve(y)) return Number.POSITIVE_INFINITY;
    amplitude[0] = share[0]!;
    amplitude[1] = share[1]!;
    let rss = 0;
    for (let i = 0; i < n; i++) {
      const left = y[i]! - amplitude[0]! * d[0]![i]! - (p > 1 ? amplitude[1]! * d[1]![i]! : 0);
      r[i] = left;
      rss += left * left;
    }
    return rss;
  };
  /** v: slopes of the curve, cleared of the fixed columns and of what the amplitudes could follow. Needs `evaluate` at `at`. */
  const differentiate = (at: readonly number[]) => {
    for (let k = 0; k < p; k++) {
      const x = v[k]!;
      for (let i = 0; i < n; i++) x[i] = amplitude[k]! * (t[i]! / at[k]!) * e[k]![i]!;
      clear(x);
      resolve(x);
      for (let i = 0; i < n; i++) x[i] = x[i]! - share[0]! * d[0]![i]! - (p > 1 ? share[1]! * d[1]![i]! : 0);
    }
  };

  /** What is left over at the end, with `r` to it; null where the search leaves the range or does not settle. */
  const settle = (): number | null => {
    let rss = evaluate(tau);
    let damping = 1e-3;
    for (let step = 0; step < 200; step++) {
      if (!Number.isFinite(rss)) return null;
      differentiate(tau);
      const h00 = dot(v[0]!, v[0]!);
      const h01 = p > 1 ? dot(v[0]!, v[1]!) : 0;
      const h11 = p > 1 ? dot(v[1]!, v[1]!) : 1;
      const g0 = dot(v[0]!, r);
      const g1 = p > 1 ? dot(v[1]!, r) : 0;
      let moved = false;
      for (let attempt = 0; attempt < 30 && !moved; attempt++) {
        const a = h00 * (1 + damping);
        const c = h11 * (1 + damping);
        const det = a * c - h01 * h01;
        const s0 = clamp((c * g0 - h01 * g1) / det);
        const s1 = p > 1 ? clamp((a * g1 - h01 * g0) / det) : 0;
        const size = Math.max(Math.abs(s0), Math.abs(s1));
        const trial = p > 1 ? [tau[0]! * Math.exp(s0), tau[1]! * Math.exp(s1)] : [tau[0]! * Math.exp(s0)];
        const next = evaluate(trial);
        if (next <= rss) {
          moved = true;
          damping = Math.max(damping / 10, 1e-12);
          const flat = rss - next < flatness * rss;
          rss = next;
          for (let k = 0; k < p; k++) {
            tau[k] = trial[k]!;
            if (!(tau[k]! > low && tau[k]! < high)) return null;
          }
          if (size < closeness || flat) return rss;
        } else {
          damping *= 10;
          if (size < closeness) return evaluate(tau); // rounding, not descent, decides below this
        }
      }
      if (!moved) return evaluate(tau);
    }
    return null;
  };
  const rss = settle();
  return rss === null ? null : { rss, residuals: r };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

function clamp(s: number): number {
  return Math.max(-2, Math.min(2, s));
}
