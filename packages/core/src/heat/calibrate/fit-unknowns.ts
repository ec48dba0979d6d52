import { found, type Result, refused } from '../../measure/index.js';
import { invertSymmetric } from '../../numerics/index.js';
import type { NoDeviceField } from '../device/solve-device.js';
import type { Soaks } from './soaks.js';

/** What the runs say about the unknowns, their priors included. */
export interface Fit {
  /** Logarithms of the factors, in the order of the unknowns. */
  readonly logs: Float64Array;
  /** Their covariance, rows in that order. */
  readonly covariance: readonly Float64Array[];
  /** Indices of the data used, and for each: what the model shows, and its slopes with the unknowns. */
  readonly used: readonly number[];
  readonly shown_K: Float64Array;
  readonly slopes_K: readonly Float64Array[];
  /** The model's own error as a share of a rise, beyond measurement and unknowns. */
  readonly modelError: number;
  /** Rounds of the fit. */
  readonly rounds: number;
}

export type NoFit = NoDeviceField | { readonly kind: 'no-data' } | { readonly kind: 'fit-not-settled' };

type Near = Pick<Fit, 'logs' | 'modelError'> & Partial<Pick<Fit, 'used' | 'shown_K' | 'slopes_K'>>;

export interface FitOptions {
  /** States left out, to be predicted. */
  readonly without?: readonly number[];
  /** Start, and the model's error, of a fit to nearly the same data; of one to the same data and more also what the model shows there. */
  readonly near?: Near;
  /** Logarithms to start from, such as those of a coarser grid. */
  readonly start?: Float64Array;
  /** Slopes found anew in every round: what slopes that are held while they serve are judged by. */
  readonly isRenewed?: boolean;
  readonly isCancelled?: () => boolean;
  readonly onProgress?: (share: number) => void;
}

/** Errors of the model's that are tried, as shares of a rise. A stack of boxes is never better than the first nor worth using beyond the last. */
const errorsTried = [0.005, 0.0075, 0.01, 0.015, 0.02, 0.03, 0.04, 0.06, 0.09];
/** What is expected of such a model before any run is looked at. @assumed 2 % of a rise, a factor of two either way */
export const usualError = { median: 0.02, spread: 0.7 };

const mostRounds = 20;
/** What a fit mostly takes; for its progress only. */
const usualRounds = 6;
/** The model's error is sought while the fit is far off, and held after that, so that what is made small stays the same sum. */
const errorRounds = 4;
/** A round that moves no logarithm by more than this fraction of its prior spread ends the fit. */
const settled = 0.02;
/** A fit ends where a round, or all rounds on the same slopes, gain less: a tenth of this would be one part in a hundred of one standard deviation. */
const leastGain = 0.02;
/** Slopes are held through rounds that move no logarithm by more than this many prior spreads. */
const slopesHold = 0.5;
/**
 * A fit ends on slopes found within this many prior spreads of where it ends.
 *
 * @assumed found by trying, on ten devices drawn by lot with each set-up left out too: fits end within 0.02 of the least misfit, no unknown
 * farther than 0.17 of its doubt from there and no doubt off by more than 2 %. Slopes found anew in every round, a fifth more of them, leave
 * as much, for it is the gain at which fits end that leaves it. With twice as much here it is 0.04, 0.24 and 5 %.
 */
const slopesServe = 0.06;
/** A round may not move a logarithm by more than this many prior spreads. */
const longest = 1.5;

/**
 * The factors that runs and priors together make likeliest, with what is left open.
 *
 * Gauss-Newton rounds on the logarithms. The model's own error is no known number: it is taken where the runs together are likeliest, with
 * the unknowns averaged out.
 *
 * @source [TARANTOLA-05] section 3.2: least squares with a Gaussian prior, and its posterior covariance
 */
