import { describe, expect, test } from 'vitest';
import { plainText } from '../../measure/index.js';
import { tQuantile } from '../../numerics/index.js';
import type { HeatAssessment } from '../assess-heat.js';
import type { PredictedRise } from '../calibrate/predict.js';
import { judgePlaces } from './judge-places.js';
import { presentHeat } from './present-heat.js';
import { explainNoHeat, tellHeat } from './tell-heat.js';

const build = {
  setups: ['bare', 'plate', 'graphite'].map((id) => ({ id, name: id, layers: [] })),
  baseline: 'bare',
  designAmbient: { ambient_C: 32 },
  runs: [],
  probes: [{ id: 'c1', name: 'C1 cell 1', place: 'cell' as const }],
};

const rise = (id: string, kind: 'probe' | 'hottest' | 'mean', value: number, u = 1.2): PredictedRise => ({
  target: {
    id,
    name: id.replace('probe:c1', 'C1 cell 1').replace('-', ' '),
    kind,
    probe: kind === 'probe' ? 'c1' : null,
  },
  rise_K: { value, u, dof: 5 },
  parts: { unknowns_K: 0.8, model_K: 0.85, place_K: 0.2, grid_K: 0.3 },
  at: null,
});

const predicted = (setup: string, measured: boolean, cell_K: number) => ({
  setup,
  charging: false,
  measured,
  rises: [
    rise('probe:c1', 'probe', cell_K - 1),
    rise('cell-1', 'hottest', cell_K),
    rise('cell-1-mean', 'mean', cell_K - 2),
    rise('cell-2', 'hottest', cell_K - 4),
    rise('zone:processor', 'hottest', 40),
  ],
  beyond: [],
});

const unknown = {
  id: 'bay',
  name: 'what crosses the air',
  spread: 0.4,
  source: 'common practice, no source',
  nominal: { value: 1, unit: '× air' },
};

const heat: HeatAssessment = {
  identification: {
    learned: [
      { unknown, factor: 1.5, spread: 0.35, learned: 0.24 },
      {
        unknown: {
          ...unknown,
          id: 'film-front',
          name: 'how well the front face gives off heat',
          nominal: null,
        },
        factor: 2.59,
        spread: 0.19,
        learned: 0.04,
      },
    ],
    entangled: [{ one: 'bay', other: 'film-front', correlation: -0.82 }],
    settledCombinations: 4.9,
    readings: 15,
  },
  modelError: 0.04,
  fitted: [
    {
      setup: 'bare',
      charging: false,
      phase: 'load',
      probe: 'c1',
      measured_K: 24.01,
      measured_u_K: 0.33,
      shown_K: 25.9,
    },
    {
      setup: 'plate',
      charging: false,
      phase: 'load',
      probe: 'c1',
      measured_K: 21.12,
      measured_u_K: 0.33,
      shown_K: 21.05,
    },
  ],
  leaveOneOut: {
    rows: [
      {
        setup: 'bare',
        charging: false,
        phase: 'load',
        probe: 'c1',
        measured_K: 24.01,
        measured_u_K: 0.3,
        predicted_K: 26.94,
        predicted_u_K: 0.4,
      },
      {
        setup: 'plate',
        charging: false,
        phase: 'load',
        probe: 'c1',
        measured_K: 21.12,
        measured_u_K: 0.33,
        predicted_K: 20.9,
        predicted_u_K: 0.98,
      },
    ],
    cells_K: 2.08,
    all_K: 2.08,
    widening: 1.28,
    beyond: null,
  },
  predictions: [
    predicted('bare', true, 26),
    predicted('plate', true, 22),
    predicted('graphite', false, 22.6),
  ],
  room_C: 23,
  unpredicted: [{ setup: 'graphite', reason: 'It is too thick.' }],
  paces: [],
  advice: [
    { id: 'pack-corner', words: 'Put a probe on the far corner of the pack', left: 0.9 },
    { id: 'load', words: 'Meter the power', left: 0.999 },
  ],
  cells: 25_116,
  notes: ['What the shells are made of is not noted; ABS is taken.'],
};

