import { describe, expect, test } from 'vitest';
import { judgeStopRules } from './stop-rules.js';

const curve = (tau_s: number, amplitude_K = 20) => ({
  timeConstants: [{ tau_s, u_s: 0 }],
  amplitudes_K: [amplitude_K],
  from_s: 100,
  to_s: 100 + 20_000,
});
const outcome = (tau_s: number, id: string, amplitude_K = 20) =>
  judgeStopRules(curve(tau_s, amplitude_K)).find(({ rule }) => rule.id === id);

// derived here, closed forms worked by hand: a slope q is met at τ ln(A / q τ) with q τ still to go; three readings 5 min
// apart within 1 K at τ ln(A (e^(600/τ) - 1)) with 1 / (e^(600/τ) - 1) to go.
describe('what a stop rule leaves', () => {
  test.each([
    { tau_s: 600, id: 'slope-1', after_s: 2872.495, missing_K: 0.1667 },
    { tau_s: 600, id: 'slope-2', after_s: 2456.6067, missing_K: 0.3333 },
    { tau_s: 1800, id: 'slope-1', after_s: 6639.983, missing_K: 0.5 },
    { tau_s: 1800, id: 'slope-2', after_s: 5392.3181, missing_K: 1 },
    { tau_s: 3600, id: 'slope-2', after_s: 8289.3063, missing_K: 2 },
    { tau_s: 600, id: 'three-readings', after_s: 2122.2343, missing_K: 0.582 },
    { tau_s: 1800, id: 'three-readings', after_s: 3723.1416, missing_K: 2.5277 },
  ])('$id with a time constant of $tau_s s: $missing_K K', ({ tau_s, id, after_s, missing_K }) => {
    const found = outcome(tau_s, id);
    expect(Math.abs((found?.after_s as number) - after_s)).toBeLessThan(0.1);
    expect(Math.abs((found?.missing_K as number) - missing_K)).toBeLessThan(2e-4);
  });

  test('does not depend on the step for a slope rule', () => {
    expect(outcome(1800, 'slope-2', 5)?.missing_K).toBeCloseTo(1, 3);
    expect(outcome(1800, 'slope-2', 80)?.missing_K).toBeCloseTo(1, 3);
  });

  test('is unknown where the phase ended first', () => {
    const [first] = judgeStopRules({ ...curve(3600), to_s: 100 + 3600 });
    expect(first).toMatchObject({ after_s: null, missing_K: null });
  });

  test('is nothing where there was nothing to settle', () => {
    const flat = { ...curve(600), timeConstants: [], amplitudes_K: [] };
    for (const { rule, after_s, missing_K } of judgeStopRules(flat)) {
      expect(after_s).toBe(rule.over_s);
      expect(missing_K).toBe(0);
    }
  });
});
