import { type Correction, differenceU_K } from '../probes/index.js';
import type { Build } from '../records/index.js';
import type { RunResult } from '../runs/index.js';
import type { Quantity } from './contest.js';
import type { Observation } from './observation.js';

/** Every quantity that at least one counted run has a plateau of, cells under load first. */
export function listQuantities(build: Pick<Build, 'probes'>, runs: readonly RunResult[]): Quantity[] {
  const seen = new Map<string, Quantity>();
  for (const run of runs) {
    if (!run.counted) continue;
    for (const { probe, phase, result } of run.plateaus) {
      if (result.ok) seen.set(`${probe}|${phase}|${run.charging}`, { probe, phase, charging: run.charging });
    }
  }
  const rank = ({ probe, phase, charging }: Quantity) =>
    (build.probes.find(({ id }) => id === probe)?.place === 'cell' ? 0 : 4) +
    (phase === 'load' ? 0 : 2) +
    (charging ? 1 : 0);
  return [...seen.values()].sort((a, b) => rank(a) - rank(b));
}

/** One observation per counted run that has a plateau of this quantity. */
export function collectObservations(runs: readonly RunResult[], quantity: Quantity): Observation[] {
  return runs.flatMap((run): Observation[] => {
    if (!run.counted || run.charging !== quantity.charging) return [];
    const plateau = run.plateaus.find(
      ({ probe, phase }) => probe === quantity.probe && phase === quantity.phase,
    );
    if (plateau === undefined || !plateau.result.ok) return [];
    const { rise_K, ambient_C } = plateau.result.value;
    const { setup, session, mounting } = run;
    return [{ run: run.run, setup, session, mounting, rise_K: rise_K.value, u_K: rise_K.u, ambient_C }];
  });
}

/**
 * What the probe checks put on a rise: the doubt of probe against ambient probe at these temperatures, K.
 * It shifts all set-ups alike, so it belongs to a margin and not to a comparison.
 */
export function calibrationU_K(
  build: Pick<Build, 'probes'>,
  corrections: readonly Correction[],
  probe: string,
  level_C: number,
  ambient_C: number,
): number {
  const own = corrections.find((correction) => correction.probe === probe);
  const ambientProbe = build.probes.find(({ place }) => place === 'ambient');
  const ambient = corrections.find((correction) => correction.probe === ambientProbe?.id);
  if (own === undefined) return 0;
  if (ambient === undefined)
    return differenceU_K(
      own,
      level_C,
      { ...own, probe: '', shared: [], own: { offset: 0, cross: 0, gain: 0 } },
      ambient_C,
    );
  return differenceU_K(own, level_C, ambient, ambient_C);
}
