import type { HeatAssessment } from '@soakbench/core/heat';
import { presentOutlook } from '@soakbench/core/life';
import { BadInputError, plainText } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type Assessment, outlookBuild } from '@soakbench/core/verdict';
import { heading, type Page, wrap } from '../parts/page.js';
import { answerBracket } from './tell-bracket.js';

/** What a verdict says of life: the forecast in two sentences, else the bracket and why there are no years. */
export interface LifeInVerdict {
  readonly lines: readonly string[];
  readonly outlook: {
    readonly answer: string;
    readonly setups: readonly {
      readonly setup: string;
      readonly years90: readonly [number, number];
      readonly chanceLongest: number;
      /** True where it was never soaked and its rises are the heat model's. */
      readonly predicted: boolean;
    }[];
  } | null;
  readonly noForecast: { readonly kind: string; readonly remedy: string } | null;
}

/**
 * A duty that contradicts itself spoils the forecast and not the verdict.
 *
 * @param heat the calibrated model, where one was made: set-ups that were never soaked then have years too, marked as predicted
 */
export function lifeInVerdict(build: Build, assessment: Assessment, heat?: HeatAssessment): LifeInVerdict {
  const made = attempt(build, assessment, heat);
  if (!made.ok) {
    const { kind, remedy } = made.reason;
    return {
      lines: [answerBracket(build, assessment.life), `No years yet. ${remedy}`],
      outlook: null,
      noForecast: { kind, remedy },
    };
  }
  const view = presentOutlook(made.value.outlook);
  return {
    lines: [view.answer, view.years, ...view.predicted].map(plainText),
    outlook: {
      answer: plainText(view.answer),
      setups: made.value.outlook.setups.map(({ setup, years, chanceLongest, isPredicted }) => ({
        setup,
        years90: [years.p05, years.p95],
        chanceLongest,
        predicted: isPredicted,
      })),
    },
    noForecast: null,
  };
}

function attempt(
  build: Build,
  assessment: Assessment,
  heat: HeatAssessment | undefined,
): ReturnType<typeof outlookBuild> {
  try {
    return outlookBuild(build, assessment, heat === undefined ? {} : { heat });
  } catch (error) {
    if (!(error instanceof BadInputError)) throw error;
    return { ok: false, reason: { kind: 'odd-figure', remedy: error.message } };
  }
}

export function tellLifeInVerdict(page: Page, { lines }: LifeInVerdict): string[] {
  return [
    ...heading(page, 'What the heat costs'),
    ...lines.flatMap((line) => wrap(page, line, '  ')),
    ...wrap(page, 'soakbench life says more.', '  '),
  ];
}
