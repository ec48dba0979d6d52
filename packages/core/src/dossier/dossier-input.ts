import type { HeatReport } from '../heat/index.js';
import type { Result } from '../measure/index.js';
import type { Build, Run } from '../records/index.js';
import type { LogBytes } from '../runs/index.js';
import type { Assessment, BuildForecast, NoBuildForecast } from '../verdict/index.js';
import type { Markup } from './markup.js';

/** What every section is written from. */
export interface DossierInput {
  readonly build: Build;
  readonly assessment: Assessment;
  readonly logOf: (file: string) => LogBytes | undefined;
  /** The set-up the drawings and margins speak of: the chosen one, or the one the verdict falls back on. */
  readonly subject: string | null;
  /** The heat model of the build, where one was made. */
  readonly heat?: HeatReport;
  /** Made once: the head and the section on life tell the same. */
  readonly forecast: Result<BuildForecast, Pick<NoBuildForecast, 'remedy'> & { readonly kind: string }>;
}

/** One numbered section. */
export interface DossierSection {
  /** Anchor; unique in the page. */
  readonly id: string;
  readonly title: string;
  readonly body: Markup;
}

/** The chosen set-up; without a choice, the one whose margins the verdict names, then the baseline, then the first. */
export function findSubject(build: Build, { verdict }: Assessment): string | null {
  return verdict.setup ?? verdict.margins[0]?.setup ?? build.baseline ?? build.setups[0]?.id ?? null;
}

export function setupName({ build }: DossierInput, id: string): string {
  return build.setups.find((setup) => setup.id === id)?.name ?? id;
}

export function probeName({ build }: DossierInput, id: string): string {
  return build.probes.find((probe) => probe.id === id)?.name ?? id;
}

export function runName(run: Pick<Run, 'id' | 'name'>): string {
  return run.name ?? run.id;
}

/** Where a run's own part of the page begins. */
export function runAnchor(id: string): string {
  return `run-${id}`;
}
