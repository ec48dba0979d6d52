import { expect, test } from 'vitest';
import type { Difference, Finding } from './contest.js';
import type { Resolution } from './plan-repeats.js';
import { chanceOfCoolestWords, noWorseWords, resolutionWords, sessionWords } from './tell-contest.js';

const names = (setup: string) => ({ p1: 'thin plate', p2: 'thick plate' })[setup] ?? setup;

test.each([
  ['shown', 'shown', 'both: alike'],
  ['shown', 'not-shown', 'thin plate'],
  ['not-shown', 'shown', 'thick plate'],
  ['not-shown', 'not-shown', 'not shown'],
  ['no-verdict', 'no-verdict', 'none'],
] as const)('no worse: %s and %s', (setup, other, words) => {
  const claim = (finding: Finding) => ({ p: 0.5, finding });
  const noWorse: Difference['noWorse'] = { setup: claim(setup), other: claim(other) };
  expect(noWorseWords({ setup: 'p1', other: 'p2', noWorse }, names)).toBe(words);
});

test('a chance is never printed as certainty', () => {
  expect([0, 0.004, 0.013, 0.5, 0.987, 0.9999].map((coolest) => chanceOfCoolestWords({ coolest }))).toEqual([
    'under 1 %',
    'under 1 %',
    '1 %',
    '50 %',
    '99 %',
    'over 99 %',
  ]);
});

test('runs needed: of each alike, of some, none, or out of reach', () => {
  const plan = (add: Record<string, number>, assumed = false): Resolution => ({
    difference_K: 1,
    each: 6,
    add,
    total: 3,
    setups: 2,
    power: 0.83,
    run_K: 0.42,
    assumed,
  });
  expect(resolutionWords(plan({ p1: 3, p2: 3 }), 1, names)).toMatch(
    /6 runs of each, re-mounted: 3 more of each\./,
  );
  expect(resolutionWords(plan({ p1: 3, p2: 1 }), 1, names)).toMatch(
    /3 more of thin plate and 1 more of thick plate\./,
  );
  expect(resolutionWords(plan({}, true), 1, names)).toMatch(/you have them\. .*assumed/);
  expect(resolutionWords(null, 0.1, names)).toMatch(/out of reach/);
});

test('sessions are spoken of only where something was done about them', () => {
  const spread = { session_K: 0.3, mounting_K: 0.4, repeat_K: null };
  expect(sessionWords({ sessions: 'random', spread })).toMatch(/0\.3/);
  expect(sessionWords({ sessions: 'shifts', spread: { ...spread, session_K: null } })).toMatch(/taken out/);
  expect(sessionWords({ sessions: 'single', spread: { ...spread, session_K: null } })).toBeNull();
});
