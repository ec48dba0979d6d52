import type { Contest } from '../../src/compare/index.js';
import type { Build } from '../../src/records/index.js';

/** Contests as the comparison gives them, from rises that are made up; each probe's rises with a stated doubt. */
export function inventContests(
  build: Build,
  rises: (setup: string, probe: string) => number,
  u_K: number,
): Contest[] {
  return build.probes
    .filter(({ place }) => place !== 'ambient')
    .map((probe): Contest => {
      const setups = build.setups.map((setup) => ({
        setup: setup.id,
        rise_K: { value: rises(setup.id, probe.id), u: u_K, dof: 10 },
        interval95_K: [0, 0] as const,
        runs: [],
      }));
      return {
        quantity: { probe: probe.id, phase: 'load', charging: false },
        baseline: 'bare',
        setups,
        covariance_K2: setups.map((_, i) => setups.map((__, j) => (i === j ? u_K * u_K : 0))),
        toBaseline: [],
        pairs: [],
        runToRun: { sd_K: u_K, dof: 10, assumed: false },
        blocks: 'none',
        sessions: 'single',
        spread: { session_K: null, mounting_K: u_K, repeat_K: null },
        noWorse_K: 0.5,
        canShow_K: null,
        gain_u: 0,
        notes: [],
      };
    });
}
