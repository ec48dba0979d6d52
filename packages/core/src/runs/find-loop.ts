import { mean, solveLeastSquares } from '../numerics/index.js';

/**
 * Period of a load that repeats itself, from what the settling curve leaves over at the hottest probe.
 *
 * Looks for the first lag at which the residuals resemble themselves again after having differed; then sharpens the period by
 * the sine that takes most of them away. At least four loops must fit, and half of the variance must be explained.
 *
 * @param t_s evenly spaced to within a few per cent
 * @param residual_K what the fit without a loop left over
 * @returns period in s, or null where the load does not repeat
 */
export function findLoop_s(t_s: Float64Array, residual_K: Float64Array): number | null {
  const count = residual_K.length;
  if (count < 32) return null;
  const step = ((t_s.at(-1) as number) - (t_s[0] as number)) / (count - 1);
  const centre = mean(residual_K);
  const similarity = (lag: number) => {
    let sum = 0;
    let norm = 0;
    for (let i = 0; i + lag < count; i++) {
      const a = (residual_K[i] as number) - centre;
      sum += a * ((residual_K[i + lag] as number) - centre);
      norm += a * a;
    }
    return norm > 0 ? sum / norm : 0;
  };
  const most = Math.floor(count / 4);
  let lag = 1;
  while (lag < most && similarity(lag) > 0) lag += 1;
  let best = 0;
  let peak = 0;
  for (; lag < most; lag++) {
    const value = similarity(lag);
    if (value > peak) {
      peak = value;
      best = lag;
    } else if (best > 0 && value < 0) break; // past the first resemblance
  }
  if (peak < 0.4 || best < 3) return null;
  return sharpen(t_s, residual_K, best * step, step);
}

/** The period within one and a half steps whose sine and first overtone leave least, by a grid and the parabola at its lowest. */
function sharpen(t_s: Float64Array, residual_K: Float64Array, period: number, step: number): number | null {
  const total = residual_K.reduce((sum, value) => sum + value * value, 0);
  const columns = Array.from({ length: 5 }, () => new Float64Array(t_s.length));
  const [ones, cos, sin, cos2, sin2] = columns as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  ones.fill(1);
  const each = (1.5 * step) / trials;
  const left = Array.from({ length: 2 * trials + 1 }, (_, i) => {
    const omega = (2 * Math.PI) / (period + (i - trials) * each);
    for (let k = 0; k < t_s.length; k++) {
      const angle = omega * (t_s[k] as number);
      const c = Math.cos(angle);
      const s = Math.sin(angle);
      cos[k] = c;
      sin[k] = s;
      cos2[k] = c * c - s * s;
      sin2[k] = 2 * s * c;
    }
    return solveLeastSquares(columns, residual_K)?.rss ?? total;
  });
  const lowest = left.indexOf(Math.min(...left));
  if ((left[lowest] as number) >= 0.5 * total) return null;
  const [before, at, after] = [left[lowest - 1], left[lowest] as number, left[lowest + 1]];
  const bend = before === undefined || after === undefined ? 0 : before - 2 * at + after;
  const shift = bend > 0 ? ((before as number) - (after as number)) / (2 * bend) : 0;
  return period + (lowest - trials + shift) * each;
}

/** Periods tried on either side of the first guess. */
const trials = 12;
