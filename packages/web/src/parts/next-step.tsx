import { formatNumber } from '@soakbench/core/measure';
import type { NextStep } from '@soakbench/core/verdict';
import { type PageName, pageHref, pageNames } from '../router.js';

interface NextStepProps {
  readonly step: NextStep;
  readonly build: string;
}

/** One measurement to make next: what, how long it takes, and where it is entered. */
export function NextStepNote({ step, build }: NextStepProps) {
  const page = pageOf(step);
  return (
    <section class="next">
      <h2>{step.title}</h2>
      <p>{step.detail}</p>
      {step.takes_h !== null && <p>About {hoursWords(step.takes_h)} at the bench.</p>}
      {page && (
        <p class="btns">
          <a class="btn" href={pageHref(build, page)}>
            Go to {page}
          </a>
        </p>
      )}
    </section>
  );
}

/** The page a step is entered on; steps of stages without a page are entered with the build. */
export function pageOf({ stage }: Pick<NextStep, 'stage'>): PageName | null {
  return (pageNames as readonly string[]).includes(stage) ? (stage as PageName) : null;
}

export function hoursWords(takes_h: number): string {
  if (takes_h < 1) return `${formatNumber(60 * takes_h, 0)} min`;
  return `${formatNumber(takes_h, Number.isInteger(takes_h) ? 0 : 1)} h`;
}