export function fitUnknowns(soaks: Soaks, options: FitOptions = {}): Result<Fit, NoFit> {
  const { without = [], near, start, isRenewed = false, isCancelled, onProgress } = options;
  const states = soaks.data.states.flatMap((_, state) => (without.includes(state) ? [] : [state]));
  const used = states.flatMap((state) => soaks.readingsOf(state).map(({ datum }) => datum));
  if (used.length === 0) return refused({ kind: 'no-data' });
  const tell = (round: number) => (share: number) =>
    onProgress?.(Math.min(0.99, (round + share) / usualRounds));
  const at = (logs: Float64Array, round: number): Result<Linear, NoDeviceField> => {
    const shown = gather(soaks, states, logs, isCancelled, tell(round));
    return shown.ok ? found({ soaks, used, logs, slopesAt: logs, ...shown.value }) : shown;
  };
  const holdingAt = (
    logs: Float64Array,
    { slopes_K, slopesAt }: Linear,
    round: number,
  ): Result<Linear, NoDeviceField> => {
    const shown_K = show(soaks, states, logs, isCancelled, tell(round));
    return shown_K.ok ? found({ soaks, used, logs, slopesAt, shown_K: shown_K.value, slopes_K }) : shown_K;
  };
  const first =
    near === undefined
      ? at((start ?? new Float64Array(soaks.unknowns.length)).slice(), 0)
      : startFrom(soaks, near, used, () => at(near.logs.slice(), 0));
  if (!first.ok) return first;
  let here = first.value;
  let modelError = near?.modelError ?? usualError.median;
  let length = 1;
  let gained = Number.POSITIVE_INFINITY;
  /** Misfit where slopes were last found. */
  let fresh = Number.POSITIVE_INFINITY;
  for (let round = 1; round <= mostRounds; round++) {
    if (near === undefined && round <= errorRounds) modelError = likeliestError(here);
    const step = stepFrom(here, modelError);
    const reach = farthestOf(soaks, here.logs, step.logs);
    const before = misfit(soaks, { ...here, modelError });
    if (here.slopesAt === here.logs) fresh = before;
    if (reach < settled || gained < leastGain) {
      if (farthestOf(soaks, here.slopesAt, here.logs) > (isRenewed ? 0 : slopesServe)) {
        const exact = at(here.logs, round);
        if (!exact.ok) return exact;
        here = exact.value;
        gained = fresh - before;
        continue;
      }
      const { logs, shown_K, slopes_K } = here;
      return found({ logs, covariance: step.covariance, used, shown_K, slopes_K, modelError, rounds: round });
    }
    // Slopes hold near by: a step goes no farther than they can be trusted, and back half-way where it made things worse.
    length = Math.min(2 * length, 1, longest / reach);
    for (;;) {
      const logs = here.logs.map((log, index) => log + length * ((step.logs[index] as number) - log));
      const tried = isRenewed || length * reach > slopesHold ? at(logs, round) : holdingAt(logs, here, round);
      if (!tried.ok) return tried;
      gained = before - misfit(soaks, { ...tried.value, modelError });
      if (gained > 0 || length * reach < settled) {
        here = tried.value;
        if (near === undefined && start === undefined && round < errorRounds)
          gained = Number.POSITIVE_INFINITY;
        break;
      }
      length /= 2;
    }
  }
  return refused({ kind: 'fit-not-settled' });
}

/** What a fit to the same data and more has found already, of the data that are used; otherwise it is found anew. */
function startFrom(
  soaks: Soaks,
  { logs, used: known, shown_K, slopes_K }: Near,
  used: readonly number[],
  find: () => Result<Linear, NoDeviceField>,
): Result<Linear, NoDeviceField> {
  const places = used.map((datum) => known?.indexOf(datum) ?? -1);
  if (shown_K === undefined || slopes_K === undefined || places.includes(-1)) return find();
  return found({
    soaks,
    used,
    logs,
    slopesAt: logs,
    shown_K: Float64Array.from(places, (place) => shown_K[place] as number),
    slopes_K: places.map((place) => slopes_K[place] as Float64Array),
  });
}

/** How far a step goes in the unknown that it moves most, in prior spreads. */
function farthestOf({ unknowns }: Pick<Soaks, 'unknowns'>, from: Float64Array, to: Float64Array): number {
  return unknowns.reduce(
    (most, { spread }, index) =>
      Math.max(most, Math.abs((to[index] as number) - (from[index] as number)) / spread),
    0,
  );
}

/** Factors by id, from their logarithms. */
export function factorsFrom(soaks: Pick<Soaks, 'unknowns'>, logs: Float64Array): Map<string, number> {
  return new Map(soaks.unknowns.map(({ id }, index) => [id, Math.exp(logs[index] as number)]));
}

function gather(
  soaks: Soaks,
  states: readonly number[],
  logs: Float64Array,
  isCancelled: (() => boolean) | undefined,
  onProgress: (share: number) => void,
): Result<{ shown_K: Float64Array; slopes_K: Float64Array[] }, NoDeviceField> {
  const factors = factorsFrom(soaks, logs);
  const shown: number[] = [];
  const slopes_K: Float64Array[] = [];
  for (const [place, state] of states.entries()) {
    const answered = soaks.respond(state, factors, isCancelled);
    if (!answered.ok) return answered;
    shown.push(...answered.value.rise_K);
    slopes_K.push(...answered.value.slopes_K);
    onProgress((place + 1) / states.length);
  }
  return found({ shown_K: Float64Array.from(shown), slopes_K });
}

/** What the model shows of each state, one after the other. */
function show(
  soaks: Soaks,
  states: readonly number[],
  logs: Float64Array,
  isCancelled: (() => boolean) | undefined,
  onProgress: (share: number) => void,
): Result<Float64Array, NoDeviceField> {
  const factors = factorsFrom(soaks, logs);
  const shown: number[] = [];
  for (const [place, state] of states.entries()) {
    const rises_K = soaks.show(state, factors, isCancelled);
    if (!rises_K.ok) return rises_K;
    shown.push(...rises_K.value);
    onProgress((place + 1) / states.length);
  }
  return found(Float64Array.from(shown));
}

