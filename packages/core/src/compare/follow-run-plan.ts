import type { Build } from '../records/index.js';

/** One run of a plan, and how far it has come. */
export interface FollowedRun {
  /** Place in the plan, from 0. */
  readonly index: number;
  readonly session: string;
  readonly setup: string;
  readonly state: 'done' | 'under-way' | 'next' | 'open';
  /** The run of the build that it became. */
  readonly run: string | null;
  readonly startedAt: string | null;
  /** From the start of its session, s, at the usual length of a run and of a re-mounting. */
  readonly after_s: number;
}

/** How far a planned run has come, by shape and word. */
export const plannedStateWords: Readonly<Record<FollowedRun['state'], string>> = {
  done: '● done',
  'under-way': '▸ under way',
  next: '▸ next',
  open: '○ open',
};

/** Taking the pack out, changing the shield, closing the shell and letting it come to rest. @assumed 20 min, common practice, no source */
export const remount_s = 1200;

/**
 * Where a plan stands. A planned run is done by the first run of its set-up that came after the plan was drawn and that no
 * earlier line of the plan has taken; a person ticks nothing off by hand, and a run that is removed is open again.
 *
 * @param run_s usual length of a run, s
 */
export function followRunPlan(build: Pick<Build, 'runs' | 'runPlan'>, run_s: number): FollowedRun[] {
  const plan = build.runPlan;
  if (plan === undefined) return [];
  const free = build.runs.filter(({ id, setAside }) => setAside === undefined && !plan.before.includes(id));
  let isNextGiven = false;
  let place = 0;
  return plan.runs.map(({ session, setup, startedAt = null }, index) => {
    place = index > 0 && plan.runs[index - 1]?.session === session ? place + 1 : 0;
    const at = free.findIndex((run) => run.setup === setup);
    const [done] = at < 0 ? [] : free.splice(at, 1);
    const isNext = done === undefined && !isNextGiven;
    isNextGiven ||= isNext;
    return {
      index,
      session,
      setup,
      state: done ? 'done' : isNext ? (startedAt === null ? 'next' : 'under-way') : 'open',
      run: done?.id ?? null,
      startedAt,
      after_s: place * (run_s + remount_s),
    };
  });
}