describe('the answer', () => {
  test('speaks of what nobody has soaked, in the room of the runs, and of the model’s own error', () => {
    const text = plainText(tellHeat(build, heat).answer);
    expect(text).toBe(
      'Untried, graphite would put the hottest cell 22.6 ± 1.2 K above the room, 3.4 K below bare. Predicting each measured set-up from the others, the model errs by 2.1 K at the cells.',
    );
  });

  test('says when a difference is less than the model can tell', () => {
    const close = { ...heat, predictions: [predicted('bare', true, 24), predicted('graphite', false, 22.6)] };
    expect(plainText(tellHeat(build, close).answer)).toContain(
      '1.4 K below bare, which is less than the model can tell',
    );
  });

  test('speaks of the coolest one soaked where none is untried, and calls it soaked', () => {
    const all = { ...heat, predictions: heat.predictions.filter(({ measured }) => measured) };
    expect(plainText(tellHeat(build, all).answer)).toMatch(
      /^Of the set-ups soaked, plate has the coolest hottest cell: 22\.0 ± 1\.2 K above the room, 4\.0 K below bare\./,
    );
  });

  test('gives no error where none could be found, and says what it takes', () => {
    const words = tellHeat(build, { ...heat, leaveOneOut: null });
    expect(plainText(words.answer)).toContain('How far off it is nobody can tell yet');
    expect(words.state).toEqual({ level: 'look', words: 'unchecked' });
  });

  test('tells a level on the warmest day as a bound, and only where such a day is stated', () => {
    const whys = (of: Parameters<typeof tellHeat>[0]) =>
      JSON.stringify(tellHeat(of, heat).answer.map((part) => (typeof part === 'string' ? '' : part.why)));
    const { designAmbient: _, ...bare } = build;
    // 32 °C and 22.6 K make 54.6 °C.
    expect(whys(build)).toContain('no more than 54.6 ± 1.2 °C');
    expect(whys(bare)).not.toContain('no more than');
    expect(whys({ ...build, designAmbient: { ambient_C: 20 } })).not.toContain('no more than');
  });

  test('has two or three words for the stage line', () => {
    expect(tellHeat(build, heat).state).toEqual({ level: 'look', words: 'good to 2.1 K' });
    const good = {
      ...heat,
      leaveOneOut: { ...(heat.leaveOneOut as NonNullable<typeof heat.leaveOneOut>), cells_K: 0.6 },
    };
    expect(tellHeat(build, good).state).toEqual({ level: 'holds', words: 'good to 0.6 K' });
  });
});

describe('the tables', () => {
  const view = presentHeat(build, heat);

  test('mark each figure as measured or predicted, and only probes of soaked set-ups as measured', () => {
    const probe = view.loaded.rows.find(({ id }) => id === 'probe:c1');
    expect(probe?.figures).toEqual([
      [
        { mark: 'measured', words: '24.0 ± 0.3' },
        { mark: 'predicted', words: '25.0 ± 1.2' },
      ],
      [
        { mark: 'measured', words: '21.1 ± 0.3' },
        { mark: 'predicted', words: '21.0 ± 1.2' },
      ],
      [{ mark: 'predicted', words: '21.6 ± 1.2' }],
    ]);
    const others = view.loaded.rows.filter(({ id }) => id !== 'probe:c1');
    expect(others.flatMap(({ figures }) => figures.flat()).every(({ mark }) => mark === 'predicted')).toBe(
      true,
    );
    expect(view.charging).toBeNull();
  });

  test('tell where the doubt of the hottest cell comes from', () => {
    expect(view.doubts.map(({ setup, place, parts }) => [setup, place, parts])).toContainEqual([
      'graphite',
      'cell 1',
      ['0.8', '0.8', '0.2', '0.3'],
    ]);
  });

  test('hold each prediction against its runs: off by 2.93 with a doubt of 0.5 lies outside 95 %', () => {
    // The 97.5 % point of Student's t for 5 degrees of freedom is 2.571 in any table.
    expect(tQuantile(0.975, 5)).toBeCloseTo(2.571, 3);
    expect(view.trust?.rows.map(({ off, isInside }) => [off, isInside])).toEqual([
      ['+2.9 K', false],
      ['−0.2 K', true],
    ]);
    expect(view.trust?.sentence).toContain('1 of 2 measurements lies inside 95 %');
    expect(view.trust?.sentence).toContain('widened 1.28 times');
    expect(view.trust?.view.rows[0]?.mark?.thick.map((value) => value.toFixed(2))).toEqual(['2.43', '3.43']);
  });

  test('say how little the runs settle, and what they cannot tell apart', () => {
    expect(view.fitted.sentence).toContain('15 readings settle 4.9 combinations of 2 unknowns');
    expect(view.fitted.rows[0]).toMatchObject({
      nominal: '1.0 × air',
      factor: '1.50 ± 35 %',
      learned: '24 %',
    });
    expect(view.fitted.rows[1]?.nominal).toBe('–');
    expect(view.fitted.entangled).toEqual([
      'What crosses the air and how well the front face gives off heat cannot be told apart: more of one with less of the other gives the same readings (correlation −0.82).',
    ]);
  });

  test('say what would help, by how much, and what would not', () => {
    expect(view.advice.map(({ gain }) => gain)).toEqual(['10 % less doubt', 'hardly anything']);
  });

  test('never say that anything is without danger', () => {
    expect(JSON.stringify(view)).not.toMatch(/\bsafe/i);
  });
});

