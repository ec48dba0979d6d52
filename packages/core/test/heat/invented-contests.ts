import type { Contest, Quantity } from '../../src/compare/index.js';
import type { Build } from '../../src/records/index.js';

/** Contests as the comparison gives them, from rises that are made up; each probe's rises with a stated doubt. */
export function inventContests(
  build: Build,
  rises: (setup: string, probe: string) => number,
  u_K: number,
  use: Omit<Quantity, 'probe'> = { phase: 'load', charging: false },
): Contest[] {
  return build.probes
    .filter(({ place }) => place !== 'ambient')
    .map((probe): Contest => {
      const setups = build.setups.map((setup) => ({
        setup: setup.id,
        rise_K: { value: rises(setup.id, probe.id), u: u_K, dof: 10 },
        interval95_K: [0, 0] as const,
        runs: build.runs
          .filter((run) => run.setup === setup.id && (run.conditions?.charging ?? false) === use.charging)
          .map(({ id, session, mounting }, index) => ({
            run: id,
            session,
            mounting,
            // Runs of one set-up differ as their mountings do, and alike in every probe and phase.
            rise_K: rises(setup.id, probe.id) * (1 + 0.02 * (index % 2 === 0 ? 1 : -1)),
            u_K,
          })),
      }));
      return {
        quantity: { probe: probe.id, ...use },
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
