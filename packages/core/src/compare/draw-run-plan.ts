import type { Noise } from '../numerics/index.js';
import type { RunPlan } from '../records/index.js';

type PlannedRun = RunPlan['runs'][number];

export interface PlanRequest {
  /** Runs to make of each set-up, by id; set-ups with none are left out. */
  readonly needs: Readonly<Record<string, number>>;
  /** Most runs a person can make in one session. */
  readonly perSession: number;
  /** Names that sessions bear already; the plan's own follow on. */
  readonly takenSessions: readonly string[];
}

/**
 * Draws which set-up is run when: sessions as blocks, each set-up at most once in a session, the order within a session by lot.
 *
 * A room that warms through the day, or a hand that learns, then falls on all set-ups alike, and a comparison within a session
 * is free of what the sessions differ in. Sessions differ in size by one run at most.
 *
 * @param random a seeded generator: the same seed draws the same plan
 * @source [COCHRAN-COX] randomized blocks; incomplete ones where a session has no room for all set-ups
 */
export function drawRunPlan(request: PlanRequest, random: Noise): PlannedRun[] {
  const needs = Object.entries(request.needs).filter(([, runs]) => runs > 0);
  const total = needs.reduce((sum, [, runs]) => sum + runs, 0);
  if (total === 0) return [];
  const count = Math.max(Math.ceil(total / request.perSession), ...needs.map(([, runs]) => runs));
  const sessions: string[][] = Array.from({ length: count }, () => []);
  // The set-ups that need most go first, so that each finds enough different sessions; ties by lot.
  const order = shuffle(needs, random).sort(([, a], [, b]) => b - a);
  for (const [setup, runs] of order) {
    const emptiest = shuffle(sessions, random).sort((a, b) => a.length - b.length);
    for (const session of emptiest.slice(0, runs)) session.push(setup);
  }
  const names = nameSessions(count, request.takenSessions);
  return sessions.flatMap((setups, index) =>
    shuffle(setups, random).map((setup) => ({ session: names[index] as string, setup })),
  );
}

/** All orders equally likely. @source [KNUTH-2] algorithm 3.4.2 P */
function shuffle<T>(items: readonly T[], random: Noise): T[] {
  const mixed = [...items];
  for (let i = mixed.length - 1; i > 0; i--) {
    const j = Math.floor(random.uniform() * (i + 1));
    [mixed[i], mixed[j]] = [mixed[j] as T, mixed[i] as T];
  }
  return mixed;
}

function nameSessions(count: number, taken: readonly string[]): string[] {
  const names: string[] = [];
  for (let number = 1; names.length < count; number++) {
    const name = `planned ${number}`;
    if (!taken.includes(name)) names.push(name);
  }
  return names;
}
