import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { Answer, Condition } from '../parts/answer.js';
import { LoadingFace } from '../parts/faces.js';
import { hoursWords, pageOf } from '../parts/next-step.js';
import type { PageProps } from '../parts/page.js';
import { PlanFigure, SectionFigure, TemperatureFigure } from '../parts/section-figure.js';
import { pageHref } from '../router.js';
import { Cautions } from './cautions.js';
import { shownSetup } from './present-verdict.js';
import { CoolEnough, Cost, ReallyBetter } from './three-questions.js';
import { Untried } from './untried-part.js';
import { VerdictStart } from './verdict-start.js';

/** Which set-up, why, under which conditions, and what would change it. */
export function VerdictPage({ build, assessment }: PageProps) {
  if (assessment === null) return <LoadingFace what="Reading the logs and working out the verdict …" />;
  const { verdict } = assessment;
  const setup = shownSetup(build, assessment);
  return (
    <>
      <Answer sentence={verdict.answer} />
      <Condition>{verdict.condition}</Condition>
      {build.runs.length === 0 && <VerdictStart build={build} />}
      {setup !== null && build.device && (
        <div class="sheet">
          <SectionFigure build={build} assessment={assessment} setup={setup} />
          <aside class="margin" aria-label="Plan and temperature scale">
            <PlanFigure build={build} assessment={assessment} setup={setup} />
            <TemperatureFigure build={build} />
          </aside>
        </div>
      )}
      {setup !== null && build.runs.length > 0 && (
        <>
          <div class="sheet">
            <CoolEnough build={build} assessment={assessment} setup={setup} />
          </div>
          <div class="ask two">
            <ReallyBetter build={build} assessment={assessment} />
            <Cost build={build} assessment={assessment} setup={setup} />
          </div>
          <Untried build={build} assessment={assessment} />
          <Grounds build={build} assessment={assessment} />
        </>
      )}
      <Cautions />
    </>
  );
}

interface PartProps {
  readonly build: Build;
  readonly assessment: Assessment;
}

function Grounds({ build, assessment }: PartProps) {
  const { restsOn, unresolved, missing, next } = assessment.verdict;
  const [first, ...later] = next;
  return (
    <div class="cols">
      <section>
        <h2>What it rests on</h2>
        <Items items={restsOn} none="Nothing counted yet." />
      </section>
      <section>
        <h2>What is unresolved</h2>
        <Items items={unresolved} none="Nothing that these measurements leave open." />
        {missing.length > 0 && (
          <>
            <h3>Missing, not guessed</h3>
            <Items items={missing} none="" />
          </>
        )}
      </section>
      <section class="next">
        <h2>Next at the bench</h2>
        {first ? (
          <>
            <p>
              <b>{first.title}.</b> {first.detail}
              {first.takes_h !== null && ` About ${hoursWords(first.takes_h)}.`}
            </p>
            {later.length > 0 && (
              <ul class="latersteps">
                {later.map((step) => (
                  <li key={step.title}>
                    <b>{step.title}.</b> {step.detail}
                    {step.takes_h !== null && ` About ${hoursWords(step.takes_h)}.`}
                  </li>
                ))}
              </ul>
            )}
            <p class="btns">
              <a class="btn" href={pageHref(build.id, pageOf(first) ?? 'build')}>
                Go to {pageOf(first) ?? 'the build'}
              </a>
            </p>
          </>
        ) : (
          <p>Nothing further is needed for this verdict.</p>
        )}
      </section>
    </div>
  );
}

function Items({ items, none }: { readonly items: readonly string[]; readonly none: string }) {
  if (items.length === 0) return <p>{none}</p>;
  return (
    <ul>
      {items.map((item) => (
        <li key={item}>{item}</li>
      ))}
    </ul>
  );
}
