import { plainText } from '@soakbench/core/measure';
import { type Build, newBuild, type Run } from '@soakbench/core/records';
import type { Plateau, RunResult } from '@soakbench/core/runs';
import type { Assessment } from '@soakbench/core/verdict';
import { describe, expect, test } from 'vitest';
import { chartRows, plateauRows, runAnswer, runLedger } from './present-run.js';

const run: Run = {
  id: 'run-7',
  name: 'Run 7, plate',
  log: { file: 'log.csv', sha256: 'a'.repeat(64) },
  setup: 'plate',
  mounting: 'mounting 1',
  session: 'd1',
  conditions: { load_W: 5.2, charging: false },
  recipe: {
    encoding: 'utf-8',
    delimiter: ',',
    decimal: '.',
    headerLines: 1,
    time: { style: 'elapsed', columns: [0], unit: 's' },
    channels: [{ column: 1, header: 'C1', probe: 'c1', unit: 'C' }],
    missing: [],
  },
};

const build: Build = {
  ...newBuild('b', 'B'),
  probes: [{ id: 'c1', name: 'cell 1', place: 'cell' }],
  setups: [{ id: 'plate', name: 'plate', layers: [] }],
  runs: [run],
};

const plateau: Plateau = {
  probe: 'c1',
  phase: 'load',
  rise_K: { value: 21.52, u: 0.31, dof: 8 },
  level_C: 46.5,
  ambient_C: 25,
  reached: true,
  remaining_K: 0.04,
  drift_K_per_h: 0.2,
  timeConstants: [{ tau_s: 1446, u_s: 36 }],
  amplitudes_K: [15],
  from_s: 3300,
  to_s: 10_500,
  settledFrom_s: 8000,
  parts: [{ name: 'fit', u_K: 0.31, why: 'residuals' }],
  residual_K: 0.05,
  inflation: 4,
};

const result = (part: Partial<RunResult> = {}): RunResult => ({
  run: 'run-7',
  setup: 'plate',
  session: 'd1',
  mounting: 'mounting 1',
  charging: false,
  report: {
    rows: 1260,
    lines: { header: 0, blank: 0, read: 0, leftOut: 0 },
    doubts: [],
    late: [],
    restarts: [],
    unread: [],
    recipe: run.recipe,
    conclusions: [],
    interval_s: 10,
  },
  startedAt: null,
  span_s: 12_600,
  phases: [],
  loop_s: null,
  plateaus: [{ probe: 'c1', phase: 'load', result: { ok: true, value: plateau } }],
  flags: [],
  counted: true,
  whyNot: null,
  ...part,
});

const withRuns = (one: RunResult) => ({ runs: { runs: [one], unreadable: [] } }) as unknown as Assessment;

describe('the answer of a run', () => {
  test('gives rise, load, and whether the plateau was reached', () => {
    expect(plainText(runAnswer(build, run, result(), 'c1'))).toBe(
      'Run 7, plate: cell 1 settles 21.5 ± 0.3 K above the room under 5.2 W. The plateau was reached, drifting 0.2 K per hour at the end.',
    );
  });
  test('an extrapolated plateau says what was still to come', () => {
    const early = { ...plateau, reached: false, remaining_K: 1.3 };
    const answer = runAnswer(
      build,
      run,
      result({ plateaus: [{ probe: 'c1', phase: 'load', result: { ok: true, value: early } }] }),
      'c1',
    );
    expect(plainText(answer)).toContain('extrapolated, with 1.3 K still to come');
  });
  test('no plateau is no number, and the reason is given', () => {
    const none = { ok: false, reason: { kind: 'no-ambient' } } as const;
    const answer = plainText(
      runAnswer(build, run, result({ plateaus: [{ probe: 'c1', phase: 'load', result: none }] }), 'c1'),
    );
    expect(answer).toContain('no settled rise');
    expect(answer).not.toMatch(/\d K/);
  });
  test('a run that does not count says why', () => {
    const answer = runAnswer(build, run, result({ counted: false, whyNot: 'loose plug' }), 'c1');
    expect(plainText(answer)).toContain('not counted: loose plug.');
  });
});

describe('the ledger', () => {
  test('names the run without its set-up, which stands above it', () => {
    const [group] = runLedger(build, withRuns(result()), 'c1');
    expect(group?.rows[0]).toMatchObject({ name: 'Run 7', rise: '21.5 K', level: 'holds', state: 'settled' });
  });
  test('a run set aside is counted as aside and never as settled', () => {
    const aside = { ...build, runs: [{ ...run, setAside: 'throttled' }] };
    const [group] = runLedger(aside, withRuns(result({ counted: false })), 'c1');
    expect(group?.count).toBe('1 run, 1 aside');
    expect(group?.rows[0]).toMatchObject({ level: 'stop', state: 'set aside' });
  });
  test('flags that cost nothing do not mark a run', () => {
    const flag = { kind: 'looped-load', level: 'holds', title: 'loop', detail: '', effect: '' } as const;
    expect(runLedger(build, withRuns(result({ flags: [flag] })), 'c1')[0]?.rows[0]?.state).toBe('settled');
    const look = { ...flag, level: 'look' } as const;
    expect(runLedger(build, withRuns(result({ flags: [look] })), 'c1')[0]?.rows[0]?.state).toBe('1 flag');
  });
});

test('a phase without a plateau stays empty in the table', () => {
  expect(plateauRows(build, result(), 'c1')[0]?.cells).toEqual(['cell 1', '–', '46.5', '21.5']);
});

test('the chart as a table holds the limits of the phases, in the order of time, each row once', () => {
  const after_s = [0, 10, 20, 30, 40, 50, 60, 70, 80];
  const level_C = [20, 21, Number.NaN, 23, 24, 25, 26, 27, 28];
  const view = { after_s, span_s: 80, lines: [{ level_C }], phases: [{ from_s: 20, to_s: 60 }] };
  const rows = chartRows(view, (at_s) => Math.round(at_s / 10));
  expect(rows.map(({ key }) => Number(key))).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8]);
  expect(rows[2]?.cells[1]).toBe('no reading');
});
