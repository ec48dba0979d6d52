/**
 * The heat model's half of the page. One worker calibrates and ends; one shows what a hand drags; one works out intervals. Each is its own
 * worker of this file, so that a slow answer never keeps a quick one waiting, and stopping one harms none of the others.
 */
import type { Contest } from '@soakbench/core/compare';
import {
  type Calibrated,
  calibrateHeat,
  explainNoHeat,
  type HeatAssessment,
  type PredictedRise,
  type SetupWish,
  type ShownSetup,
  TryBench,
} from '@soakbench/core/heat';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import type { Correction } from '@soakbench/core/probes';
import type { Build } from '@soakbench/core/records';
import type { RunResult } from '@soakbench/core/runs';
import { expose, transfer } from 'comlink';
import { lendSolverHelper } from './lend-solver-helper.js';

/** What a model is made from. */
export interface HeatJob {
  readonly build: Build;
  readonly contests: readonly Contest[];
  readonly corrections: readonly Correction[];
  /** For how slowly set-ups settle, which the fit does not see. */
  readonly runs: readonly RunResult[];
}

/** Faults go back as data: an error loses them on its way out of a worker. */
export type Answered<T> = T | { readonly faults: readonly Fault[] };

export interface Calibration {
  readonly assessment: HeatAssessment;
  readonly calibrated: Calibrated;
}

/** Every answer waits for it: a solver takes the threads there are when it is made. */
const helped = lendSolverHelper();

let bench: TryBench | null = null;

async function asFaults<T>(work: () => Answered<T>): Promise<Answered<T>> {
  await helped;
  try {
    return work();
  } catch (error) {
    if (error instanceof BadInputError) return { faults: error.faults };
    throw error;
  }
}

function opened(): TryBench {
  if (bench === null) throw new Error('The model is not open in this worker.');
  return bench;
}

const heat = {
  /** Takes seconds to minutes. `onProgress` is told a share of 1 and what is being done. */
  calibrate(
    job: HeatJob,
    onProgress: (share: number, doing: string) => void,
  ): Promise<Answered<Calibration>> {
    return asFaults(() => {
      const result = calibrateHeat(job.build, job.contests, job.corrections, {
        runs: job.runs,
        onProgress,
      });
      return result.ok ? result.value : { faults: [explainNoHeat(result.reason)] };
    });
  },
  open(job: HeatJob, calibrated: Calibrated): Promise<Answered<{ readonly opened: true }>> {
    return asFaults(() => {
      bench = new TryBench(job.build, job.contests, job.corrections, calibrated);
      return { opened: true };
    });
  },
  /** Two planes of the field are handed over, not copied, and the rest of it stays here. */
  show(wish: SetupWish): Promise<Answered<ShownSetup>> {
    return asFaults(() => {
      const shown = opened().show(wish);
      if (!shown.ok) return { faults: [explainNoHeat(shown.reason)] };
      const { plan, section } = shown.value;
      return transfer(
        shown.value,
        [plan, section].flatMap(({ x_mm, y_mm, rise_K }) =>
          [x_mm, y_mm, rise_K].map(({ buffer }) => buffer as ArrayBuffer),
        ),
      );
    });
  },
  predict(wish: SetupWish): Promise<Answered<{ readonly rises: readonly PredictedRise[] }>> {
    return asFaults(() => {
      const rises = opened().predict(wish);
      return rises.ok ? { rises: rises.value } : { faults: [explainNoHeat(rises.reason)] };
    });
  },
};

export type HeatWorker = typeof heat;

expose(heat);
