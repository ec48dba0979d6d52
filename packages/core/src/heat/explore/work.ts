import type { Contest } from '../../compare/index.js';
import type { Result } from '../../measure/index.js';
import type { Correction } from '../../probes/index.js';
import type { Build, Setup } from '../../records/index.js';
import type { RunResult } from '../../runs/index.js';
import { type HeatAssessment, HeatBench, type NoHeat } from '../assess-heat.js';
import type { Fit } from '../calibrate/fit-unknowns.js';
import type { NoDeviceField } from '../device/solve-device.js';
import { type HeatReport, reportHeat } from '../show/report-heat.js';
import { concludeExploration } from './conclude.js';
import type { Exploration } from './exploration.js';
import { type RankedRises, Ranker, type RankingBasis, rankingBasis } from './rank.js';
import { planExploration } from './think-of.js';
import type { ExploreWish } from './wish.js';

/** What a heat model is calibrated on. */
export interface HeatInputs {
  readonly build: Build;
  readonly contests: readonly Contest[];
  readonly corrections: readonly Correction[];
  readonly runs?: readonly RunResult[];
}

/** Work that takes seconds: sent to a worker as a message, in the words of this file. */
export type HeatWork =
  /** `only` names the set-ups to predict, where not all are wanted. */
  | { readonly kind: 'assess'; readonly inputs: HeatInputs; readonly only?: readonly string[] }
  /** The same with the field of one set-up, for a dossier. */
  | { readonly kind: 'report'; readonly inputs: HeatInputs; readonly setup: string | null }
  | { readonly kind: 'calibrate'; readonly inputs: HeatInputs; readonly wish: ExploreWish }
  | { readonly kind: 'rank'; readonly basis: RankingBasis; readonly setups: readonly Setup[] }
  | { readonly kind: 'conclude'; readonly wish: ExploreWish; readonly ranked: readonly RankedRises[] };

/** What comes of it, under the same name. */
export interface HeatAnswers {
  readonly assess: Result<HeatAssessment, NoHeat>;
  readonly report: Result<HeatReport, NoHeat>;
  readonly calibrate: Result<RankingBasis, NoHeat>;
  readonly rank: Result<readonly RankedRises[], NoDeviceField>;
  readonly conclude: Result<Exploration, NoDeviceField>;
}

export interface HeatWorkOptions {
  readonly onProgress?: (share: number, doing: string) => void;
  readonly isCancelled?: () => boolean;
}

/**
 * Does the work of one worker after the other message, keeping what the next one needs: the calibrated bench for `conclude`, fields and
 * buffers for `rank`.
 */
export class HeatWorker {
  private bench: { readonly inputs: HeatInputs; readonly bench: HeatBench; readonly fit: Fit } | undefined;
  private ranker: { readonly basis: string; readonly ranker: Ranker } | undefined;

  /**
   * @throws BadInputError where records or wish cannot be
   * @throws RangeError for `conclude` before `calibrate`
   */
  answer<Kind extends HeatWork['kind']>(
    work: Extract<HeatWork, { kind: Kind }>,
    options: HeatWorkOptions = {},
  ): HeatAnswers[Kind] {
    const { onProgress } = options;
    let furthest = 0;
    // A fit does not know how many rounds it will take; a bar that goes back would say that something went wrong.
    const forwardOnly = (share: number, doing: string) => {
      furthest = Math.max(furthest, Math.min(1, share));
      onProgress?.(furthest, doing);
    };
    const told = onProgress === undefined ? options : { ...options, onProgress: forwardOnly };
    return this.dispatch(work as HeatWork, told) as HeatAnswers[Kind];
  }

  private dispatch(work: HeatWork, options: HeatWorkOptions): HeatAnswers[HeatWork['kind']] {
    switch (work.kind) {
      case 'assess': {
        const { build, contests, corrections, runs } = work.inputs;
        const bench = new HeatBench(build, contests, corrections);
        return bench.assess({
          ...options,
          ...(runs === undefined ? {} : { runs }),
          ...(work.only === undefined ? {} : { only: work.only }),
        });
      }
      case 'report': {
        const { build, contests, corrections, runs } = work.inputs;
        return reportHeat(build, contests, corrections, work.setup, {
          ...options,
          ...(runs === undefined ? {} : { runs }),
        });
      }
      case 'calibrate': {
        const { inputs, wish } = work;
        planExploration(inputs.build, wish);
        const bench = new HeatBench(inputs.build, inputs.contests, inputs.corrections);
        const fit = bench.calibrate({
          ...options,
          onProgress: (share, doing) => options.onProgress?.(share / calibrateShare, doing),
        });
        if (!fit.ok) return fit;
        this.bench = { inputs, bench, fit: fit.value };
        return { ok: true, value: rankingBasis(bench.soaks, fit.value, wish.use) };
      }
      case 'rank':
        return this.rankerFor(work.basis).rank(work.setups, {
          ...(options.isCancelled === undefined ? {} : { isCancelled: options.isCancelled }),
          onDone: (done) => options.onProgress?.(done / work.setups.length, 'computing set-ups'),
        });
      case 'conclude': {
        if (this.bench === undefined) throw new RangeError('Calibrate before concluding.');
        const { inputs, bench, fit } = this.bench;
        const plan = planExploration(inputs.build, work.wish);
        return concludeExploration(bench, fit, inputs.contests, plan, work.ranked, options);
      }
    }
  }

  private rankerFor(basis: RankingBasis): Ranker {
    const name = JSON.stringify(basis);
    if (this.ranker?.basis !== name) this.ranker = { basis: name, ranker: new Ranker(basis) };
    return this.ranker.ranker;
  }
}

/** How far a bench's own progress goes before it predicts. */
const calibrateShare = 0.7;
