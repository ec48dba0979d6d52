import { mean } from '../numerics/index.js';
import type { Build } from '../records/index.js';
import type { RunResult } from '../runs/index.js';
import { collectObservations } from './collect-observations.js';
import { type CompareOptions, compareSetups } from './compare-setups.js';
import type { Contest, Quantity } from './contest.js';

/** The same comparison with every rise brought to one power. */
export interface PerWatt {
  /** The power the rises are brought to, the mean of the runs'. */
  readonly load_W: number;
  /** Rises and differences at that power, K; divided by it they are thermal resistances. */
  readonly contest: Contest;
}

/**
 * Compares rises per watt, where every counted run of the quantity has its power noted: two runs at unlike powers are then
 * still alike. A rise is taken to be proportional to the power of the run, which idle heat and a charge both break; so it
 * speaks of load without charging only.
 *
 * A power's own doubt enters each run's. Where none is recorded it counts as exact, and the contest's notes say so.
 *
 * @returns null where a run has no power noted, or the phase is not load
 * @source derived: u²(r P₀/P) = (P₀/P)² (u²(r) + r² u²(P)/P²), [JCGM-100] Eq. 10
 */
export function comparePerWatt(
  build: Pick<Build, 'runs'>,
  runs: readonly RunResult[],
  quantity: Quantity,
  baseline: string,
  options: CompareOptions = {},
): PerWatt | null {
  if (quantity.phase !== 'load' || quantity.charging) return null;
  const observations = collectObservations(runs, quantity);
  const powers = observations.map(({ run }) => build.runs.find(({ id }) => id === run)?.conditions);
  const loads_W = powers.flatMap((conditions) => conditions?.load_W ?? []).filter((load_W) => load_W > 0);
  if (observations.length === 0 || loads_W.length < observations.length) return null;
  const load_W = mean(loads_W);
  const contest = compareSetups(
    quantity,
    observations.map((run, index) => {
      const own_W = loads_W[index] as number;
      const scale = load_W / own_W;
      const share = (powers[index]?.load_u_W ?? 0) / own_W;
      return {
        ...run,
        rise_K: run.rise_K * scale,
        u_K: Math.hypot(run.u_K, run.rise_K * share) * scale,
      };
    }),
    baseline,
    options,
  );
  const unknown = powers.filter((conditions) => conditions?.load_u_W === undefined).length;
  const note = `The power of ${unknown} of ${powers.length} runs has no doubt recorded and counts as exact.`;
  return { load_W, contest: unknown === 0 ? contest : { ...contest, notes: [...contest.notes, note] } };
}
