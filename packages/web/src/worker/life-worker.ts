/** The forecasting half of the page: a worker of its own, so that a slider that is dragged never waits for logs being read. */
import type { DutyChange, WhatIfs, YearView } from '@soakbench/core/life';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import {
  askChange,
  askWhatIfs,
  type BuildForecast,
  forecastBuild,
  type LifeEvidence,
  picturedYear,
} from '@soakbench/core/verdict';
import { expose } from 'comlink';

/** What a forecast came to. Faults go as data: an error loses them on its way out of a worker. */
export type LifeAnswer =
  | { readonly kind: 'forecast'; readonly made: BuildForecast }
  | { readonly kind: 'none'; readonly why: string }
  | { readonly kind: 'failed'; readonly faults: readonly Fault[] };

export interface SetupAnswer {
  readonly setup: string;
  readonly whatIfs: WhatIfs;
  readonly year: YearView;
}

/** Few enough to follow a hand: ratios in the same draws stay steady. */
const draggedDraws = 300;

let held: { readonly build: Build; readonly evidence: LifeEvidence; readonly made: BuildForecast } | null =
  null;

const life = {
  forecast(build: Build, evidence: LifeEvidence): LifeAnswer {
    held = null;
    try {
      const result = forecastBuild(build, evidence);
      if (!result.ok) return { kind: 'none', why: result.reason.remedy };
      held = { build, evidence, made: result.value };
      return { kind: 'forecast', made: result.value };
    } catch (error) {
      if (error instanceof BadInputError) return { kind: 'failed', faults: error.faults };
      throw error;
    }
  },
  /** Other habits and the year's picture in one set-up of the build that was last forecast; null where there was none. */
  inSetup(setup: string): SetupAnswer | null {
    if (held === null) return null;
    const result = askWhatIfs(held.build, held.evidence, setup);
    return result.ok ? { setup, whatIfs: result.value, year: picturedYear(held.made, setup) } : null;
  },
  change(setup: string, change: DutyChange): WhatIfs | null {
    if (held === null) return null;
    const result = askChange(held.build, held.evidence, setup, change, { draws: draggedDraws });
    return result.ok ? result.value : null;
  },
};

export type LifeWorker = typeof life;

expose(life);
