import { dofRecord, effectiveDof, found, type Result, refused } from '../measure/index.js';
import { solveLeastSquares } from '../numerics/index.js';
import { averageBlocks, type Blocks, firstAt } from './block-means.js';
import { followAmbient } from './follow-ambient.js';
import type { NoPlateau, Phase, Plateau } from './run-result.js';
import { fitSettling, remainingAt, type SettlingFit, sketchSettling } from './settling-fit.js';

/** Blocks a phase is averaged into before the fit: ample for three time constants, few enough to fit in a blink. */
const blocks = 180;

/** Blocks for the first look at the time constant. */
const roughBlocks = 60;

/** Fewer readings than this carry no curve and no word on their own scatter. */
const fewest = 16;

/**
 * A phase shorter than this many time constants cannot be extrapolated: the plateau is then mostly the model's guess.
 * @source [NIST-STRD] Misra1a and Misra1b: one data set, two saturating curves, plateaus of 239 and 338
 */
const shortest = 1.2;

/**
 * How far the true curve may differ from the fitted one on what is still to come, as a standard uncertainty.
 * @assumed 15 % of the remaining distance; devices have more time constants than two
 */
const extrapolationDoubt = 0.15;

/** Settled means within this of the plateau, or within 2 % of the step, whichever is larger. @assumed the smallest difference that matters here is 1 K */
const settledWithin_K = 0.2;

/** Residuals worth fewer independent readings than this, and large, are a pattern that the curve has missed. @assumed */
const fewestIndependent = 10;

export interface PlateauRequest {
  readonly probe: string;
  readonly after_s: Float64Array;
  readonly level_C: Float64Array;
  /** Corrected ambient, one per time; a constant where it was only noted down. */
  readonly ambient_C: Float64Array;
  /** Doubt of a noted ambient beyond its probe's own, K. */
  readonly ambient_u_K: number;
  readonly phase: Phase & { readonly kind: 'idle' | 'load' };
  readonly loop_s: number | null;
  /** Time constant to delay the room by where this phase cannot tell its own. */
  readonly lag_s: number | null;
}

/**
 * The settled rise of one probe above the room in one phase, or why there is none.
 *
 * @returns refused where the phase is shorter than 1.2 time constants, has too few readings, follows no settling curve, rises in a straight line, or
 *   leaves the plateau in doubt by more than a tenth of the step and half a kelvin
 */
export function findPlateau(request: PlateauRequest): Result<Plateau, NoPlateau> {
  const { after_s, level_C, ambient_C, phase } = request;
  const span_s = phase.to_s - phase.from_s;
  const first = firstAt(after_s, phase.from_s);
  const phaseTimes = after_s.subarray(first);
  const riseAt = (lag_s: number, most: number) => {
    const felt_C = followAmbient(after_s, ambient_C, lag_s);
    const rise_K = level_C.subarray(first).map((level, i) => level - (felt_C[first + i] as number));
    const points = averageBlocks(phaseTimes, rise_K, phase.from_s, phase.to_s, most);
    return { felt_C, points, t_s: points.after_s.map((at) => at - phase.from_s) };
  };
  /** From a rough fit without a lag: being wrong by a tenth moves the rise by a tenth of drift times lag. */
  const sketchLag_s = () => {
    const { points, t_s } = riseAt(0, roughBlocks);
    if (points.level.length < fewest) return 0;
    return sketchSettling(t_s, points.level, request.loop_s)?.taus_s.at(-1) ?? 0;
  };

  const lag_s = Math.min(request.lag_s ?? sketchLag_s(), span_s);
  const { felt_C, points, t_s } = riseAt(lag_s, blocks);
  if (points.level.length < fewest)
    return refused({ kind: 'too-few', have: points.level.length, need: fewest });
  const fit = fitSettling(t_s, points.level, request.loop_s);
  if (fit === null) return refused(straightOr(points, span_s));
  if (points.level.length / fit.inflation < fewestIndependent && fit.residual_K > settledWithin_K)
    return refused({ kind: 'no-curve' });
  const no = objection(fit, span_s);
  if (no !== null) return refused(no);
  return found(describePlateau(request, fit, felt_C, lag_s));
}

/** Data that follow no settling curve: a straight climb, which only wants more time, or something else, which wants a look. */
function straightOr({ after_s, level }: Blocks, span_s: number): NoPlateau {
  const line = solveLeastSquares([new Float64Array(level.length).fill(1), after_s], level);
  const slope = line?.x[1] ?? 0;
  const scatter_K = Math.sqrt((line?.rss ?? 0) / level.length);
  if (line === null || Math.abs(slope * span_s) < 10 * scatter_K) return { kind: 'no-curve' };
  return { kind: 'still-rising', slope_K_per_h: slope * 3600, have_s: span_s };
}

