import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { EmptyFace } from '../parts/faces.js';
import { pageHref } from '../router.js';

interface NothingProps {
  readonly build: Build;
  readonly assessment: Assessment;
}

/** No counted run yet: what to log, in which order, and why each twice. */
export function NothingToCompare({ build, assessment }: NothingProps) {
  const counted = assessment.runs.runs.filter((run) => run.counted);
  return (
    <EmptyFace title="Nothing can be compared yet.">
      <p>
        {counted.length === 0
          ? 'No run counts so far. A comparison needs at least one settled run of the device as it is and one of each shield.'
          : assessment.compare.condition}
      </p>
      <ol class="steps">
        <li>
          <b>Log the bare set-up.</b> Device closed, probes on, room as steady as it gets: idle for an hour,
          then full load for two hours or until nothing rises. About 3 h.
        </li>
        <li>
          <b>Log each shield the same way.</b> Same load, same probes in the same places. About 3 h each.
        </li>
        <li>
          <b>Repeat each once, with the shell opened and the pack taken out in between.</b> How a pack is put
          in can shift the result by as much as a shield does; without a repeat the two cannot be told apart,
          and no verdict on a difference is given.
        </li>
      </ol>
      <p class="btns">
        <a class="btn" href={pageHref(build.id, 'runs')}>
          Go to the runs
        </a>
      </p>
    </EmptyFace>
  );
}
