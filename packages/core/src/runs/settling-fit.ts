/** The curve of a body that settles: a plateau approached by none, one or two exponentials, with a looped load on top. */
import {
  correlationTime,
  describeSeparable,
  type SeparableFit,
  type SeparableModel,
  solveLeastSquares,
  solveWithCovariance,
} from '../numerics/index.js';
import { type SearchEnd, searchDecays } from './decay-search.kernel.js';
import { explainedByTwo, orthonormalBasis, product } from './orthonormal-basis.js';

export interface SettlingFit {
  readonly plateau_K: number;
  /** Standard uncertainty of the plateau from this fit, correlation of the residuals included. */
  readonly u_K: number;
  readonly dof: number;
  /** Fastest first; `level = plateau - Σ amplitude exp(-t/τ)`. */
  readonly terms: readonly { readonly tau_s: number; readonly u_s: number; readonly amplitude_K: number }[];
  readonly residual_K: number;
  readonly inflation: number;
  readonly residuals: Float64Array;
}

/** What a curve has still to go at a time, K; negative where it falls. */
export function remainingAt({ terms }: SettlingFit, t_s: number): number {
  return terms.reduce((sum, term) => sum + term.amplitude_K * Math.exp(-t_s / term.tau_s), 0);
}

/** Overtones of the load's loop that the fit follows: a switched load has strong first and third ones. */
const overtones = 3;

/**
 * Fits the settling curve to a rise.
 *
 * A looped load adds sines of its period, so that the plateau is the mean over whole loops without cutting the data to
 * them. The number of exponentials is chosen by Akaike's criterion for small samples, counting correlated residuals as the
 * fewer independent ones they are worth.
 *
 * @param t_s seconds since the phase began, rising
 * @param rise_K as many rises
 * @param loop_s period of the load, or null
 * @returns null where the data follow no such curve
 * @source [BURNHAM-ANDERSON] Eq. 2.4 for the criterion; [GEYER-92] for the correlation
 */
export function fitSettling(
  t_s: Float64Array,
  rise_K: Float64Array,
  loop_s: number | null,
): SettlingFit | null {
  for (const candidate of rankCurves(t_s, rise_K, loop_s, tellsCurvesApart)) {
    const fit = candidate.fit();
    if (fit !== null) return describe(fit, candidate.parameters, rise_K.length);
  }
  return null;
}

/**
 * The first look at a rise: time constants to a hundredth and what the curve leaves over, without doubts or a plateau.
 *
 * @returns null where the data follow no such curve
 */
export function sketchSettling(
  t_s: Float64Array,
  rise_K: Float64Array,
  loop_s: number | null,
): Pick<Candidate, 'taus_s' | 'residuals'> | null {
  return rankCurves(t_s, rise_K, loop_s, sketched)[0] ?? null;
}

/** The curves that the data may follow, the best first. */
function rankCurves(
  t_s: Float64Array,
  rise_K: Float64Array,
  loop_s: number | null,
  end: SearchEnd,
): readonly Candidate[] {
  const fixed = [new Float64Array(t_s.length).fill(1), ...(loop_s === null ? [] : loopColumns(t_s, loop_s))];
  const level = fitLevel(t_s, rise_K, fixed);
  const curves = fitExponentials(t_s, rise_K, fixed, end);
  const candidates =
    level !== null && (curves.length > 0 || isLevel(t_s, level)) ? [level, ...curves] : curves;
  const richest = candidates.at(-1);
  if (richest === undefined) return [];
  const independent = rise_K.length / inflationOf(richest.residuals);
  const score = ({ rss, parameters }: Candidate) =>
    smallSampleScore(rss / rise_K.length, parameters, independent);
  // Equal scores, infinite ones among them, leave the richest first.
  return [...candidates].reverse().sort((a, b) => order(score(a), score(b)));
}

function order(a: number, b: number): number {
  return a === b ? 0 : a - b;
}

/** A trend smaller than this over the phase counts as none where no curve could be fitted. @assumed a fifth of the effect at stake */
const levelWithin_K = 0.2;

