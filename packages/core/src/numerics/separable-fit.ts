/**
 * Least squares where most parameters enter linearly and a few do not: y = Σ linear[i] · basis[i](x; shape).
 * For every trial of the few, the many are solved exactly, so only one or two numbers are ever searched.
 */
import { type LeastSquares, solveLeastSquares, solveWithCovariance } from './least-squares.js';

export interface SeparableModel {
  /** The basis columns at these shape parameters. */
  readonly columns: (shape: readonly number[]) => Float64Array[];
  /** Derivatives of each basis column by each shape parameter, `slopes[shape][column]`; null where it is zero. */
  readonly slopes: (shape: readonly number[]) => (Float64Array | null)[][];
}

export interface SeparableFit {
  readonly shape: readonly number[];
  readonly linear: Float64Array;
  readonly rss: number;
  readonly dof: number;
  /** Covariance over residual variance, for [linear..., shape...] row by row. */
  readonly unscaled: Float64Array;
  readonly residuals: Float64Array;
  readonly iterations: number;
}

/**
 * Levenberg-Marquardt on the shape parameters' logarithms with the linear ones projected out.
 *
 * @param start positive shape parameters (rates or time constants)
 * @param closeness relative change of the shape parameters at which to stop
 * @returns null where the columns become dependent or 500 steps do not settle it
 * @source [GOLUB-PEREYRA-73] variable projection, with the Jacobian of [KAUFMAN-75]; damping after [MARQUARDT-63]
 */
export function fitSeparable(
  model: SeparableModel,
  y: Float64Array,
  start: readonly number[],
  closeness = 1e-11,
): SeparableFit | null {
  const count = start.length;
  let logs = start.map(Math.log);
  let state = project(model, y, logs);
  if (state === null) return null;
  let damping = 1e-3;
  let iterations = 0;
  let settled = false;
  while (iterations < 500 && !settled) {
    iterations += 1;
    const jacobian = reducedJacobian(model, state);
    let improved = false;
    for (let attempt = 0; attempt < 40; attempt++) {
      const step = dampedStep(jacobian, state.residuals, damping);
      if (step === null) {
        damping *= 10;
        continue;
      }
      const trialLogs = logs.map((value, i) => value + clamp(step[i] as number, 2));
      const trial = project(model, y, trialLogs);
      const size = Math.max(...Array.from(step, Math.abs));
      if (trial !== null && trial.solution.rss <= state.solution.rss) {
        settled =
          size < closeness ||
          (size < 1e-7 && state.solution.rss - trial.solution.rss <= 1e-15 * state.solution.rss);
        logs = trialLogs;
        state = trial;
        damping = Math.max(damping / 10, 1e-15);
        improved = true;
        break;
      }
      if (size < 1e-8) break; // rounding, not descent, decides below this
      damping *= 10;
    }
    if (!improved) settled = true;
  }
  return settled ? finish(model, y, state, count, iterations) : null;
}

/**
 * The fit at shape parameters that were found elsewhere: linear parameters, residuals and covariance, without a search.
 *
 * @returns null where the columns are dependent
 */
export function describeSeparable(
  model: SeparableModel,
  y: Float64Array,
  shape: readonly number[],
): SeparableFit | null {
  const state = project(model, y, shape.map(Math.log));
  return state === null ? null : finish(model, y, state, shape.length, 0);
}

interface Projected {
  readonly shape: number[];
  readonly columns: Float64Array[];
  readonly solution: LeastSquares;
  readonly residuals: Float64Array;
}

function clamp(value: number, bound: number): number {
  return Math.max(-bound, Math.min(bound, value));
}

function project(model: SeparableModel, y: Float64Array, logs: readonly number[]): Projected | null {
  const shape = logs.map(Math.exp);
  if (!shape.every((value) => value > 0 && Number.isFinite(value))) return null;
  const columns = model.columns(shape);
  const solution = solveLeastSquares(columns, y);
  if (solution === null || !Number.isFinite(solution.rss)) return null;
  const residuals = y.slice();
  for (const [k, column] of columns.entries()) {
    const weight = solution.x[k] as number;
    for (let i = 0; i < y.length; i++)
      residuals[i] = (residuals[i] as number) - weight * (column[i] as number);
  }
  return { shape, columns, solution, residuals };
}

/** Change of the fitted curve with each log-shape, the part that the linear columns could follow taken out. */
function reducedJacobian(model: SeparableModel, state: Projected): Float64Array[] {
  const slopes = model.slopes(state.shape);
  return slopes.map((bySlope, p) => {
    const direction = new Float64Array(state.residuals.length);
    for (const [k, slope] of bySlope.entries()) {
      if (slope === null) continue;
      const weight = (state.solution.x[k] as number) * (state.shape[p] as number);
      for (let i = 0; i < direction.length; i++)
        direction[i] = (direction[i] as number) + weight * (slope[i] as number);
    }
    const along = solveLeastSquares(state.columns, direction);
    if (along === null) return direction;
    for (const [k, column] of state.columns.entries()) {
      const weight = along.x[k] as number;
      for (let i = 0; i < direction.length; i++)
        direction[i] = (direction[i] as number) - weight * (column[i] as number);
    }
    return direction;
  });
}

/** min |J s - r|² + damping |D s|², D the column norms, solved by appending D as further rows. */
function dampedStep(
  jacobian: readonly Float64Array[],
  residuals: Float64Array,
  damping: number,
): Float64Array | null {
  const count = jacobian.length;
  const rows = residuals.length;
  const stacked = jacobian.map((column, k) => {
    const extended = new Float64Array(rows + count);
    extended.set(column);
    let norm = 0;
    for (const value of column) norm += value * value;
    extended[rows + k] = Math.sqrt(damping * norm);
    return extended;
  });
  const right = new Float64Array(rows + count);
  right.set(residuals);
  return solveLeastSquares(stacked, right)?.x ?? null;
}

function finish(
  model: SeparableModel,
  y: Float64Array,
  state: Projected,
  count: number,
  iterations: number,
): SeparableFit | null {
  const slopes = model.slopes(state.shape);
  const shapeColumns = slopes.map((bySlope) => {
    const column = new Float64Array(y.length);
    for (const [k, slope] of bySlope.entries()) {
      if (slope === null) continue;
      const weight = state.solution.x[k] as number;
      for (let i = 0; i < column.length; i++)
        column[i] = (column[i] as number) + weight * (slope[i] as number);
    }
    return column;
  });
  const full = solveWithCovariance([...state.columns, ...shapeColumns], state.residuals);
  if (full === null) return null;
  return {
    shape: state.shape,
    linear: state.solution.x,
    rss: state.solution.rss,
    dof: y.length - state.columns.length - count,
    unscaled: full.unscaled,
    residuals: state.residuals,
    iterations,
  };
}
