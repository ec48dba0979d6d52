import type { Observation } from './fit-setups.js';

/** Sessions to take out as blocks, or why not. */
export interface BlockChoice {
  readonly sessions: readonly string[];
  readonly notes: readonly string[];
}

/**
 * Chooses between comparing within sessions and comparing all runs alike, from the plan of the runs alone, never from their
 * results: within sessions wherever the set-ups hang together through shared sessions and at least two degrees of freedom are left.
 */
export function chooseBlocks(observations: readonly Observation[], setups: readonly string[]): BlockChoice {
  const sessions = [...new Set(observations.map((run) => run.session))].sort();
  if (sessions.length < 2) return { sessions: [], notes: [] };
  const apart = setupsApart(observations, setups);
  if (apart.length > 0) {
    return {
      sessions: [],
      notes: [
        `Sessions are not taken out: ${apart.join(', ')} never shared a session with the others, so a difference may be the day’s.`,
      ],
    };
  }
  if (observations.length - setups.length - sessions.length + 1 < 2) {
    return {
      sessions: [],
      notes: ['Sessions are not taken out: too few runs to estimate their shifts as well.'],
    };
  }
  return { sessions, notes: [] };
}

/** Set-ups that no chain of shared sessions links to the first one. */
function setupsApart(observations: readonly Observation[], setups: readonly string[]): string[] {
  const reached = new Set<string>([setups[0] as string]);
  for (let grew = true; grew; ) {
    const days = new Set(observations.filter((run) => reached.has(run.setup)).map((run) => run.session));
    const next = observations.filter((run) => days.has(run.session) && !reached.has(run.setup));
    for (const run of next) reached.add(run.setup);
    grew = next.length > 0;
  }
  return setups.filter((setup) => !reached.has(setup));
}