/** Whether what a constant leaves over shows no trend: otherwise the data follow no curve we know. */
function isLevel(t_s: Float64Array, level: Candidate): boolean {
  const trend = solveLeastSquares([new Float64Array(t_s.length).fill(1), t_s], level.residuals);
  return (
    trend !== null &&
    Math.abs((trend.x[1] as number) * ((t_s.at(-1) as number) - (t_s[0] as number))) < levelWithin_K
  );
}

/** A curve that may describe the data: how well it does is known at once, the exact fit is made for the one that is taken. */
interface Candidate {
  readonly rss: number;
  /** Fastest first. */
  readonly taus_s: readonly number[];
  readonly residuals: Float64Array;
  readonly parameters: number;
  readonly fit: () => ExactFit | null;
}

type ExactFit = Pick<SeparableFit, 'linear' | 'shape' | 'rss' | 'unscaled' | 'residuals'>;

function smallSampleScore(variance: number, parameters: number, independent: number): number {
  const spare = independent - parameters - 2;
  if (spare <= 0) return Number.POSITIVE_INFINITY;
  const k = parameters + 1; // the residual variance is estimated too
  return independent * Math.log(variance) + 2 * k + (2 * k * (k + 1)) / spare;
}

function inflationOf(residuals: Float64Array): number {
  return Math.max(1, correlationTime(residuals));
}

function describe(fit: ExactFit, parameters: number, count: number): SettlingFit {
  const inflation = inflationOf(fit.residuals);
  const size = Math.sqrt(fit.unscaled.length);
  const variance = (fit.rss / (count - parameters)) * inflation;
  const u = (index: number) => Math.sqrt(variance * (fit.unscaled[index * size + index] as number));
  const firstShape = size - fit.shape.length;
  const terms = fit.shape.map((tau_s, p) => ({
    tau_s,
    u_s: u(firstShape + p),
    amplitude_K: -(fit.linear[1 + p] as number),
  }));
  return {
    plateau_K: fit.linear[0] as number,
    u_K: u(0),
    dof: Math.max(1, count / inflation - parameters),
    terms: terms.sort((a, b) => a.tau_s - b.tau_s),
    residual_K: Math.sqrt(fit.rss / (count - parameters)),
    inflation,
    residuals: fit.residuals,
  };
}

function loopColumns(t_s: Float64Array, loop_s: number): Float64Array[] {
  return Array.from({ length: overtones }, (_, h) => (2 * Math.PI * (h + 1)) / loop_s).flatMap((omega) => [
    t_s.map((t) => Math.cos(omega * t)),
    t_s.map((t) => Math.sin(omega * t)),
  ]);
}

function fitLevel(t_s: Float64Array, rise_K: Float64Array, fixed: readonly Float64Array[]): Candidate | null {
  const solution = solveWithCovariance(fixed, rise_K);
  if (solution === null || t_s.length - fixed.length < 4) return null;
  const residuals = rise_K.map((value, i) =>
    fixed.reduce((left, column, k) => left - (solution.x[k] as number) * (column[i] as number), value),
  );
  const { x: linear, rss, unscaled } = solution;
  const fit = { linear, shape: [], rss, unscaled, residuals };
  return { rss, taus_s: [], residuals, parameters: fixed.length, fit: () => fit };
}

function decay(t_s: Float64Array, tau: number): Float64Array {
  const column = new Float64Array(t_s.length);
  for (let i = 0; i < column.length; i++) column[i] = Math.exp(-(t_s[i] as number) / tau);
  return column;
}

/** Derivative of `decay` by its time constant. */
function decaySlope(t_s: Float64Array, tau: number): Float64Array {
  const column = new Float64Array(t_s.length);
  for (let i = 0; i < column.length; i++) {
    const x = (t_s[i] as number) / tau;
    column[i] = (x / tau) * Math.exp(-x);
  }
  return column;
}

/** Enough to choose between curves: what a step gains that is left out changes no score by more than a few ten-thousandths. */
const tellsCurvesApart: SearchEnd = { closeness: 1e-4, flatness: 1e-6 };

