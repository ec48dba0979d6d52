import { describe, expect, test } from 'vitest';
import type { Build } from '../records/index.js';
import { presentRunChart } from './present-run-chart.js';
import type { Plateau, RunResult, RunSeries } from './run-result.js';

const build: Pick<Build, 'probes' | 'runs'> = {
  runs: [],
  probes: [
    { id: 'z1', name: 'processor', place: 'zone' },
    { id: 'c1', name: 'cell 1', place: 'cell' },
    { id: 'c2', name: 'cell 2', place: 'cell' },
    { id: 'a', name: 'room', place: 'ambient' },
  ],
};

const plateau = (probe: string, phase: Plateau['phase'], level_C: number): Plateau => ({
  probe,
  phase,
  rise_K: { value: level_C - 25, u: 0.25, dof: 9 },
  level_C,
  ambient_C: 25,
  reached: true,
  remaining_K: 0.1,
  drift_K_per_h: 0.1,
  timeConstants: [{ tau_s: 1200, u_s: 30 }],
  amplitudes_K: [15],
  from_s: 3000,
  to_s: 9000,
  settledFrom_s: 7000,
  parts: [],
  residual_K: 0.1,
  inflation: 1,
});

const after_s = Float64Array.from({ length: 1001 }, (_, row) => row * 10);
/** The room warms by 1 K per hour; the curve must follow it. */
const room = after_s.map((time) => 24 + time / 3600);
const series: RunSeries = {
  after_s,
  startedAt: null,
  channels: ['z1', 'c1', 'c2', 'a'].map((probe) => ({
    probe,
    reading_C: room,
    level_C: probe === 'a' ? room : after_s.map(() => 40),
  })),
};

function makeResult(plateaus: RunResult['plateaus']): RunResult {
  return {
    run: '7',
    setup: 'plate',
    session: 's1',
    mounting: 'm1',
    charging: false,
    report: {
      rows: 1001,
      lines: { header: 0, blank: 0, read: 0, leftOut: 0 },
      doubts: [],
      late: [],
      restarts: [],
      unread: [],
      recipe: {
        encoding: 'utf-8',
        delimiter: ',',
        decimal: '.',
        headerLines: 1,
        time: { style: 'elapsed', columns: [0], unit: 's' },
        channels: [],
        missing: [],
      },
      conclusions: [],
      interval_s: 10,
    },
    startedAt: null,
    span_s: 10_000,
    phases: [
      { kind: 'idle', from_s: 0, to_s: 3000, by: 'data' },
      { kind: 'load', from_s: 3000, to_s: 9000, by: 'data' },
    ],
    loop_s: null,
    plateaus,
    flags: [
      { kind: 'unread-rows', level: 'look', title: 'unread rows', detail: '', effect: '' },
      { kind: 'dropout', level: 'holds', title: 'dropout', detail: '', effect: '', at_s: 5000 },
    ],
    counted: true,
    whyNot: null,
  };
}
const ok = (value: Plateau) => ({
  probe: value.probe,
  phase: value.phase,
  result: { ok: true as const, value },
});

describe('a run as a chart', () => {
  const result = makeResult([
    ok(plateau('z1', 'load', 57)),
    ok(plateau('c2', 'load', 45)),
    ok(plateau('c1', 'load', 46.5)),
    ok(plateau('c1', 'idle', 32)),
  ]);

  test('chooses the warmest cell under load, or what the page asks for', () => {
    expect(presentRunChart(build, result, series).plateau?.words).toBe('C1 cell 1, plateau 46.5 ± 0.3 °C');
    expect(presentRunChart(build, result, series, { chosen: 'z1' }).plateau?.level_C).toBe(57);
    expect(presentRunChart(build, result, series, { phase: 'idle' }).plateau?.level_C).toBe(32);
    const roles = presentRunChart(build, result, series).lines.map((line) => [line.probe, line.role]);
    expect(roles).toEqual([
      ['z1', 'other'],
      ['c1', 'chosen'],
      ['c2', 'other'],
      ['a', 'ambient'],
    ]);
  });

  // Derived here from the fitted model: room + rise - amplitude exp(-t/tau), with the room at 24 °C + 1 K/h.
  test('lays the fitted rise on the room as it was', () => {
    const { plateau: shown } = presentRunChart(build, result, series);
    for (const { after_s: time, level_C } of shown?.curve ?? []) {
      const expected = 24 + time / 3600 + 21.5 - 15 * Math.exp(-(time - 3000) / 1200);
      // Means over 62.5 s of a room that moves 1 K/h lie within 0.01 K.
      expect(Math.abs(level_C - expected)).toBeLessThan(0.01);
    }
    expect(shown?.curve.length).toBeGreaterThan(50);
    expect(shown?.timeConstant?.words).toBe('time constant 20.0 ± 0.5 min');
  });

  test('keeps the order of the probes whatever the order of the columns', () => {
    const turned = { ...series, channels: [...series.channels].reverse() };
    const probes = presentRunChart(build, result, turned).lines.map((line) => line.probe);
    expect(probes).toEqual(['z1', 'c1', 'c2', 'a']);
  });

  test('numbers flags as the list beside it does, and marks those with a time', () => {
    expect(presentRunChart(build, result, series).flags).toEqual([
      { number: 2, at_s: 5000, title: 'dropout' },
    ]);
  });

  test('without a plateau still shows the lines, and says that none is shown', () => {
    const refused = makeResult([
      {
        probe: 'c1',
        phase: 'load',
        result: { ok: false, reason: { kind: 'too-short', have_s: 60, need_s: 900 } },
      },
    ]);
    const view = presentRunChart(build, refused, series);
    expect(view.plateau).toBeNull();
    expect(view.lines[1]?.role).toBe('chosen');
    expect(view.label).toContain('No plateau is shown.');
  });

  test('copes with a run without rows', () => {
    const view = presentRunChart(
      build,
      { ...makeResult([]), span_s: 0, phases: [], flags: [] },
      { after_s: new Float64Array(0), startedAt: null, channels: [] },
    );
    expect(view.lines).toEqual([]);
    expect(view.span_s).toBe(0);
  });
});
