import { formatList } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { type UntriedFace, untriedOf } from '../heat/use-heat.js';
import { setupName } from '../parts/names.js';
import { pageHref } from '../router.js';

interface UntriedProps {
  readonly build: Build;
  readonly assessment: Assessment;
  readonly face: UntriedFace['face'];
}

/** Whether set-ups nobody soaked are in the forecast, and what to do where they are not. */
export function UntriedWords({ build, assessment, face }: UntriedProps) {
  const untried = untriedOf(build, assessment);
  if (untried.length === 0) return null;
  const names = formatList(untried.map((id) => setupName(build, id)));
  const heat = <a href={pageHref(build.id, 'heat')}>heat model</a>;
  const words = {
    none: <>The {heat} has nothing to be held to yet, so they are left out.</>,
    working: <>The {heat} is being held to the runs; then they are forecast too.</>,
    stopped: <>The {heat} was stopped before it was calibrated, so they are left out.</>,
    failed: <>The {heat} cannot be made, and its page says why; they are left out.</>,
    ready: <>Their rises are the {heat}’s, and marked as predicted. Soak one before you believe it.</>,
  }[face];
  return (
    <section class="part" aria-label="Set-ups nobody soaked">
      <h2>Set-ups nobody soaked</h2>
      <p class="lead">
        {names.slice(0, 1).toUpperCase()}
        {names.slice(1)}: {words}
      </p>
    </section>
  );
}
