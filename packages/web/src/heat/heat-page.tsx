import { hasHeatData } from '@soakbench/core/heat';
import type { Fault } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type Assessment, everyContest } from '@soakbench/core/verdict';
import { useEffect, useMemo } from 'preact/hooks';
import { EmptyFace, FailedFace, LoadingFace } from '../parts/faces.js';
import { nameFaults, namePlace } from '../parts/name-place.js';
import type { PageProps } from '../parts/page.js';
import { pageHref } from '../router.js';
import { deskFor } from './desk-for.js';
import { NoModel } from './no-model.js';
import { Thinking } from './thinking.js';

/** What would an untried set-up do? A calibrated model to drag layers in, with how far it can be trusted beside it. */
export function HeatPage({ build, assessment, edit }: PageProps) {
  if (assessment === null) return <LoadingFace what="Reading the runs …" />;
  return <Bench build={build} assessment={assessment} edit={edit} />;
}

interface ReadyProps extends Omit<PageProps, 'assessment'> {
  readonly assessment: Assessment;
}

function Bench({ build, assessment, edit }: ReadyProps) {
  const contests = useMemo(() => everyContest(assessment.compare), [assessment.compare]);
  const { corrections } = assessment.probes;
  const { runs } = assessment.runs;
  const has = useMemo(() => hasHeatData(build, contests, corrections), [build, contests, corrections]);
  const desk = deskFor(build.id);
  useEffect(() => {
    if (has) desk.follow({ build, contests, corrections, runs });
  }, [desk, has, build, contests, corrections, runs]);
  const face = desk.face.value;
  if (!has) return <NoModel build={build} assessment={assessment} />;
  switch (face.face) {
    case 'calibrating':
      return (
        <section class="face calibrating">
          <p class="answer">The model is being held to the runs.</p>
          <p class="cond">
            It is fitted to every settled rise, then each set-up is left out in turn and predicted from the
            others: that gives the error that stands beside every prediction. You can leave this page
            meanwhile.
          </p>
          <p>
            <progress value={face.share} max={1} aria-label="Calibrating the model" />{' '}
            <span class="small" role="status">
              {face.doing}
            </span>
          </p>
          <p class="btns">
            <button type="button" class="btn" onClick={() => desk.stop()}>
              Stop
            </button>
          </p>
        </section>
      );
    case 'stopped':
      return (
        <EmptyFace title="Calibrating was stopped.">
          <p>Without it nothing can be predicted. It takes from some seconds to a few minutes.</p>
          <p class="btns">
            <button type="button" class="btn" onClick={() => desk.calibrate()}>
              Calibrate the model
            </button>
          </p>
        </EmptyFace>
      );
    case 'failed':
      return <Refused build={build} faults={face.faults} onRetry={() => desk.calibrate()} />;
    case 'ready':
      return <Thinking build={build} edit={edit} desk={desk} />;
  }
}

interface RefusedProps {
  readonly build: Build;
  readonly faults: readonly Fault[];
  readonly onRetry: () => void;
}

/** Why no model stands, and where it is mended. What a record is at fault for is tried again by itself once that has changed. */
function Refused({ build, faults, onRetry }: RefusedProps) {
  const isOfRecords = faults.some(({ where }) => namePlace(build, where) !== null);
  return (
    <>
      <FailedFace
        title="No model of this build can be made yet."
        faults={nameFaults(build, faults)}
        {...(isOfRecords ? {} : { onRetry })}
      />
      <section class="face">
        {isOfRecords && (
          <p class="btns">
            <a class="btn main" href={pageHref(build.id, 'build')}>
              Mend it in the build
            </a>
          </p>
        )}
        <p class="aftermath">
          Only what would be predicted waits for the model. What was measured, its comparison and its margins
          stand without it.
        </p>
      </section>
    </>
  );
}