interface Linear {
  readonly soaks: Soaks;
  /** Logarithms that the slopes belong to: these, or some near by. */
  readonly slopesAt: Float64Array;
  readonly used: readonly number[];
  readonly shown_K: Float64Array;
  readonly slopes_K: readonly Float64Array[];
  readonly logs: Float64Array;
}

/** Covariance of the data about the model with its unknowns at their truth, K². */
function dataCovariance({ soaks, used }: Pick<Linear, 'soaks' | 'used'>, modelError: number): Float64Array {
  const n = used.length;
  const matrix = new Float64Array(n * n);
  used.forEach((datum, i) => {
    used.forEach((other, j) => {
      matrix[i * n + j] = soaks.data.covariance_K2[datum]?.[other] as number;
    });
    const rise_K = soaks.data.data[datum]?.rise_K as number;
    matrix[i * n + i] = (matrix[i * n + i] as number) + (modelError * rise_K) ** 2 + least_K2;
  });
  return matrix;
}

/** No mean of readings in hundredths is better than this. */
const least_K2 = 1e-4;

/**
 * The sum that a fit makes small: residuals over their covariance, and unknowns over their priors, with the logarithm of the covariance's
 * determinant. One more is one standard deviation from the least there is.
 */
export function misfit(
  soaks: Soaks,
  { used, shown_K, logs, modelError }: Pick<Fit, 'used' | 'shown_K' | 'logs' | 'modelError'>,
): number {
  const n = used.length;
  const weight = dataCovariance({ soaks, used }, modelError);
  const logDet = invertSymmetric(weight, n);
  const left = used.map((datum, i) => (soaks.data.data[datum]?.rise_K as number) - (shown_K[i] as number));
  let sum = logDet;
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      sum += (left[i] as number) * (weight[i * n + j] as number) * (left[j] as number);
  soaks.unknowns.forEach(({ spread }, index) => {
    sum += ((logs[index] as number) / spread) ** 2;
  });
  return sum;
}

/** What the data would be without their unknowns' present values: the right-hand side of a linear step. */
function offsets({ soaks, used, shown_K, slopes_K, logs }: Linear): Float64Array {
  return Float64Array.from(used, (datum, i) => {
    const slopes = slopes_K[i] as Float64Array;
    const already = slopes.reduce((sum, slope, column) => sum + slope * (logs[column] as number), 0);
    return (soaks.data.data[datum]?.rise_K as number) - (shown_K[i] as number) + already;
  });
}

function stepFrom(linear: Linear, modelError: number): { logs: Float64Array; covariance: Float64Array[] } {
  const { soaks, used, slopes_K } = linear;
  const n = used.length;
  const p = soaks.unknowns.length;
  const weight = dataCovariance(linear, modelError);
  invertSymmetric(weight, n);
  const right = offsets(linear);
  const normal = new Float64Array(p * p);
  const pulled = new Float64Array(p);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const w = weight[i * n + j] as number;
      if (w === 0) continue;
      const [one, other] = [slopes_K[i] as Float64Array, slopes_K[j] as Float64Array];
      for (let a = 0; a < p; a++) {
        const wa = w * (one[a] as number);
        pulled[a] = (pulled[a] as number) + wa * (right[j] as number);
        for (let b = 0; b < p; b++)
          normal[a * p + b] = (normal[a * p + b] as number) + wa * (other[b] as number);
      }
    }
  }
  soaks.unknowns.forEach(({ spread }, a) => {
    normal[a * p + a] = (normal[a * p + a] as number) + 1 / spread ** 2;
  });
  invertSymmetric(normal, p);
  const covariance = Array.from({ length: p }, (_, a) => normal.slice(a * p, (a + 1) * p));
  const logs = Float64Array.from(covariance, (row) =>
    row.reduce((sum, value, b) => sum + value * (pulled[b] as number), 0),
  );
  return { logs, covariance };
}

/** The model's error under which the data are likeliest, unknowns averaged over their priors, with its own prior. */
function likeliestError(linear: Linear): number {
  let best = { error: usualError.median, score: Number.POSITIVE_INFINITY };
  for (const error of errorsTried) {
    const off = Math.log(error / usualError.median) / usualError.spread;
    const score = deviance(linear, error) + off * off;
    if (score < best.score) best = { error, score };
  }
  return best.error;
}

/** Minus twice the logarithm of the likelihood, but for a constant. */
function deviance(linear: Linear, modelError: number): number {
  const { soaks, used, slopes_K } = linear;
  const n = used.length;
  const matrix = dataCovariance(linear, modelError);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      let sum = 0;
      soaks.unknowns.forEach(({ spread }, a) => {
        sum += spread ** 2 * (slopes_K[i]?.[a] as number) * (slopes_K[j]?.[a] as number);
      });
      matrix[i * n + j] = (matrix[i * n + j] as number) + sum;
    }
  }
  const logDet = invertSymmetric(matrix, n);
  const right = offsets(linear);
  let square = 0;
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      square += (right[i] as number) * (matrix[i * n + j] as number) * (right[j] as number);
  return logDet + square;
}