function objection(fit: SettlingFit, span_s: number): NoPlateau | null {
  const slowest = fit.terms.at(-1);
  if (slowest === undefined) return null;
  const slope = (slowest.amplitude_K / slowest.tau_s) * Math.exp(-span_s / slowest.tau_s) * 3600;
  if (Math.abs(remainingAt(fit, span_s)) <= settledBand(fit)) return null;
  if (slowest.tau_s > 3 * span_s) return { kind: 'still-rising', slope_K_per_h: slope, have_s: span_s };
  if (span_s < shortest * slowest.tau_s)
    return { kind: 'too-short', have_s: span_s, need_s: 3 * slowest.tau_s };
  if (fit.u_K > Math.max(0.5, 0.1 * stepOf(fit)))
    return { kind: 'too-uncertain', u_K: fit.u_K, step_K: stepOf(fit) };
  return null;
}

/** How far the curve climbs in all, K. */
function stepOf(fit: SettlingFit): number {
  return Math.abs(fit.terms.reduce((sum, term) => sum + term.amplitude_K, 0));
}

function settledBand(fit: SettlingFit): number {
  return Math.max(settledWithin_K, 0.02 * stepOf(fit));
}

function describePlateau(
  request: PlateauRequest,
  fit: SettlingFit,
  felt_C: Float64Array,
  lag_s: number,
): Plateau {
  const { phase, after_s, ambient_C } = request;
  const span_s = phase.to_s - phase.from_s;
  const remaining_K = remainingAt(fit, span_s);
  const drift_K_per_h =
    fit.terms.reduce(
      (sum, term) => sum + (term.amplitude_K / term.tau_s) * Math.exp(-span_s / term.tau_s),
      0,
    ) * 3600;
  const window_s = settledFrom(fit, span_s);
  const from = firstAt(after_s, phase.from_s + (window_s ?? 0.75 * span_s));
  const to = firstAt(after_s, phase.to_s);
  const ambientMean_C = meanOf(ambient_C, from, to);
  const feltMean_C = meanOf(felt_C, from, to);
  const parts = [
    {
      name: 'fit',
      u_K: fit.u_K,
      why: `scatter of the readings about the curve, widened ${fit.inflation.toFixed(1)} times in variance because neighbours are alike`,
    },
    {
      name: 'still to come',
      u_K: extrapolationDoubt * Math.abs(remaining_K),
      why: '15 % of what the curve still had to go at the end',
    },
    {
      name: 'ambient drift',
      u_K: Math.abs(ambientMean_C - feltMean_C) / 2,
      why: `half of what following the room with a lag of ${(lag_s / 60).toFixed(0)} min changes`,
    },
    {
      name: 'ambient noted',
      u_K: request.ambient_u_K,
      why: 'doubt of the room’s temperature where it was not logged',
    },
  ].filter((part) => part.u_K > 0);
  const u_K = Math.hypot(...parts.map((part) => part.u_K));
  const dof = effectiveDof(parts.map((part) => ({ u: part.u_K, dof: part.name === 'fit' ? fit.dof : null })));
  return {
    probe: request.probe,
    phase: phase.kind,
    rise_K: { value: fit.plateau_K, u: u_K, dof: dofRecord(dof) },
    level_C: fit.plateau_K + feltMean_C,
    ambient_C: feltMean_C,
    reached: Math.abs(remaining_K) <= settledBand(fit),
    remaining_K,
    drift_K_per_h,
    timeConstants: fit.terms.map(({ tau_s, u_s }) => ({ tau_s, u_s })),
    amplitudes_K: fit.terms.map((term) => term.amplitude_K),
    from_s: phase.from_s,
    to_s: phase.to_s,
    settledFrom_s: window_s === null ? null : phase.from_s + window_s,
    parts,
    residual_K: fit.residual_K,
    inflation: fit.inflation,
  };
}

/** When the curve comes within the settled band for good, s after the phase began. */
function settledFrom(fit: SettlingFit, span_s: number): number | null {
  const band = settledBand(fit);
  if (Math.abs(remainingAt(fit, span_s)) > band) return null;
  const steps = 400;
  for (let i = steps; i > 0; i--) {
    if (Math.abs(remainingAt(fit, ((i - 1) / steps) * span_s)) > band) return (i / steps) * span_s;
  }
  return 0;
}

function meanOf(values: Float64Array, from: number, to: number): number {
  let sum = 0;
  let count = 0;
  for (let i = from; i < to; i++) {
    const value = values[i] as number;
    if (Number.isNaN(value)) continue;
    sum += value;
    count += 1;
  }
  return sum / count;
}
