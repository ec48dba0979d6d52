import { found, type Result } from '../../measure/index.js';
import { leavesSoaked } from './beyond.js';
import type { SoakState } from './calibration-data.js';
import { type Fit, fitUnknowns, type NoFit } from './fit-unknowns.js';
import { predictSetup } from './predict.js';
import type { Soaks } from './soaks.js';
import { widen } from './widen.js';

/** One measured rise, predicted from every other set-up's. */
export interface LeftOut {
  readonly setup: string;
  readonly charging: boolean;
  readonly phase: 'idle' | 'load';
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
  /** Root mean square of predicted less measured under load, K; of cell probes and of all. Null where there is none. */
  readonly cells_K: number | null;
  readonly all_K: number | null;
  /** What the doubts have to be multiplied by to cover what happened; at least 1. */
  readonly widening: number;
  /** The same over the set-ups that left what the others have, and in how many layers the farthest of them did; null where none did. */
  readonly beyond: { readonly widening: number; readonly layers: number } | null;
}

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
  const farther: LeftOut[] = [];
  let layers = 0;
  for (const [place, setup] of setups.entries()) {
    const leaves = countLeaves(soaks, setup, setups);
    const own = soaks.data.states.flatMap((state, index) => (state.setup === setup ? [index] : []));
    const others = fitUnknowns(soaks, {
      without: own,
      near: fit,
      ...(options.isCancelled === undefined ? {} : { isCancelled: options.isCancelled }),
    });
    if (!others.ok) return others;
    for (const state of own) {
      const soak = soaks.data.states[state];
      if (soak === undefined || !isChargeKnown(soaks, soak)) continue;
      const predicted = predictSetup(soaks, others.value, soaks.solverOf(setup), soak, 1, {
        ...options,
        // From nothing: what other folds left behind hangs on the very runs that are left out.
        asks: ({ kind }) => kind === 'probe',
      });
      if (!predicted.ok) return predicted;
      for (const { datum } of soaks.readingsOf(state)) {
        const { probe, rise_K, u_K } = soaks.data.data[datum] as (typeof soaks.data.data)[number];
        const rise = predicted.value.rises.find(({ target }) => target.probe === probe);
        if (rise === undefined) continue;
        rows.push({
          setup,
          charging: soak.charging,
          phase: soak.phase,
          probe,
          measured_K: rise_K,
          measured_u_K: u_K,
          predicted_K: rise.rise_K.value,
          predicted_u_K: rise.rise_K.u,
        });
      }
    }
    if (leaves > 0) {
      layers = Math.max(layers, leaves);
      farther.push(...rows.filter((row) => row.setup === setup));
    }
    options.onProgress?.((place + 1) / setups.length);
  }
  const loaded = rows.filter(({ phase }) => phase === 'load');
  const isCell = ({ probe }: LeftOut) => soaks.build.probes.find(({ id }) => id === probe)?.place === 'cell';
  return found({
    rows,
    cells_K: rms(loaded.filter(isCell)),
    all_K: rms(loaded),
    widening: widen(rows),
    beyond: farther.length === 0 ? null : { widening: widen(farther), layers },
  });
}

/**
 * Whether there is anything to predict a soak under charge from, with its own set-up left out: another set-up's soak under charge, or the
 * pack's resistance and current. A usual charger's usual loss is a guess, and there is nothing to learn from how far off a guess was.
 */
function isChargeKnown({ data, shares }: Soaks, { charging, setup }: SoakState): boolean {
  return (
    !charging ||
    shares.pack.charge?.unknown.adds === true ||
    data.states.some((state) => state.charging && state.setup !== setup)
  );
}

/** In how many layers a set-up leaves what the other soaked ones have. */
function countLeaves({ build }: Soaks, id: string, soaked: readonly string[]): number {
  const setup = build.setups.find((each) => each.id === id);
  return setup === undefined
    ? 0
    : leavesSoaked(build, setup, new Set(soaked.filter((other) => other !== id))).length;
}

function rms(rows: readonly LeftOut[]): number | null {
  if (rows.length === 0) return null;
  return Math.sqrt(
    rows.reduce((sum, { predicted_K, measured_K }) => sum + (predicted_K - measured_K) ** 2, 0) / rows.length,
  );
}