describe('margins of a prediction', () => {
  const limits = [
    {
      id: 'c',
      where: 'cell' as const,
      state: 'discharging' as const,
      level: 'stop' as const,
      limit_C: 60,
      source: 's',
    },
    {
      id: 'w',
      where: 'cell' as const,
      state: 'any' as const,
      level: 'wear' as const,
      limit_C: 50,
      source: 's',
    },
    {
      id: 'z',
      where: 'zone' as const,
      zone: 'other',
      state: 'any' as const,
      level: 'stop' as const,
      limit_C: 85,
      source: 's',
    },
    {
      id: 'g',
      where: 'cell' as const,
      state: 'charging' as const,
      level: 'stop' as const,
      limit_C: 45,
      source: 's',
    },
  ];
  const place = { id: 'cell-1', name: 'cell 1, hottest', kind: 'hottest', rise_K: 22 };
  const judge = (u?: number, rise_K = 22) =>
    judgePlaces(
      { limits, designAmbient: { ambient_C: 32 }, zones: [] },
      [{ ...place, rise_K, ...(u === undefined ? {} : { u: { u, dof: 5 } }) }],
      false,
    );

  test('hold the hottest cell against the limits of its use, and no others', () => {
    expect(judge(1).map(({ limit }) => limit.id)).toEqual(['w', 'c']);
    const stop = judge(1)[1];
    expect(stop?.margin_K).toBeCloseTo(6, 12);
    // 95 % one-sided, five degrees of freedom: 2.015.
    expect(stop?.atLeast_K).toBeCloseTo(6 - 2.015, 3);
    expect(stop?.level).toBe('holds');
  });
  test('look where less than 2 K are left, stop where the limit may be passed', () => {
    expect(judge(2.5)[1]?.level).toBe('look');
    expect(judge(3)[1]?.level).toBe('stop');
    expect(judge(0.1, 30)[1]?.level).toBe('stop');
  });
  test('stay open while the doubt is not known, but for what is passed already', () => {
    expect(judge()[1]).toMatchObject({ level: 'open', atLeast_K: null });
    expect(judge(undefined, 29)[1]?.level).toBe('stop');
  });
  test('need a design ambient', () => {
    expect(judgePlaces({ limits, zones: [] }, [place], false)).toEqual([]);
  });
});

test('every reason for having no model says what to do at the bench', () => {
  for (const reason of [
    { kind: 'no-data' },
    { kind: 'fit-not-settled' },
    { kind: 'not-settled', moved_K: 3 },
    { kind: 'cancelled' },
    { kind: 'not-converged', iterations: 400, residual: 0.1 },
  ] as const) {
    const { what, remedy } = explainNoHeat(reason);
    expect(what.length).toBeGreaterThan(10);
    expect(remedy.length).toBeGreaterThan(10);
  }
});
