import { beforeAll, describe, expect, test } from 'vitest';
import { makeBuild } from '../../../../examples/generator/scenario.mjs';
import { coarsen, type HeatAssessment, HeatBench, soakGrid } from '../../src/heat/index.js';
import { type Build, checkBuild, type Layer } from '../../src/records/index.js';
import {
  type Assessment,
  assessBuild,
  type BuildForecast,
  everyContest,
  forecastBuild,
} from '../../src/verdict/index.js';

interface Truth {
  readonly untried: readonly {
    setup: string;
    name: string;
    layers: readonly Layer[];
    rises_K: Record<'idle' | 'load' | 'chargingIdle', Record<'c1' | 'c2', number>>;
  }[];
}

/** With five degrees of freedom, as predictions state them: 99 %. */
const reach = 4.032;
const options = { draws: 400, seed: 7 };
let build: Build;
let assessment: Assessment;
let truth: Truth;
let heat: HeatAssessment;
let made: BuildForecast;

beforeAll(() => {
  const invented = makeBuild() as unknown as { build: unknown; logs: Map<string, Uint8Array>; truth: Truth };
  truth = invented.truth;
  const demo = checkBuild(invented.build);
  const untried = truth.untried.map(({ setup, name, layers }) => ({ id: setup, name, layers: [...layers] }));
  const thick = { id: 'thick', name: 'slab', layers: [{ material: 'foam', name: 'foam', thickness_mm: 9 }] };
  build = { ...demo, setups: [...demo.setups, ...untried, thick] } as Build;
  assessment = assessBuild(build, (file) => invented.logs.get(file));
  const contests = everyContest(assessment.compare);
  const bench = new HeatBench(build, contests, assessment.probes.corrections, coarsen(soakGrid));
  const assessed = bench.assess();
  if (!assessed.ok) throw new Error(assessed.reason.kind);
  heat = assessed.value;
  const result = forecastBuild(build, assessment, { ...options, heat });
  if (!result.ok) throw new Error(result.reason.kind);
  made = result.value;
}, 240_000);

const forecastWith = (from: HeatAssessment) => {
  const result = forecastBuild(build, assessment, { ...options, heat: from });
  if (!result.ok) throw new Error(result.reason.kind);
  return result.value.forecast;
};

describe('life of set-ups nobody soaked, with the heat model', () => {
  test('they are forecast beside the measured ones, marked; what the model cannot carry is left out by name', () => {
    const names = made.forecast.setups.map(({ name, isPredicted }) => ({ name, isPredicted }));
    expect(names.slice(0, 4).every(({ isPredicted }) => !isPredicted)).toBe(true);
    expect(names.slice(4)).toEqual(
      truth.untried.map(({ name }) => ({ name: `${name}, predicted`, isPredicted: true })),
    );
    expect(made.leftOut).toEqual([
      { setup: 'thick', why: expect.stringMatching(/^Slab cannot be predicted: .*too thick/) },
    ]);
    expect(made.assumed.join(' ')).toMatch(/Predicted by the heat model and never soaked: .*foam/);
    expect(made.untried).toEqual([]);
  });

  test('without the model they are left out and named, and the measured ones get the same rises', () => {
    const result = forecastBuild(build, assessment, options);
    if (!result.ok) throw new Error(result.reason.kind);
    expect(result.value.untried).toEqual([...truth.untried.map(({ setup }) => setup), 'thick']);
    expect(result.value.input.setups).toEqual(made.input.setups.slice(0, 4));
  });

  // Held against the network that the generator simulates the logs by, which this model never saw.
  test('their rises hold what the device would really do, loaded, idle and while charging', () => {
    const misses: string[] = [];
    for (const { setup, rises_K } of truth.untried) {
      const rises = made.input.setups.find((each) => each.setup === setup)?.rises;
      for (const [state, phase] of [
        ['load', 'load'],
        ['idle', 'idle'],
        ['charging', 'chargingIdle'],
      ] as const) {
        for (const [cell, probe] of (['c1', 'c2'] as const).entries()) {
          const { value = Number.NaN, u = 0 } = rises?.[state]?.[cell] ?? {};
          const off_K = value - rises_K[phase][probe];
          if (!(Math.abs(off_K) < reach * u)) misses.push(`${setup} ${state} ${probe} ${off_K} of ${u}`);
        }
      }
    }
    expect(misses).toEqual([]);
  });

  test('a prediction in more doubt widens the ratio of its life to the baseline’s', () => {
    const widthOf = (factor: number) => {
      const predictions = heat.predictions.map((each) => ({
        ...each,
        rises: each.rises.map((rise) => ({ ...rise, rise_K: { ...rise.rise_K, u: factor * rise.rise_K.u } })),
      }));
      const forecast = forecastWith({ ...heat, predictions });
      const ratio = forecast.setups.find(({ setup }) => setup === 'graphite')?.ratio;
      return (ratio?.p95 ?? 0) - (ratio?.p05 ?? 0);
    };
    // Models and the baseline's own doubt widen it too, so it grows less than the prediction's doubt does.
    const [sure, usual, doubtful] = [0, 1, 3].map(widthOf) as [number, number, number];
    expect(sure).toBeLessThan(usual);
    expect(usual).toBeLessThan(doubtful);
  });

  test('a cooler prediction lives longer, and cells drift apart the more unlike they are', () => {
    const shift = (by_K: number, probe: string) =>
      forecastWith({
        ...heat,
        predictions: heat.predictions.map((each) => ({
          ...each,
          rises: each.rises.map((rise) =>
            rise.target.probe === probe || probe === 'all'
              ? { ...rise, rise_K: { ...rise.rise_K, value: rise.rise_K.value + by_K } }
              : rise,
          ),
        })),
      }).setups.find(({ setup }) => setup === 'thin-plate');
    expect(shift(-8, 'all')?.years.p50).toBeGreaterThan(shift(0, 'all')?.years.p50 ?? 99);
    expect(shift(-10, 'c2')?.imbalance.at(-1)?.p50).toBeGreaterThan(
      shift(0, 'c2')?.imbalance.at(-1)?.p50 ?? 1,
    );
  });
});
