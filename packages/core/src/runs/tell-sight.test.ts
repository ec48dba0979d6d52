import { describe, expect, test } from 'vitest';
import type { RunResult } from './run-result.js';
import { tellSight } from './tell-sight.js';

const run = (id: string, span_s: number, more: object = {}) =>
  ({
    run: id,
    setup: 'plate',
    charging: false,
    counted: true,
    span_s,
    report: { interval_s: 20 },
    phases: [{ kind: 'load', from_s: 3000, to_s: 10_000, by: 'data' }],
    plateaus: [
      { probe: 'z', phase: 'load', result: { ok: true, value: { rise_K: { value: 40, u: 0.1, dof: 9 } } } },
    ],
    ...more,
  }) as unknown as RunResult;

describe('what could have been seen in a run', () => {
  test('is told by its own rise, rows and length, and by the runs beside it', () => {
    const all = [run('a', 12_000), run('b', 12_000), run('c', 12_000)];
    const told = tellSight(all[0] as RunResult, all).join(' ');
    expect(told).toContain('a fall of 2.4 K'); // 6 % of 40 K
    expect(told).toContain('at any moment of the load');
    expect(told).toContain('60 s without one'); // three rows of 20 s
    // Four times 0.5 K, with the doubt of a median of two: 2 × √1.5 = 2.45 K of 40 K.
    expect(told).toContain('6 % more or less heat');
  });

  test('says what a run cannot show', () => {
    const told = tellSight(run('a', 10_100), [run('a', 10_100), run('b', 9000, { setup: 'bare' })]).join(' ');
    expect(told).toContain('before the load came on, or in a climb');
    expect(told).toContain('Another load than noted: not at all');
    expect(told).toContain('Exchanged probes: not at all');
  });

  test('says so where the run itself has no plateau', () => {
    const all = [run('a', 12_000, { plateaus: [] }), run('b', 12_000), run('c', 12_000)];
    expect(tellSight(all[0] as RunResult, all).join(' ')).toContain('this run has none');
  });

  test('is nothing where there was no load', () => {
    expect(tellSight(run('a', 9000, { phases: [] }), [])).toEqual([]);
  });
});
