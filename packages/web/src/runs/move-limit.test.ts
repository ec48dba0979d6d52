import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { limitRange, moveLimit, nearestRow, type PhaseSpan, phaseLimits, stepRows } from './move-limit.js';

const phases: readonly PhaseSpan[] = [
  { kind: 'idle', from_s: 0, to_s: 3600 },
  { kind: 'load', from_s: 3600, to_s: 10_800 },
  { kind: 'cool', from_s: 10_800, to_s: 12_600 },
];
const span_s = 12_600;

describe('the limits of phases', () => {
  test('phases that meet share one limit', () => {
    const limits = phaseLimits(phases, 10);
    expect(limits.map(({ at_s, words }) => [at_s, words])).toEqual([
      [0, 'idle begins'],
      [3600, 'idle ends, load begins'],
      [10_800, 'load ends, cool begins'],
      [12_600, 'cool ends'],
    ]);
  });

  test('phases with a gap between them keep a limit each', () => {
    const apart = [phases[0] as PhaseSpan, { kind: 'load', from_s: 4000, to_s: 10_800 } as const];
    expect(phaseLimits(apart, 10).map(({ at_s }) => at_s)).toEqual([0, 3600, 4000, 10_800]);
  });

  test('a shared limit moves both phases and nothing else', () => {
    const limit = phaseLimits(phases, 10)[1];
    if (!limit) throw new Error('no limit');
    const moved = moveLimit(phases, limit, 3500, limitRange(phases, limit, span_s, 10));
    expect(moved).toEqual([
      { kind: 'idle', from_s: 0, to_s: 3500 },
      { kind: 'load', from_s: 3500, to_s: 10_800 },
      phases[2],
    ]);
  });

  test('wherever limits are moved, phases stay in order, inside the run, and longer than the least', () => {
    const move = fc.tuple(fc.nat(3), fc.double({ min: -1e4, max: 3e4, noNaN: true }));
    fc.assert(
      fc.property(fc.array(move, { maxLength: 12 }), (moves) => {
        let now = [...phases];
        for (const [index, at_s] of moves) {
          const limit = phaseLimits(now, 1)[index];
          if (limit) now = moveLimit(now, limit, at_s, limitRange(now, limit, span_s, 10));
        }
        let end_s = 0;
        for (const { from_s, to_s } of now) {
          expect(from_s).toBeGreaterThanOrEqual(end_s);
          expect(to_s - from_s).toBeGreaterThanOrEqual(10 - 1e-9);
          end_s = to_s;
        }
        expect(end_s).toBeLessThanOrEqual(span_s);
      }),
    );
  });
});

describe('steps by rows', () => {
  // A dropout between 20 and 80: the step goes over it in one.
  const after_s = [0, 10, 20, 80, 90];
  test('the nearest row is taken, the earlier one where two are equally near', () => {
    expect([-5, 4, 5, 6, 49, 51, 200].map((at_s) => nearestRow(after_s, at_s))).toEqual([
      0, 0, 0, 1, 2, 3, 4,
    ]);
  });
  test('one row on, one row back, ten rows at an end', () => {
    expect(stepRows(after_s, 20, 1)).toBe(80);
    expect(stepRows(after_s, 80, -1)).toBe(20);
    expect(stepRows(after_s, 80, 10)).toBe(90);
    expect(stepRows(after_s, 20, -10)).toBe(0);
  });
});
