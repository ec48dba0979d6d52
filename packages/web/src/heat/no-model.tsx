import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { EmptyFace } from '../parts/faces.js';
import { pageHref } from '../router.js';

interface NoModelProps {
  readonly build: Build;
  readonly assessment: Assessment;
}

/** Nothing to hold a model to yet: which records and runs it needs, in the order of the work. */
export function NoModel({ build, assessment }: NoModelProps) {
  const counted = assessment.runs.runs.filter((run) => run.counted);
  const lacks = lackingRecords(build);
  const hasProbes =
    build.probes.some(({ place }) => place === 'cell') && build.probes.some(({ place }) => place === 'zone');
  return (
    <EmptyFace title="There is no model to ask yet.">
      <p>
        A model of the device tells what a shield would do before it is cut. It has to be held to runs of this
        very device: how well its parts touch and what its faces give off no table knows.
      </p>
      <ol class="steps">
        {lacks.length > 0 && (
          <li>
            <b>Enter {lacks.join(', ')}.</b> Ten minutes with a caliper.{' '}
            <a href={pageHref(build.id, 'build')}>Go to the build</a>
          </li>
        )}
        {!hasProbes && (
          <li>
            <b>Put a probe on a cell under the hottest zone, and one on that zone.</b> The model reads them
            where they sit, so enter their places too.{' '}
            <a href={pageHref(build.id, 'probes')}>Go to the probes</a>
          </li>
        )}
        <li>
          <b>
            {counted.length === 0
              ? 'Log the bare device under full load'
              : 'Log a run that settles under load'}{' '}
            until nothing rises.
          </b>{' '}
          About 3 h. Note the power that goes in: without it the load is an unknown more.{' '}
          <a href={pageHref(build.id, 'runs')}>Go to the runs</a>
        </li>
        <li>
          <b>Log a second set-up the same way.</b> Only then can one be predicted from the other, and the
          model say how far it is off.
        </li>
      </ol>
    </EmptyFace>
  );
}

function lackingRecords({ device, newPack, zones }: Build): string[] {
  return [
    ...(device === undefined ? ['the device'] : []),
    ...(newPack?.outline === undefined || newPack.thickness_mm === undefined
      ? ['the new pack’s outline and thickness']
      : []),
    ...(zones.length === 0 ? ['the zones that get warm'] : []),
  ];
}
