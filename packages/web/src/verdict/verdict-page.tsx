import { presentContest, presentMargins } from '@soakbench/core/compare';
import { presentBracket } from '@soakbench/core/life';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { IntervalsView } from '../compare/compare-page.js';
import { MarginsTable } from '../compare/margins-table.js';
import { differenceRows, findingsWords, marginGroups } from '../compare/present-compare.js';
import { bracketRows, bracketWords } from '../life/present-life.js';
import { Answer, Condition } from '../parts/answer.js';
import { LoadingFace } from '../parts/faces.js';
import { setupName } from '../parts/names.js';
import { hoursWords, pageOf } from '../parts/next-step.js';
import type { PageProps } from '../parts/page.js';
import { PlanFigure, SectionFigure, TemperatureFigure } from '../parts/section-figure.js';
import { DataTable, TableFold } from '../parts/table.js';
import { pageHref } from '../router.js';
import { Cautions } from './cautions.js';
import { coolEnoughWords, highestAmbients, levelWords, limitSources, shownSetup } from './present-verdict.js';
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

function CoolEnough({ build, assessment, setup }: PartProps & { readonly setup: string }) {
  const { margins } = assessment.verdict;
  const view = presentMargins(build, margins, setup);
  const ambients = highestAmbients(build, margins);
  const preferred = levelWords(build);
  return (
    <>
      <section>
        <h2>Is it cool enough on the worst day?</h2>
        <p class="lead">
          {coolEnoughWords(margins)}
          {preferred !== null && (
            <>
              {' '}
              <i>Prefer</i> is below {preferred} °C at the cells; <i>wear</i> is within the limit, but they
              age faster; <i>stop</i> is past it.
            </>
          )}
        </p>
        {view && <IntervalsView view={view} />}
        {margins.length > 0 ? (
          <TableFold>
            <MarginsTable groups={marginGroups(build, margins)} pick={setup} />
          </TableFold>
        ) : (
          <p>
            <a href={pageHref(build.id, 'build')}>Enter the design ambient and the limits</a> to see the
            margins.
          </p>
        )}
      </section>
      {ambients.length > 0 && (
        <aside class="margin" aria-label="Highest ambient">
          <section>
            <h3>Highest ambient, with 95 % coverage</h3>
            <table class="tight">
              <tbody>
                {ambients.map((row) => (
                  <tr key={row.key}>
                    <th scope="row">{row.title}</th>
                    <td class="r">{row.highest}</td>
                  </tr>
                ))}
              </tbody>
            </table>
            <ul class="sources">
              {limitSources(margins).map((source) => (
                <li key={source}>{source}</li>
              ))}
            </ul>
          </section>
        </aside>
      )}
    </>
  );
}

function ReallyBetter({ build, assessment }: PartProps) {
  const { main } = assessment.compare;
  if (main === null) {
    return (
      <section>
        <h2>Is the better shield really better?</h2>
        <p>Not known: no two set-ups have a counted run each.</p>
      </section>
    );
  }
  const view = presentContest(build, main, assessment.verdict.setup);
  return (
    <section>
      <h2>Is the better shield really better?</h2>
      <p class="lead">
        Against {setupName(build, main.baseline)}: {findingsWords(main.toBaseline)}{' '}
        <a href={pageHref(build.id, 'compare')}>All pairs</a>
      </p>
      {main.toBaseline.length > 0 && (
        <>
          <IntervalsView view={view.toBaseline} />
          <TableFold>
            <DataTable
              caption={`Differences to ${setupName(build, main.baseline)}`}
              columns={[
                { title: 'pair' },
                { title: 'cooler by', right: true },
                { title: '95 % of all at once, K', right: true },
                { title: 'p', right: true },
                { title: 'finding' },
              ]}
              rows={differenceRows(build, main.toBaseline)}
            />
          </TableFold>
        </>
      )}
    </section>
  );
}

function Cost({ build, assessment, setup }: PartProps & { readonly setup: string }) {
  const { life } = assessment;
  const layers = build.setups.find(({ id }) => id === setup)?.layers ?? [];
  const space =
    layers.length === 0
      ? `${setupName(build, setup)} takes no room.`
      : `Room taken: ${layers.map(({ name, thickness_mm }) => `${name} ${thickness_mm} mm`).join(', ')}.`;
  return (
    <section>
      <h2>What does it cost?</h2>
      <p class="lead">{space}</p>
      {life === null ? (
        <p>
          What the heat costs in pack life is not known yet:{' '}
          <a href={pageHref(build.id, 'build')}>enter the duty</a>, an ordinary day of use.
        </p>
      ) : (
        <>
          <p class="lead">{bracketWords(build, life, assessment.verdict.setup)}</p>
          <IntervalsView view={presentBracket(build, life, assessment.verdict.setup)} />
          <TableFold>
            <DataTable
              caption="Life as a multiple of the baseline’s"
              columns={[
                { title: 'set-up' },
                { title: 'over the models', right: true },
                { title: 'with 95 % of the temperatures', right: true },
              ]}
              rows={bracketRows(build, life, assessment.verdict.setup)}
            />
          </TableFold>
        </>
      )}
    </section>
  );
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
