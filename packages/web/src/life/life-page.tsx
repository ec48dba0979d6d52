import { SinglePart } from '../build/single-part.js';
import { dutyGroups } from '../build/specs.js';
import { useUntried } from '../heat/use-heat.js';
import { FailedFace, LoadingFace } from '../parts/faces.js';
import type { PageProps } from '../parts/page.js';
import { BracketView, NoBracket } from './bracket-view.js';
import { DutyPart } from './duty-part.js';
import { ForecastView } from './forecast-view.js';
import { LifeCautions } from './life-cautions.js';
import { UntriedWords } from './untried-words.js';
import { useLife } from './use-life.js';

/** What does the heat cost? Years as ranges where the models can speak, else a bracket of ratios and why. */
export function LifePage({ build, assessment, edit }: PageProps) {
  const answer = useLife(build, assessment);
  const untried = useUntried(build, assessment);
  if (assessment === null || answer === null) return <LoadingFace what="Weighing the hours that are hot …" />;
  const { life } = assessment;
  return (
    <>
      {answer.kind === 'forecast' ? (
        <>
          <ForecastView build={build} assessment={assessment} made={answer.made} />
          <UntriedWords build={build} assessment={assessment} face={untried.face} />
        </>
      ) : answer.kind === 'failed' ? (
        <FailedFace title="No forecast could be worked out." faults={answer.faults} />
      ) : life === null ? (
        <NoBracket build={build} assessment={assessment} />
      ) : (
        <BracketView build={build} assessment={assessment} life={life} why={answer.why} />
      )}
      <DutyPart build={build} edit={edit} made={answer.kind === 'forecast' ? answer.made.input.duty : null} />
      {build.dutyYear === undefined && (
        <section class="part">
          <h2>An ordinary day</h2>
          <p class="lead">Hours at full load and idle; the rest of the day the device lies switched off.</p>
          <SinglePart
            build={build}
            edit={edit}
            field="duty"
            groups={dutyGroups}
            what="Describe an ordinary day"
          />
        </section>
      )}
      <LifeCautions />
    </>
  );
}
