import type { Margin } from '@soakbench/core/compare';
import { hasHeatData } from '@soakbench/core/heat';
import { formatNumber } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { type Assessment, addPredictions, everyContest } from '@soakbench/core/verdict';
import { useEffect, useMemo } from 'preact/hooks';
import { MarginsTable } from '../compare/margins-table.js';
import { marginGroups } from '../compare/present-compare.js';
import { deskFor, openDesk } from '../heat/desk-for.js';
import { Words } from '../parts/answer.js';
import { setupName } from '../parts/names.js';
import { pageHref } from '../router.js';

interface UntriedProps {
  readonly build: Build;
  readonly assessment: Assessment;
}

/** Set-ups that are described and were never soaked: what the heat model says of them, apart from everything that was measured. */
export function Untried({ build, assessment }: UntriedProps) {
  const { main } = assessment.compare;
  const contests = useMemo(() => everyContest(assessment.compare), [assessment.compare]);
  const { corrections } = assessment.probes;
  const { runs } = assessment.runs;
  const untried = build.setups.filter(
    ({ id }) => main !== null && !main.setups.some(({ setup }) => setup === id),
  );
  const has = useMemo(
    () => untried.length > 0 && hasHeatData(build, contests, corrections),
    [build, contests, corrections, untried.length],
  );
  useEffect(() => {
    if (has) deskFor(build.id).follow({ build, contests, corrections, runs });
  }, [has, build, contests, corrections, runs]);
  if (!has) return null;
  const desk = openDesk(build.id);
  const heat = desk?.assessmentOf(build) ?? null;
  const names = untried.map(({ id }) => setupName(build, id));
  return (
    <section aria-label="Untried set-ups">
      <h2>Untried set-ups</h2>
      {heat === null ? (
        <p class="cond">
          {names.join(', ')}: not soaked. The <a href={pageHref(build.id, 'heat')}>heat model</a> is being
          held to the runs, to say what they would do.
        </p>
      ) : (
        <Predicted build={build} assessment={assessment} heat={heat} />
      )}
    </section>
  );
}

type Heat = Parameters<typeof addPredictions>[2];

function Predicted({ build, assessment, heat }: UntriedProps & { readonly heat: Heat }) {
  const predicted = addPredictions(build, assessment, heat);
  const best = predicted.choices[0];
  if (best === undefined) return <p class="cond">None of them can be predicted; the heat page says why.</p>;
  const judged = (margin: Margin) => margin.setup === best.setup && margin.level !== 'unknown';
  const life = predicted.life?.rows.find(({ setup }) => setup === best.setup);
  return (
    <>
      <p>
        <Words sentence={predicted.words} />
      </p>
      <details>
        <summary>Predicted margins with {setupName(build, best.setup)}</summary>
        <MarginsTable
          groups={marginGroups(build, predicted.margins.filter(judged))}
          pick={null}
          label="Predicted margins by state"
        />
        {life !== undefined && (
          <p class="small">
            Calendar ageing alone: cells last {formatNumber(life.factor95[0], 2)} to{' '}
            {formatNumber(life.factor95[1], 2)} times as long as{' '}
            {setupName(build, predicted.life?.baseline ?? '')}, predicted.
          </p>
        )}
      </details>
    </>
  );
}
