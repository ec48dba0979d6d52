/** The three questions that every build has to answer, each with its drawing and the same as a table. */
import { presentContest, presentMargins } from '@soakbench/core/compare';
import { type LifeBracket, presentBracket, presentLife, presentLifeRatios } from '@soakbench/core/life';
import { formatList } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { Assessment, BuildForecast } from '@soakbench/core/verdict';
import { useMemo } from 'preact/hooks';
import { MarginsTable } from '../compare/margins-table.js';
import {
  differenceColumns,
  differenceRows,
  findingsWords,
  marginGroups,
} from '../compare/present-compare.js';
import { bracketRows, bracketWords } from '../life/present-life.js';
import { useLife } from '../life/use-life.js';
import { Words } from '../parts/answer.js';
import { LoadingFace } from '../parts/faces.js';
import { IntervalsView } from '../parts/intervals.js';
import { setupName } from '../parts/names.js';
import { DataTable, TableFold } from '../parts/table.js';
import { pageHref } from '../router.js';
import { coolEnoughWords, highestAmbients, levelWords, limitSources, roomWords } from './present-verdict.js';

interface PartProps {
  readonly build: Build;
  readonly assessment: Assessment;
}

/** Is it cool enough on the worst day? */
export function CoolEnough({ build, assessment, setup }: PartProps & { readonly setup: string }) {
  const { margins } = assessment.verdict;
  const view = presentMargins(build, margins, setup);
  const ambients = highestAmbients(build, margins);
  const preferred = levelWords(build);
  const lacks = [
    ...(build.designAmbient === undefined ? ['the design ambient'] : []),
    ...(build.limits.length === 0 ? ['the limits'] : []),
  ];
  return (
    <>
      <section>
        <h2>Is it cool enough on the worst day?</h2>
        <p class="lead">
          {margins.length > 0 || lacks.length > 0
            ? coolEnoughWords(margins)
            : 'Not judged yet: no set-up is chosen while each was run once.'}
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
          <NoMargins build={build} lacks={lacks} />
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

/** Why no margin stands, and what to do about it: what is not entered, or a second run of each set-up. */
function NoMargins({ build, lacks }: Pick<PartProps, 'build'> & { readonly lacks: readonly string[] }) {
  if (lacks.length > 0)
    return (
      <p>
        <a href={pageHref(build.id, 'build')}>Enter {formatList(lacks)}</a> to see the margins.
      </p>
    );
  return (
    <p>
      What each comes to by its single run is under{' '}
      <a href={pageHref(build.id, 'compare')}>margins by state</a>.
    </p>
  );
}

/** Is the better shield really better? */
export function ReallyBetter({ build, assessment }: PartProps) {
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
        {main.toBaseline.length > 0 && `Against ${setupName(build, main.baseline)}. `}
        {findingsWords(main.toBaseline)} <a href={pageHref(build.id, 'compare')}>All pairs</a>
      </p>
      {main.toBaseline.length > 0 && (
        <>
          <IntervalsView view={view.toBaseline} />
          <TableFold>
            <DataTable
              caption={`Differences to ${setupName(build, main.baseline)}`}
              columns={differenceColumns}
              rows={differenceRows(build, main.toBaseline)}
            />
          </TableFold>
        </>
      )}
    </section>
  );
}

/** What does it cost, in room and in pack life? */
export function Cost({ build, assessment, setup }: PartProps & { readonly setup: string }) {
  const { life } = assessment;
  const answer = useLife(build, assessment);
  const space = useMemo(() => roomWords(build, setup), [build, setup]);
  return (
    <section>
      <h2>What does it cost?</h2>
      <p class="lead">{space}</p>
      {answer === null ? (
        <LoadingFace what="Weighing the hours that are hot …" />
      ) : answer.kind === 'forecast' ? (
        <ForecastCost build={build} assessment={assessment} made={answer.made} />
      ) : life === null ? (
        <p>
          What the heat costs in pack life is not known yet:{' '}
          <a href={pageHref(build.id, 'build')}>enter the duty</a>, an ordinary day of use.
        </p>
      ) : (
        <BracketCost build={build} assessment={assessment} life={life} />
      )}
    </section>
  );
}

function ForecastCost({ build, assessment, made }: PartProps & { readonly made: BuildForecast }) {
  const { forecast } = made;
  const chosen = assessment.verdict.setup;
  const { view, ratios } = useMemo(
    () => ({ view: presentLife(forecast), ratios: presentLifeRatios(forecast, chosen) }),
    [forecast, chosen],
  );
  return (
    <>
      <p class="lead">
        <Words sentence={view.answer} /> <a href={pageHref(build.id, 'life')}>Years and what else helps</a>
      </p>
      {ratios.rows.length > 0 && <IntervalsView view={ratios} />}
      <p class="lead">
        <Words sentence={view.years} />
      </p>
    </>
  );
}

function BracketCost({ build, assessment, life }: PartProps & { readonly life: LifeBracket }) {
  const { setup } = assessment.verdict;
  return (
    <>
      <p class="lead">{bracketWords(build, life, setup)}</p>
      <IntervalsView view={presentBracket(build, life, setup)} />
      <TableFold>
        <DataTable
          caption="Life as a multiple of the baseline’s"
          columns={[
            { title: 'set-up' },
            { title: 'over the models', right: true },
            { title: 'with 95 % of the temperatures', right: true },
          ]}
          rows={bracketRows(build, life, setup)}
        />
      </TableFold>
    </>
  );
}
