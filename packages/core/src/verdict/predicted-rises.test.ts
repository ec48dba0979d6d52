import { describe, expect, test } from 'vitest';
import type { PredictedSetup } from '../heat/index.js';
import type { Estimate } from '../measure/index.js';
import { sortByCell, type Use } from './measured-rises.js';
import { PredictedRises } from './predicted-rises.js';

const series = 3;
const at = (value: number, u = 0.3): Estimate => ({ value, u, dof: 5 });
const probe = (id: string, cell: number) => ({ id, name: id, place: 'cell' as const, cell });
const target = (id: string, kind: 'probe' | 'mean') => ({
  id,
  name: id,
  kind,
  probe: kind === 'probe' ? id.replace('probe:', '') : null,
});
const rise = (id: string, kind: 'probe' | 'mean', value: number, model_K = 0.5) => ({
  target: target(id, kind),
  rise_K: at(value, 0.6),
  parts: { unknowns_K: 0, model_K, place_K: 0, grid_K: 0 },
  at: null,
});
const prediction = (setup: string, isMeasured: boolean, scale: number): PredictedSetup => ({
  setup,
  charging: false,
  measured: isMeasured,
  rises: [
    rise('probe:c1', 'probe', 21 * scale),
    rise('probe:c2', 'probe', 17 * scale),
    rise('cell-1-mean', 'mean', 20 * scale),
    rise('cell-2-mean', 'mean', 16 * scale),
    rise('cell-3-mean', 'mean', 12 * scale),
  ],
  beyond: isMeasured ? [] : ['no set-up with graphite was soaked'],
});
const measured: Record<string, Record<string, readonly [number, number]>> = {
  bare: { load: [20, 15], idle: [8, 6] },
};
const readOf = (setup: string, { phase, charging }: Use) => {
  const found = charging ? undefined : measured[setup]?.[phase];
  return found
    ? sortByCell(
        [1, 2].map((cell, i) => ({ cell, rise_K: at(found[i] ?? 0) })),
        series,
      )
    : null;
};
const build = {
  setups: ['bare', 'graphite'].map((id) => ({ id, name: id, layers: [] })),
  probes: [probe('c1', 1), probe('c2', 2)],
  runs: [],
  newPack: { name: 'pack', series, parallel: 1 },
};
const make = (parallel = 1) =>
  new PredictedRises(
    { ...build, newPack: { ...build.newPack, parallel } },
    {
      read: readOf,
      of: (setup, use) => {
        const found = readOf(setup, use);
        return found === null ? null : found.perCell.map((own) => own ?? found.warmest);
      },
    },
    { predictions: [prediction('bare', true, 1), prediction('graphite', false, 0.8)] },
    { baseline: 'bare', runToRun: { sd_K: 0.25 } } as never,
  );
const load: Use = { phase: 'load', charging: false };
const idle: Use = { phase: 'idle', charging: false };

describe('rises that nobody measured', () => {
  test('what a probe measured stands; a cell without one is as warm beside the others as the model’s', () => {
    const rises = make();
    const found = rises.of('bare', load);
    expect(found?.slice(0, 2)).toEqual([at(20), at(15)]);
    // 12 to 20 in the model, of 20 that were measured on the first cell.
    expect(found?.[2]?.value).toBeCloseTo(12, 12);
    // The model's own 0.5 K on 12 stands beside the reading's doubt.
    expect(found?.[2]?.u).toBeCloseTo(Math.hypot(0.6 * 0.3, (0.5 / 12) * 12), 12);
    expect(rises.isPredicted('bare')).toBe(false);
    expect(rises.tellCells()).toEqual([
      'How warm cells without a probe are beside the others is the heat model’s word.',
    ]);
  });

  test('a set-up nobody soaked shows what the probes would, with the doubt of one mounting added', () => {
    const rises = make();
    const found = rises.of('graphite', load);
    expect(found?.map(({ value }) => value)).toEqual([
      expect.closeTo(16.8, 12),
      expect.closeTo(13.6, 12),
      expect.closeTo((16.8 * 12) / 20, 12),
    ]);
    expect(found?.[0]?.u).toBeCloseTo(Math.hypot(0.6, 0.25), 12);
    expect(rises.isPredicted('graphite')).toBe(true);
    expect(rises.tellCells().join(' ')).toMatch(
      /never soaked: graphite\. .*Graphite leaves what was soaked: no set-up with graphite/,
    );
  });

  test('idling follows the load in the baseline’s proportion, and its change is in doubt by a fifth', () => {
    const found = make().of('graphite', idle);
    expect(found?.[0]?.value).toBeCloseTo((8 / 20) * 16.8, 12);
    const parts = [0.4 * Math.hypot(0.6, 0.25), 0.3, 0.2 * 0.4 * (20 - 16.8)];
    expect(found?.[0]?.u).toBeCloseTo(Math.hypot(...parts), 12);
  });

  test('nothing is made up: a set-up the model does not have, and a charge that nobody ran', () => {
    expect(make().of('foam', load)).toBeNull();
    expect(make().of('foam', idle)).toBeNull();
    expect(make().of('graphite', { phase: 'idle', charging: true })).toBeNull();
  });

  test('with cells side by side the warmest reading is the model’s warmest cell', () => {
    const found = make(2).of('bare', load);
    expect(found?.map(({ value }) => value)).toEqual([20, 16, 12].map((value) => expect.closeTo(value, 12)));
  });
});
