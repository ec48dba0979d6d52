import { describe, expect, test } from 'vitest';
import { makeBuild } from '../../../examples/generator/scenario.mjs';
import { calibrationU_K } from '../src/compare/collect-observations.js';
import { correctProbes } from '../src/probes/index.js';
import { type Build, checkBuild } from '../src/records/index.js';
import { type Assessment, assessBuild } from '../src/verdict/index.js';

/**
 * The invented recorder, made anew from seeds nobody picked: what the whole chain says is held against what is true.
 * The truth comes from a lumped thermal network in `examples/generator`, which shares no code with `core`.
 */
interface Truth {
  readonly setups: readonly { setup: string; rises_K: Record<string, Record<string, number>> }[];
  readonly runs: readonly {
    run: string;
    charging: boolean;
    throttledAt_s: number | null;
    idleEnd_s: number;
    loadEnd_s: number;
    rises_K: Record<'idle' | 'load', Record<string, number>>;
  }[];
}

interface Trial {
  readonly build: Build;
  readonly truth: Truth;
  readonly assessment: Assessment;
}

const seeds = [1001, 1002, 1003, 1004, 1005, 1006];

const trials: Trial[] = seeds.map((seed) => {
  const { build, logs, truth } = makeBuild({ seed }) as {
    build: unknown;
    logs: Map<string, Uint8Array>;
    truth: Truth;
  };
  const checked = checkBuild(build);
  return { build: checked, truth, assessment: assessBuild(checked, (file) => logs.get(file)) };
});

function share(held: readonly boolean[]): number {
  return held.filter(Boolean).length / held.length;
}

describe('over six invented builds', () => {
  test('phases are found to within a minute', () => {
    for (const { truth, assessment } of trials) {
      for (const run of assessment.runs.runs) {
        const real = truth.runs.find((candidate) => candidate.run === run.run);
        const load = run.phases.find(({ kind }) => kind === 'load');
        if (real === undefined || real.throttledAt_s !== null) continue;
        expect(Math.abs((load?.from_s ?? 0) - real.idleEnd_s)).toBeLessThan(60);
        expect(Math.abs((load?.to_s ?? 0) - real.loadEnd_s)).toBeLessThan(60);
      }
    }
  });

  test('the rise under load, with the probe check’s doubt, covers the run’s own truth', () => {
    const held: boolean[] = [];
    for (const { build, truth, assessment } of trials) {
      const corrections = correctProbes(build);
      for (const run of assessment.runs.runs) {
        if (!run.counted) continue;
        const real = truth.runs.find((candidate) => candidate.run === run.run);
        for (const { probe, phase, result } of run.plateaus) {
          if (phase !== 'load' || !result.ok || real === undefined) continue;
          const { rise_K, level_C, ambient_C } = result.value;
          const u_K = Math.hypot(rise_K.u, calibrationU_K(build, corrections, probe, level_C, ambient_C));
          held.push(Math.abs(rise_K.value - (real.rises_K.load[probe] ?? Number.NaN)) <= 2 * u_K);
        }
      }
    }
    expect(held.length).toBeGreaterThan(200);
    // Nominal 95 %; runs of one build share a probe check, so the count is worth far fewer than its number.
    expect(share(held)).toBeGreaterThan(0.85);
  });

  test('simultaneous intervals of all differences cover the truth', () => {
    const held: boolean[] = [];
    for (const { truth, assessment } of trials) {
      const main = assessment.compare.main;
      if (main === null) throw new Error('no comparison');
      const rise = (setup: string) =>
        truth.setups.find((candidate) => candidate.setup === setup)?.rises_K['load']?.[main.quantity.probe] ??
        Number.NaN;
      for (const { setup, other, simultaneous95_K } of [...main.toBaseline, ...main.pairs]) {
        const real = rise(other) - rise(setup);
        held.push(real >= simultaneous95_K[0] && real <= simultaneous95_K[1]);
      }
    }
    expect(share(held)).toBeGreaterThan(0.9);
  });

  test('the verdict is never the film, and the throttled run never counts', () => {
    for (const { truth, assessment } of trials) {
      expect(['plate', 'strips']).toContain(assessment.verdict.setup);
      const throttled = truth.runs.find((run) => run.throttledAt_s !== null);
      const run = assessment.runs.runs.find((candidate) => candidate.run === throttled?.run);
      expect(run?.counted).toBe(false);
      expect(run?.flags.map(({ kind }) => kind)).toContain('throttled');
    }
  });

  test('what is shown against bare is so, and the film’s 0.2 K are not, but by the chance of 5 %', () => {
    let filmsShown = 0;
    for (const { truth, assessment } of trials) {
      const main = assessment.compare.main;
      if (main === null) throw new Error('no comparison');
      const rise = (setup: string) =>
        truth.setups.find((each) => each.setup === setup)?.rises_K['load']?.[main.quantity.probe] ??
        Number.NaN;
      for (const { setup, other, finding, simultaneous95_K } of main.toBaseline) {
        if (finding !== 'shown') continue;
        expect(Math.sign(rise(other) - rise(setup))).toBe(Math.sign(simultaneous95_K[0]));
        if (setup === 'film') filmsShown++;
      }
    }
    // At most 7 % each, 5 % for nothing and a little for the 0.2 K: two or more of six come by chance in 6 % of such trials. With
    // these seeds it is one, 1006, whose three mountings of the film sat 0.9 K luckier than those of bare.
    expect(filmsShown).toBeLessThanOrEqual(1);
  });

  test('the true temperature at the design ambient lies above the highest one claimed in few cases', () => {
    const held: boolean[] = [];
    for (const { build, truth, assessment } of trials) {
      for (const margin of assessment.compare.margins) {
        if (margin.atLeast_K === null || margin.probe === null || margin.limit.id !== 'prefer') continue;
        const kind = {
          'discharging-idle': 'idle',
          'discharging-load': 'load',
          'charging-idle': 'chargingIdle',
          'charging-load': 'chargingLoad',
          stored: '',
        }[margin.use];
        const rise =
          truth.setups.find(({ setup }) => setup === margin.setup)?.rises_K[kind]?.[margin.probe] ??
          Number.NaN;
        const real_K = margin.limit.limit_C - ((build.designAmbient?.ambient_C ?? Number.NaN) + rise);
        held.push(real_K >= margin.atLeast_K);
      }
    }
    expect(held.length).toBeGreaterThan(40);
    expect(share(held)).toBeGreaterThan(0.9); // nominal 95 %, one-sided
  });
});
