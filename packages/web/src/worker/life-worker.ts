/** The forecasting half of the page: a worker of its own, so that a slider that is dragged never waits for logs being read. */
import type { HeatAssessment } from '@soakbench/core/heat';
import type { DutyChange, WhatIfs, YearView } from '@soakbench/core/life';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import {
  askChange,
  askWhatIfs,
  type BuildForecast,
  type ForecastOptions,
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

let held: {
  readonly build: Build;
  readonly evidence: LifeEvidence;
  readonly options: ForecastOptions;
  readonly made: BuildForecast;
} | null = null;

const life = {
  /** @param heat the build's calibrated model, where the page has one: set-ups nobody soaked are then forecast too */
  forecast(build: Build, evidence: LifeEvidence, heat: HeatAssessment | null): LifeAnswer {
    held = null;
    try {
      const options = heat === null ? {} : { heat };
      const result = forecastBuild(build, evidence, options);
      if (!result.ok) return { kind: 'none', why: result.reason.remedy };
      held = { build, evidence, options, made: result.value };
      return { kind: 'forecast', made: result.value };
    } catch (error) {
      if (error instanceof BadInputError) return { kind: 'failed', faults: error.faults };
      throw error;
    }
  },
  /** Other habits and the year's picture in one set-up of the build that was last forecast; null where there was none. */
  inSetup(setup: string): SetupAnswer | null {
    if (held === null) return null;
    const result = askWhatIfs(held.build, held.evidence, setup, held.options);
    return result.ok ? { setup, whatIfs: result.value, year: picturedYear(held.made, setup) } : null;
  },
  change(setup: string, change: DutyChange): WhatIfs | null {
    if (held === null) return null;
    const result = askChange(held.build, held.evidence, setup, change, {
      ...held.options,
      draws: draggedDraws,
    });
    return result.ok ? result.value : null;
  },
};

export type LifeWorker = typeof life;

expose(life);
