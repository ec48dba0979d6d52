import type { PredictedRise, ShownSetup } from '@soakbench/core/heat';
import { plainText } from '@soakbench/core/measure';
import { newBuild } from '@soakbench/core/records';
import { describe, expect, test } from 'vitest';
import { liveMargins, liveRows, tellThought } from './present-live.js';

const slice = { at_mm: 0, x_mm: new Float64Array(2), y_mm: new Float64Array(2), rise_K: new Float32Array(1) };

const showing = (cell_K: number, room_mm = 1): ShownSetup => ({
  ambient_C: 32,
  plane: 'pack',
  planes: ['pack'],
  plan: slice,
  section: slice,
  parts: [],
  places: [
    { id: 'probe:c1', name: 'C1 cell 1', kind: 'probe', probe: 'c1', rise_K: cell_K - 1, at: null },
    { id: 'cell-1', name: 'cell 1, hottest', kind: 'hottest', probe: null, rise_K: cell_K, at: null },
    { id: 'cell-1-mean', name: 'cell 1, mean', kind: 'mean', probe: null, rise_K: cell_K - 2, at: null },
    { id: 'cell-2', name: 'cell 2, hottest', kind: 'hottest', probe: null, rise_K: cell_K - 4, at: null },
  ],
  depths: { pack: 8, boardBack: 5 },
  room_mm,
  cells: 30_000,
  steps: 2,
});

const rises = [
  {
    target: { id: 'cell-1', name: 'cell 1, hottest', kind: 'hottest', probe: null },
    rise_K: { value: 21, u: 1.2, dof: 5 },
    parts: { unknowns_K: 1, model_K: 0.5, place_K: 0, grid_K: 0.2 },
    at: null,
  },
] satisfies PredictedRise[];

describe('temperatures while a hand drags', () => {
  test('stand at once, with the difference to the baseline in the same room; the doubt follows', () => {
    const [, cell] = liveRows(showing(21), null, showing(25));
    expect(cell).toMatchObject({ level: '53.0', doubt: '± …', against: '−4.0' });
    const [, later] = liveRows(showing(21), rises, showing(25));
    expect(later?.doubt).toBe('± 1.2');
  });
  test('have no difference while the baseline is not there', () => {
    expect(liveRows(showing(21), null, null).every(({ against }) => against === '…')).toBe(true);
  });
  test('say warmer with a sign', () => {
    expect(liveRows(showing(26), null, showing(25))[1]?.against).toBe('+1.0');
  });
});

test('margins are value only until the doubt is known, and then judged with it', () => {
  const build = {
    ...newBuild('b', 'B'),
    designAmbient: { ambient_C: 32 },
    limits: [
      {
        id: 'stop',
        where: 'cell' as const,
        state: 'discharging' as const,
        level: 'stop' as const,
        limit_C: 60,
        source: 's',
      },
    ],
  };
  expect(liveMargins(build, showing(21), null, false)[0]).toMatchObject({
    margin: '7.0 K',
    atLeast: '…',
    limit_C: '60',
    isStop: true,
    word: 'value only',
  });
  // 7 less 2.015 times 1.2, by the 95 % point of Student's t for five degrees of freedom.
  expect(liveMargins(build, showing(21), rises, false)[0]).toMatchObject({ atLeast: '4.6 K', word: 'holds' });
  expect(liveMargins(build, showing(21), rises, true)).toEqual([]);
});

describe('the set-up on show in a sentence', () => {
  const thought = {
    name: 'plate with aluminium plate 0.8 mm',
    isMeasured: false,
    shown: showing(21, 0.7),
    rises: null,
    ghost: showing(25),
    baseline: 'bare',
    error_K: 1.8,
  };
  test('calls it untried, and gives level, difference and what is left in the bay', () => {
    expect(plainText(tellThought(thought))).toBe(
      'Untried, plate with aluminium plate 0.8 mm would put the hottest cell at 53.0 ± … °C: 4.0 K below bare. It leaves 0.70 mm in the bay for swelling.',
    );
    expect(plainText(tellThought({ ...thought, rises }))).toContain('53.0 ± 1.2 °C');
  });
  test('says when the difference is less than the model can tell', () => {
    expect(plainText(tellThought({ ...thought, ghost: showing(22) }))).toContain(
      '1.0 K below bare, which is less than the model can tell.',
    );
  });
  test('says warmer as it is', () => {
    expect(plainText(tellThought({ ...thought, ghost: showing(18) }))).toContain('3.0 K above bare');
  });
  test('does not compare the baseline with itself', () => {
    expect(plainText(tellThought({ ...thought, name: 'bare', isMeasured: true }))).toBe(
      'Bare has its hottest cell at 53.0 ± … °C. It leaves 0.70 mm in the bay for swelling.',
    );
  });
});
