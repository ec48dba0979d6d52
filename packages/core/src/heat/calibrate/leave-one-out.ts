import { found, type Result } from '../../measure/index.js';
import { type Fit, fitUnknowns, type NoFit } from './fit-unknowns.js';
import { predictSetup } from './predict.js';
import type { Soaks } from './soaks.js';

/** One measured rise, predicted from every other set-up's. */
export interface LeftOut {
  readonly setup: string;
  readonly probe: string;
  readonly measured_K: number;
  readonly measured_u_K: number;
  readonly predicted_K: number;
  /** Of the prediction alone, before any widening. */
  readonly predicted_u_K: number;
}

/** How well the model predicts what it was not shown. */
export interface LeaveOneOut {
  readonly rows: readonly LeftOut[];
  /** Root mean square of predicted less measured, K; of cell probes and of all. Null where there is none. */
  readonly cells_K: number | null;
  readonly all_K: number | null;
  /** What the doubts have to be multiplied by to cover what happened; at least 1. */
  readonly widening: number;
}

/** Set-ups are too few to trust a good agreement: so many rows that agree as they should are added. @assumed common practice, no source */
const addedRows = 4;

/**
 * Leaves out each set-up in turn with all its runs, fits to the others, and predicts it.
 *
 * Refused with one set-up: nothing is left to fit to. The load's own heat and the device stay known; what is tested is the step from known
 * set-ups to an unknown one, which is what a prediction is asked for.
 */
export function leaveOneOut(
  soaks: Soaks,
  fit: Fit,
  options: { readonly isCancelled?: () => boolean; readonly onProgress?: (share: number) => void } = {},
): Result<LeaveOneOut | null, NoFit> {
  const setups = [...new Set(soaks.data.states.map(({ setup }) => setup))];
  if (setups.length < 2) return found(null);
  const rows: LeftOut[] = [];
  for (const [place, setup] of setups.entries()) {
    const own = soaks.data.states.flatMap((state, index) => (state.setup === setup ? [index] : []));
    const others = fitUnknowns(soaks, {
      without: own,
      near: fit,
      ...(options.isCancelled === undefined ? {} : { isCancelled: options.isCancelled }),
    });
    if (!others.ok) return others;
    for (const state of own) {
      const soak = soaks.data.states[state];
      // A charge's heat is only known from soaks under charge: without them there is nothing to test.
      if (soak === undefined || (soak.charging && !hasOtherCharge(soaks, setup))) continue;
      const predicted = predictSetup(soaks, others.value, soaks.solverOf(setup), soak, 1, options);
      if (!predicted.ok) return predicted;
      for (const { datum } of soaks.readingsOf(state)) {
        const { probe, rise_K, u_K } = soaks.data.data[datum] as (typeof soaks.data.data)[number];
        const rise = predicted.value.rises.find(({ target }) => target.probe === probe);
        if (rise === undefined) continue;
        rows.push({
          setup,
          probe,
          measured_K: rise_K,
          measured_u_K: u_K,
          predicted_K: rise.rise_K.value,
          predicted_u_K: rise.rise_K.u,
        });
      }
    }
    options.onProgress?.((place + 1) / setups.length);
  }
  const isCell = ({ probe }: LeftOut) => soaks.build.probes.find(({ id }) => id === probe)?.place === 'cell';
  return found({
    rows,
    cells_K: rms(rows.filter(isCell)),
    all_K: rms(rows),
    widening: widen(rows),
  });
}

function hasOtherCharge({ data }: Soaks, setup: string): boolean {
  return data.states.some((state) => state.charging && state.setup !== setup);
}

function rms(rows: readonly LeftOut[]): number | null {
  if (rows.length === 0) return null;
  return Math.sqrt(
    rows.reduce((sum, { predicted_K, measured_K }) => sum + (predicted_K - measured_K) ** 2, 0) / rows.length,
  );
}

function widen(rows: readonly LeftOut[]): number {
  const squares = rows.reduce(
    (sum, { predicted_K, measured_K, predicted_u_K, measured_u_K }) =>
      sum + (predicted_K - measured_K) ** 2 / (predicted_u_K ** 2 + measured_u_K ** 2),
    0,
  );
  return Math.max(1, Math.sqrt((squares + addedRows) / (rows.length + addedRows)));
}
