import type { SessionPart } from './contest.js';
import { mountingOf, type Observation } from './observation.js';

/** The model that the plan of the runs can carry. */
export interface ModelChoice {
  readonly sessions: SessionPart;
  /** Several runs of one mounting: the spread between mountings and that between runs of one are separate components. */
  readonly hasRepeats: boolean;
  /** Degrees of freedom left for the spread between mountings; below 1 it cannot be estimated. */
  readonly mountingDof: number;
  readonly notes: readonly string[];
}

/**
 * A spread between sessions is estimated where both it and the spread between mountings rest on at least so many degrees of
 * freedom. With fewer, what the differences between sessions tell about the set-ups makes 5 % of false alarms up to 6 %.
 * @assumed from our own simulation: `node bench/error-rates.mjs`, decision 7
 */
const leastDof = { session: 2, mounting: 5 };

/**
 * Chooses the model from the plan of the runs alone, never from their results.
 *
 * @param nameOf what a set-up is called in the notes
 */
export function chooseModel(
  observations: readonly Observation[],
  setups: readonly string[],
  nameOf: (setup: string) => string,
): ModelChoice {
  const mountings = new Set(observations.map(mountingOf)).size;
  const hasRepeats = mountings < observations.length;
  const sessions = new Set(observations.map(({ session }) => session)).size;
  const [first, ...apart] = linkedSetups(observations, setups);
  const sessionDof = sessions - 1 - apart.length;
  const taken = mountings - setups.length - sessionDof;
  const without = mountings - setups.length;
  const choose = (part: SessionPart, mountingDof: number, ...notes: string[]): ModelChoice => ({
    sessions: part,
    hasRepeats,
    mountingDof,
    notes,
  });
  if (sessions < 2) return choose('single', without);
  if (apart.length > 0) {
    const names = apart.flat().map(nameOf).join(', ');
    return sessionDof >= 1 && taken >= 1
      ? choose(
          'random',
          taken,
          `${names} never shared a session with ${(first ?? []).map(nameOf).join(', ')}: a difference between them is held against the spread between sessions, which widens its interval.`,
        )
      : choose(
          'left-in',
          without,
          `Sessions are not taken out: ${names} never shared a session with the others, so a difference may be the day’s.`,
        );
  }
  if (taken < 2)
    return choose(
      'left-in',
      without,
      'Sessions are not taken out: too few runs to estimate their shifts as well.',
    );
  if (sessionDof >= leastDof.session && taken >= leastDof.mounting) return choose('random', taken);
  return choose(
    'shifts',
    taken,
    'The spread between sessions is not estimated, there are too few of them or of the runs; each session’s shift is taken out, and set-ups are compared within sessions only.',
  );
}

/** Set-ups in groups that chains of shared sessions link, the first set-up's group first. */
function linkedSetups(observations: readonly Observation[], setups: readonly string[]): string[][] {
  const groups: string[][] = [];
  for (const setup of setups) {
    if (groups.some((group) => group.includes(setup))) continue;
    const reached = new Set([setup]);
    for (let grew = true; grew; ) {
      const days = new Set(observations.filter((run) => reached.has(run.setup)).map((run) => run.session));
      const next = observations.filter((run) => days.has(run.session) && !reached.has(run.setup));
      for (const run of next) reached.add(run.setup);
      grew = next.length > 0;
    }
    groups.push([...reached]);
  }
  return groups;
}
