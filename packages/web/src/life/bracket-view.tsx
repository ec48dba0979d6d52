import { type LifeBracket, presentBracket } from '@soakbench/core/life';
import type { Build } from '@soakbench/core/records';
import type { Assessment } from '@soakbench/core/verdict';
import { Answer, Condition } from '../parts/answer.js';
import { EmptyFace } from '../parts/faces.js';
import { IntervalsView } from '../parts/intervals.js';
import { setupName } from '../parts/names.js';
import { DataTable, TableFold } from '../parts/table.js';
import { pageHref } from '../router.js';
import { bracketRows, lifeAnswer, modelRows } from './present-life.js';

interface PartProps {
  readonly build: Build;
  readonly assessment: Assessment;
}

interface BracketProps extends PartProps {
  readonly life: LifeBracket;
  /** Why there are no years, and what would give them. */
  readonly why: string;
}

/** The range of ratios that is left where no years can be counted. */
export function BracketView({ build, assessment, life, why }: BracketProps) {
  const chosen = assessment.verdict.setup;
  const others = life.rows.filter(({ setup }) => setup !== life.baseline);
  return (
    <>
      <Answer sentence={lifeAnswer(build, life, chosen)} />
      <Condition>{sentence(life.conditions)}</Condition>
      <div class="sheet">
        <figure>
          <h2>Life against {setupName(build, life.baseline)}</h2>
          <p class="lead">
            Thick stroke: from the lowest to the highest published temperature dependence. Thin stroke: with
            the 95 % interval of the temperatures too. Ticks: single models. There is no dot, because no model
            is known to be right for this pack.
          </p>
          <IntervalsView view={presentBracket(build, life, chosen)} />
          <TableFold>
            <DataTable
              caption="Life as a multiple of the baseline’s"
              columns={[
                { title: 'set-up' },
                { title: 'over the models', right: true },
                { title: 'with 95 % of the temperatures', right: true },
                { title: 'cells under load', right: true },
                { title: 'cells idle', right: true },
              ]}
              rows={bracketRows(build, life, chosen)}
            />
          </TableFold>
        </figure>
        <aside class="margin" aria-label="What this is not">
          <section>
            <h3>No year count</h3>
            <p>{why}</p>
            <p>
              How long the pack lasts depends on its own chemistry, its charge level, its currents and how it
              was kept. None of that is measured here. What is measured is the warmth, and that gives a ratio
              between set-ups.
            </p>
          </section>
          {life.missing.length > 0 && (
            <section>
              <h3>Missing, not guessed</h3>
              <ul>
                {life.missing.map((item) => (
                  <li key={item}>{item}</li>
                ))}
              </ul>
            </section>
          )}
          <section>
            <h3>Assumed</h3>
            <ul>
              <li>Ageing quickens with warmth by the Arrhenius law, with one activation energy per model.</li>
              <li>Charge level and currents are the same in every set-up.</li>
              <li>Cells rest at the resting temperature as soon as the device is switched off.</li>
            </ul>
          </section>
        </aside>
        <section class="full">
          <h2>Model by model</h2>
          <p class="lead">
            Activation energies of the time to a given loss, as published. The sources are given in full in
            the dossier.
          </p>
          <DataTable
            caption="Factor on life by model"
            columns={[
              { title: 'model' },
              { title: 'source' },
              { title: 'kJ/mol', right: true },
              ...others.map(({ setup }) => ({ title: setupName(build, setup), right: true })),
            ]}
            rows={modelRows(life)}
          />
        </section>
      </div>
    </>
  );
}

export function NoBracket({ build, assessment }: PartProps) {
  const needsRuns = assessment.compare.main === null;
  const needsDay = build.duty === undefined;
  return (
    <EmptyFace title="What the heat costs is not known yet.">
      <p>
        The hours at which the cells are warm decide how fast they age. {neededWords(needsRuns, needsDay)}
      </p>
      <ol class="steps">
        {needsRuns && (
          <li>
            <b>Log the set-ups.</b> About 3 h each. <a href={pageHref(build.id, 'runs')}>Go to the runs</a>
          </li>
        )}
        {needsDay && (
          <li>
            <b>Enter an ordinary day below.</b> It takes two minutes. A device that is hot for half an hour a
            day loses little by it; one that is hot for ten hours loses much.
          </li>
        )}
      </ol>
    </EmptyFace>
  );
}

function neededWords(needsRuns: boolean, needsDay: boolean): string {
  if (needsRuns && needsDay)
    return 'Two things are needed: counted runs of at least two set-ups, and an ordinary day of use.';
  if (needsDay) return 'The runs are there; an ordinary day of use is needed too.';
  if (needsRuns) return 'The day of use is there; counted runs of at least two set-ups are needed too.';
  return 'A counted run of the baseline is needed, with a probe on the pack.';
}

function sentence(words: string): string {
  const text = words.slice(0, 1).toUpperCase() + words.slice(1);
  return text.endsWith('.') ? text : `${text}.`;
}
