import { describe, expect, test } from 'vitest';
import { chooseModel } from './choose-model.js';
import { assumedRunToRun_K, compareSetups } from './compare-setups.js';
import type { Observation } from './observation.js';

type Row = readonly [setup: string, session: string, rise_K: number, mounting?: string];

function observe(rows: readonly Row[], u_K = 0.1): Observation[] {
  return rows.map(([setup, session, rise_K, mounting], i) => ({
    run: `run ${i}`,
    setup,
    session,
    mounting: mounting ?? `mounting ${i}`,
    rise_K,
    u_K,
  }));
}

const names: Readonly<Record<string, string>> = { bare: 'bare', p1: 'thin plate', p2: 'thick plate' };
const nameOf = (setup: string) => names[setup] ?? setup;
const choose = (rows: readonly Row[]) =>
  chooseModel(observe(rows), [...new Set(rows.map(([setup]) => setup))], nameOf);
const compare = (rows: readonly Row[]) =>
  compareSetups({ probe: 'c1', phase: 'load', charging: false }, observe(rows), 'bare', { nameOf });

/** So many runs of each set-up, each in the next session. */
function plan(setups: readonly string[], sessions: number): Row[] {
  return setups.flatMap((setup, s) =>
    Array.from(
      { length: sessions },
      (_, day): Row => [setup, `day ${day}`, 24 - 2 * s + 0.1 * ((7 * day + 3 * s) % 5)],
    ),
  );
}

describe('the plan of the runs chooses the model', () => {
  test('three sessions and enough runs carry a spread between sessions', () => {
    expect(choose(plan(['bare', 'p1', 'p2', 'p3'], 3))).toMatchObject({ sessions: 'random', mountingDof: 6 });
  });

  test('two sessions do not: their shifts are taken out, and that is said', () => {
    const model = choose(plan(['bare', 'p1', 'p2'], 2));
    expect(model).toMatchObject({ sessions: 'shifts', mountingDof: 2 });
    expect(model.notes.join()).toMatch(/not estimated/);
  });

  test('with one run over, sessions stay in, and that is said', () => {
    const model = choose(plan(['bare', 'p1'], 2));
    expect(model).toMatchObject({ sessions: 'left-in', mountingDof: 2 });
    expect(model.notes.join()).toMatch(/too few runs/);
  });

  test('set-ups on days of their own, each on several, are held against the spread between days', () => {
    const rows: Row[] = [
      ['bare', 'mon', 24],
      ['bare', 'mon', 24.4],
      ['bare', 'tue', 24.9],
      ['p1', 'wed', 22],
      ['p1', 'wed', 22.3],
      ['p1', 'thu', 21.2],
    ];
    const model = choose(rows);
    expect(model).toMatchObject({ sessions: 'random', mountingDof: 2 });
    expect(model.notes.join()).toMatch(/thin plate never shared a session with bare/);
  });

  test('set-ups on one day each cannot be told from the day', () => {
    const model = choose([
      ['bare', 'mon', 24],
      ['bare', 'mon', 24.4],
      ['p1', 'tue', 22],
      ['p1', 'tue', 22.3],
    ]);
    expect(model.sessions).toBe('left-in');
    expect(model.notes.join()).toMatch(/may be the day’s/);
  });

  test('the same name of a mounting with another set-up is another mounting', () => {
    const model = choose([
      ['bare', 'mon', 24, 'first'],
      ['bare', 'mon', 24, 'second'],
      ['p1', 'mon', 22, 'first'],
      ['p1', 'mon', 22, 'second'],
    ]);
    expect(model).toMatchObject({ hasRepeats: false, mountingDof: 2 });
  });
});

describe('runs of one mounting', () => {
  const thrice = (setup: string, mounting: string, rise_K: number): Row[] =>
    [-0.01, 0, 0.01].map((off): Row => [setup, 'mon', rise_K + off, mounting]);

  test('do not stand for re-mountings: three runs each of two single mountings give no finding', () => {
    const contest = compare([...thrice('bare', 'a', 24), ...thrice('p1', 'b', 22)]);
    expect(contest.pairs[0]?.finding).toBe('no-verdict');
    expect(contest.runToRun).toMatchObject({ assumed: true, sd_K: assumedRunToRun_K });
    expect(contest.notes.join()).toMatch(/runs of one mounting cannot tell/);
    // Derived: two means of one mounting and three runs of 0.1 K each.
    expect(contest.pairs[0]?.cooler_K.u).toBeCloseTo(Math.sqrt(2 * (0.6 ** 2 + 0.1 ** 2 / 3)), 10);
  });

  // Exact in balance: the means of the mountings are compared, with their number as evidence.
  test('count as often as they were mounted', () => {
    const contest = compare([
      ...thrice('bare', 'a', 24),
      ...thrice('bare', 'b', 25),
      ...thrice('p1', 'c', 22),
      ...thrice('p1', 'd', 23.4),
    ]);
    const pair = contest.pairs[0];
    expect(pair?.cooler_K.dof).toBeCloseTo(2, 6);
    // Squares of the mountings about their set-up: 0.5 and 0.98 over two degrees of freedom, two means of two.
    expect(pair?.cooler_K.u).toBeCloseTo(Math.sqrt((0.5 + 0.98) / 2), 6);
    expect(contest.spread.mounting_K).toBeCloseTo(Math.sqrt(0.74 - 0.1 ** 2 / 3), 6);
    expect(contest.spread.repeat_K).toBe(0); // runs of one mounting agree better than their own doubt of 0.1 K
  });
});

test('notes call set-ups by their names', () => {
  const contest = compare([
    ['bare', 'mon', 24],
    ['bare', 'mon', 24.6],
    ['p2', 'mon', 21],
  ]);
  expect(contest.notes).toEqual([
    'thick plate rests on one mounting; its spread is taken to be that of the others.',
  ]);
});

test('sessions that do not differ are said not to', () => {
  const rows = plan(['bare', 'p1', 'p2', 'p3'], 4);
  const contest = compare(
    rows.map(([setup, day], i): Row => [setup, day, 20 + ((i + Math.floor(i / 4)) % 2)]),
  );
  expect(contest.spread.session_K).toBe(0);
  expect(contest.notes.join()).toMatch(/no spread between them was found/);
});
