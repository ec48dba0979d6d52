import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeNoise } from '../numerics/index.js';
import { newBuild, type Run, type RunPlan } from '../records/index.js';
import { drawRunPlan } from './draw-run-plan.js';
import { followRunPlan, remount_s } from './follow-run-plan.js';
import { dropRunPlan, setRunPlan } from './keep-run-plan.js';

const request = fc.record({
  needs: fc.dictionary(fc.constantFrom('bare', 'film', 'plate', 'strips', 'foam', 'graphite'), fc.nat(8), {
    minKeys: 1,
  }),
  perSession: fc.integer({ min: 1, max: 6 }),
  takenSessions: fc.constant(['planned 2']),
});
const seed = fc.integer({ min: 1, max: 2_147_483_646 });

describe('a plan drawn by lot', () => {
  // [COCHRAN-COX] what makes a design one of randomized blocks: each treatment as often as asked, at most once in a block.
  test('makes every run asked for, no set-up twice in a session, and no session longer than asked', () => {
    fc.assert(
      fc.property(request, seed, (asked, seed_) => {
        const plan = drawRunPlan(asked, makeNoise(seed_));
        for (const [setup, runs] of Object.entries(asked.needs)) {
          expect(plan.filter((run) => run.setup === setup).length).toBe(runs);
        }
        const sessions = new Map<string, string[]>();
        for (const { session, setup } of plan)
          sessions.set(session, [...(sessions.get(session) ?? []), setup]);
        const sizes = [...sessions.values()].map((setups) => setups.length);
        for (const setups of sessions.values()) expect(new Set(setups).size).toBe(setups.length);
        expect(Math.max(0, ...sizes)).toBeLessThanOrEqual(asked.perSession);
        expect(sessions.has('planned 2')).toBe(false);
      }),
    );
  });

  test('is the same for the same seed, and another for another', () => {
    const asked = { needs: { bare: 4, plate: 4, strips: 4 }, perSession: 3, takenSessions: [] };
    expect(drawRunPlan(asked, makeNoise(7))).toEqual(drawRunPlan(asked, makeNoise(7)));
    expect(drawRunPlan(asked, makeNoise(7))).not.toEqual(drawRunPlan(asked, makeNoise(8)));
  });

  // A law: with k set-ups each stands first in 1/k of the sessions; binomial spread over 6000 sessions is 0.6 %.
  test('puts each set-up first in a session equally often', () => {
    const asked = { needs: { bare: 2, plate: 2, strips: 2 }, perSession: 3, takenSessions: [] };
    const first: Record<string, number> = { bare: 0, plate: 0, strips: 0 };
    for (let s = 1; s <= 3000; s++) {
      const plan = drawRunPlan(asked, makeNoise(7919 * s));
      for (const run of [plan[0], plan[3]]) first[run?.setup ?? ''] = (first[run?.setup ?? ''] ?? 0) + 1;
    }
    for (const count of Object.values(first)) expect(Math.abs(count / 6000 - 1 / 3)).toBeLessThan(0.025);
  });

  test('of nothing is empty', () => {
    expect(drawRunPlan({ needs: { bare: 0 }, perSession: 3, takenSessions: [] }, makeNoise(1))).toEqual([]);
  });
});

describe('a plan that is followed', () => {
  const run = (id: string, setup: string, setAside?: string) =>
    ({ id, setup, ...(setAside === undefined ? {} : { setAside }) }) as Run;
  const runPlan: RunPlan = {
    seed: 1,
    before: ['old'],
    runs: [
      { session: 'planned 1', setup: 'plate' },
      { session: 'planned 1', setup: 'bare' },
      { session: 'planned 2', setup: 'plate', startedAt: '2025-04-01T09:00:00Z' },
    ],
  };
  const states = (...runs: Run[]) => followRunPlan({ runPlan, runs }, 12_000).map(({ state }) => state);

  test('offers the first run that is not made yet, and ticks off what is imported, in whatever order', () => {
    expect(states(run('old', 'plate'))).toEqual(['next', 'open', 'open']);
    expect(states(run('old', 'plate'), run('new', 'bare'))).toEqual(['next', 'done', 'open']);
    expect(states(run('new', 'plate'))).toEqual(['done', 'next', 'open']);
    expect(states(run('a', 'plate'), run('b', 'bare'))).toEqual(['done', 'done', 'under-way']);
    expect(states(run('a', 'plate'), run('b', 'bare'), run('c', 'plate'))).toEqual(['done', 'done', 'done']);
  });

  test('does not count a run that was set aside', () => {
    expect(states(run('a', 'plate', 'throttled'))).toEqual(['next', 'open', 'open']);
  });

  test('tells when each run of a session is due, re-mounting included', () => {
    const due = followRunPlan({ runPlan, runs: [] }, 12_000).map(({ after_s }) => after_s);
    expect(due).toEqual([0, 12_000 + remount_s, 0]);
  });
});

describe('a build with its plan', () => {
  const build = { ...newBuild('b', 'b'), runs: [{ id: 'old', setup: 'plate', session: 'planned 1' } as Run] };
  const draw = { needs: { plate: 1 }, perSession: 3, seed: 5, at: '2025-04-01T09:00:00Z' };

  test('does not count the runs it had before, nor takes the name of one of their sessions', () => {
    const planned = setRunPlan(build, draw);
    expect(planned.runPlan).toMatchObject({ seed: 5, before: ['old'], runs: [{ session: 'planned 2' }] });
    expect(followRunPlan(planned, 12_000).map(({ state }) => state)).toEqual(['next']);
  });

  test('has none where no run is needed, and none once it is dropped', () => {
    expect(setRunPlan(build, { ...draw, needs: { plate: 0 } })).not.toHaveProperty('runPlan');
    expect(dropRunPlan(setRunPlan(build, draw))).toEqual(build);
  });
});