/** Enough for a first look. */
const sketched: SearchEnd = { closeness: 1e-2, flatness: 1e-5 };

/** Time constants of the chosen curve: the last step is far below their own doubt, and what it leaves is smaller still. */
const fine: SearchEnd = { closeness: 1e-7, flatness: 0 };

/** The plateau column first, then one decay per time constant, then the loop. */
function fullModel(t_s: Float64Array, [ones, ...loops]: readonly Float64Array[]): SeparableModel {
  return {
    columns: (taus) => [ones as Float64Array, ...taus.map((tau) => decay(t_s, tau)), ...loops],
    slopes: (taus) =>
      taus.map((tau, p) => [
        null,
        ...taus.map((_, k) => (k === p ? decaySlope(t_s, tau) : null)),
        ...loops.map(() => null),
      ]),
  };
}

function fitExponentials(
  t_s: Float64Array,
  rise_K: Float64Array,
  fixed: readonly Float64Array[],
  end: SearchEnd,
): Candidate[] {
  const span = (t_s.at(-1) as number) - (t_s[0] as number);
  const { basis, clear } = orthonormalBasis(fixed);
  const left = clear(rise_K);
  const taus = Array.from({ length: 12 }, (_, i) => (span / 60) * 240 ** (i / 11)); // span/60 to 4 spans
  const bestOf = startGrid(
    taus.map((tau) => clear(decay(t_s, tau))),
    left,
  );
  const search = (taus: number[], end: SearchEnd) =>
    searchDecays(t_s, left, basis, taus, shortestTau * span, longestTau * span, end);
  const fitFrom = (start: readonly number[]): Candidate | null => {
    const taus_s = [...start];
    const parameters = fixed.length + 2 * taus_s.length;
    if (t_s.length - parameters < 4) return null;
    const found = search(taus_s, end);
    if (found === null || !areApart(taus_s)) return null;
    const fit = () => {
      const exact = [...taus_s];
      return search(exact, fine) === null ? null : describeSeparable(fullModel(t_s, fixed), rise_K, exact);
    };
    return { ...found, taus_s: taus_s.sort((a, b) => a - b), parameters, fit };
  };
  const one = fitFrom([taus[bestOf.one] as number]);
  const two = t_s.length >= 12 ? fitFrom(bestOf.two.map((i) => taus[i] as number)) : null;
  return [one, two].filter((fit) => fit !== null);
}

/** Time constants the data can speak of, as shares of the span: longer than the spacing, not many times the span. */
const shortestTau = 1 / 500;
const longestTau = 20;

/** Two time constants nearer to each other than this are one. */
function areApart(taus: readonly number[]): boolean {
  return taus.length < 2 || Math.max(...taus) > 1.8 * Math.min(...taus);
}

/** Where to start: the best single decay of a grid, and the best pair that is not neighbours, by their sums of products. */
function startGrid(
  columns: readonly Float64Array[],
  y: Float64Array,
): { one: number; two: [number, number] } {
  const onto = columns.map((column) => product(column, y));
  const gram: number[][] = [];
  for (const [i, a] of columns.entries())
    gram.push(columns.map((b, j) => (j < i ? (gram[j]?.[i] as number) : product(a, b))));
  const gain = (i: number) => (onto[i] as number) ** 2 / (gram[i]?.[i] as number);
  const gramAt = (i: number, j: number) => gram[i]?.[j] as number;
  const gainOfPair = (i: number, j: number) =>
    explainedByTwo(gramAt(i, i), gramAt(i, j), gramAt(j, j), onto[i] as number, onto[j] as number);
  let one = 0;
  let two: [number, number] = [0, Math.min(2, columns.length - 1)];
  for (let slow = 0; slow < columns.length; slow++) {
    if (gain(slow) > gain(one)) one = slow;
    for (let fast = 0; fast < slow - 1; fast++)
      if (gainOfPair(fast, slow) > gainOfPair(...two)) two = [fast, slow];
  }
  return { one, two };
}
