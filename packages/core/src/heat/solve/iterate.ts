import { found, OutOfRangeError, type Result, refused } from '../../measure/index.js';
import type { HeatNetwork } from './network.js';
import {
  type HeatSolver,
  type NoField,
  prepareSolver,
  type SolveOptions,
  type SteadyField,
} from './solver.js';

/** Coefficients at a field: those of the first round are asked for with nothing known. */
export type CoefficientsAt = (rise_K: Float64Array | undefined) => {
  readonly network: HeatNetwork;
  readonly source_W: Float64Array;
};

export interface SettleOptions extends Omit<SolveOptions, 'start' | 'into'> {
  /** The field is taken as settled once no cell moves by more than this in a round, K. */
  readonly within_K: number;
  readonly maxRounds?: number;
  /** Share of each round's move that is made, above 0 to 1; less than 1 calms rounds that overshoot. */
  readonly relaxation?: number;
  readonly start?: Float64Array;
  readonly engine?: 'typescript' | 'wasm';
  /** Solver to use again, so that its memory serves many set-ups of the same counts. */
  readonly solver?: HeatSolver;
}

export interface SettledField extends SteadyField {
  readonly rounds: number;
  /** Greatest move of any cell in the last round, K. */
  readonly moved_K: number;
}

export type NotSettled =
  | NoField
  | { readonly kind: 'not-settled'; readonly rounds: number; readonly moved_K: number };

/**
 * Steady rise where coefficients depend on it: radiation, free convection, conductivities. Solves, asks for the
 * coefficients at the answer, and solves again until the field stays where it is.
 *
 * How much a field moves is not how far it is from settled: where each round moves it half as far as the last, the moves
 * still to come add up to the last one. Ask for a tenth of what matters.
 *
 * @param coefficientsAt gives network and source at a field; at undefined, those to begin with
 * @throws OutOfRangeError for within_K not above 0 or relaxation outside (0, 1]
 * @source derived here: fixed-point iteration
 */
export function iterateSolve(
  coefficientsAt: CoefficientsAt,
  options: SettleOptions,
): Result<SettledField, NotSettled> {
  const { within_K, maxRounds = 50, relaxation = 1, start, engine, ...solveOptions } = options;
  if (!(within_K > 0)) throw new OutOfRangeError('within_K', within_K, [Number.MIN_VALUE, Infinity]);
  if (!(relaxation > 0 && relaxation <= 1)) {
    throw new OutOfRangeError('relaxation', relaxation, [Number.MIN_VALUE, 1]);
  }
  let solver = options.solver;
  let last = start;
  let moved_K = Infinity;
  let iterations = 0;
  for (let rounds = 1; rounds <= maxRounds; rounds++) {
    const { network, source_W } = coefficientsAt(last);
    if (solver) solver.prepare(network);
    else solver = prepareSolver(network, engine ? { engine } : {});
    const answer = solver.solve(source_W, last ? { ...solveOptions, start: last } : solveOptions);
    if (!answer.ok) return answer;
    iterations += answer.value.iterations;
    const { rise_K } = answer.value;
    moved_K = last ? greatestMove(last, rise_K) : Infinity;
    if (moved_K <= within_K) return found({ ...answer.value, iterations, rounds, moved_K });
    if (last && relaxation < 1) {
      for (let c = 0; c < rise_K.length; c++) rise_K[c] = last[c]! + relaxation * (rise_K[c]! - last[c]!);
    }
    last = rise_K;
  }
  return refused({ kind: 'not-settled', rounds: maxRounds, moved_K });
}

function greatestMove(a: Float64Array, b: Float64Array): number {
  let most = 0;
  for (let c = 0; c < a.length; c++) {
    const move = Math.abs(a[c]! - b[c]!);
    if (!(move <= most)) most = move;
  }
  return most;
}
