import { drawBands, drawCourses } from '@soakbench/core/drawing';
import {
  type LifeView,
  presentBandChart,
  presentLife,
  presentLifeRatios,
  presentYearChart,
  type YearView,
} from '@soakbench/core/life';
import type { Build } from '@soakbench/core/records';
import type { Assessment, BuildForecast } from '@soakbench/core/verdict';
import { useCallback, useEffect, useMemo, useState } from 'preact/hooks';
import { useBench } from '../api/bench.js';
import { Answer, Condition, Words } from '../parts/answer.js';
import { DrawingView } from '../parts/drawing.js';
import { IntervalsView } from '../parts/intervals.js';
import { DataTable, TableFold } from '../parts/table.js';
import { CellsFigure } from './cells-figure.js';
import { bandRows, cellRows, setupRows, yearRows } from './present-forecast.js';
import { WhatIfsPart } from './what-ifs-part.js';

interface ForecastProps {
  readonly build: Build;
  readonly assessment: Assessment;
  readonly made: BuildForecast;
}

/** Which set-up lasts longest, in what range the years lie, and what else would help. */
export function ForecastView({ build, assessment, made }: ForecastProps) {
  const { forecast } = made;
  const view = useMemo(() => presentLife(forecast), [forecast]);
  const chosen = assessment.verdict.setup;
  const [asked, setAsked] = useState<string | null>(null);
  const setup =
    forecast.setups.find((each) => each.setup === (asked ?? chosen))?.setup ??
    forecast.setups[0]?.setup ??
    '';
  const { life } = useBench();
  useEffect(() => life.choose(setup), [life, setup]);
  const inSetup = life.inSetup.value?.setup === setup ? life.inSetup.value : null;

  return (
    <>
      <Answer sentence={view.answer} />
      <Condition>
        <Words sentence={view.years} />
      </Condition>
      <Bands made={made} chosen={chosen} view={view} />
      <section class="part">
        <h2>By set-up</h2>
        <DataTable
          class="lives"
          caption="Years to 80 %, and what the pack gives until then; ranges hold nine draws in ten"
          columns={[
            { title: 'set-up' },
            { title: 'to 80 %', right: true },
            { title: 'times as long', right: true },
            { title: 'lasts longest', right: true },
            { title: 'until then', right: true },
            { title: 'on a charge', right: true },
            ...(view.rows.some(({ costPerYear }) => costPerYear !== '')
              ? [{ title: 'cost', right: true }]
              : []),
          ]}
          rows={setupRows(view, chosen)}
        />
        <p class="lead">{view.tenKelvin}</p>
        {[...view.gaps, ...(view.fade ? [view.fade] : [])].map((words) => (
          <p class="lead" key={words}>
            {words}
          </p>
        ))}
      </section>
      <WhatIfsPart
        duty={made.input.duty}
        limit={forecast.limit}
        setups={forecast.setups}
        setup={setup}
        onSetup={setAsked}
        whatIfs={inSetup?.whatIfs ?? null}
      />
      {inSetup && (
        <Year
          year={inSetup.year}
          name={forecast.setups.find((each) => each.setup === setup)?.name ?? setup}
        />
      )}
      {forecast.setups.some(({ cells }) => cells.length > 1) && (
        <section class="part">
          <h2>Cell by cell</h2>
          <p class="lead">Cells in series give up together: the one that is worn most ends the pack.</p>
          <CellsFigure build={build} forecast={forecast} setup={setup} />
          <DataTable
            caption={`How often each cell gives out first, its own years to 80 %, and how far the best one is ahead after ${forecast.horizon_years} years; rarely is one draw in twenty`}
            columns={[
              { title: 'set-up' },
              ...(forecast.setups[0]?.cells ?? []).map(({ cell }) => ({
                title: `cell ${cell}`,
                right: true,
              })),
              { title: 'best cell ahead by', right: true },
            ]}
            rows={cellRows(forecast)}
          />
        </section>
      )}
      <Models made={made} view={view} />
    </>
  );
}

interface BandsProps {
  readonly made: BuildForecast;
  readonly chosen: string | null;
  readonly view: LifeView;
}

function Bands({ made, chosen, view }: BandsProps) {
  const { forecast } = made;
  const bands = useMemo(() => presentBandChart(forecast, chosen), [forecast, chosen]);
  const draw = useCallback((width: number) => drawBands(bands, width), [bands]);
  const ratios = useMemo(() => presentLifeRatios(forecast, chosen), [forecast, chosen]);
  return (
    <div class="sheet">
      <figure class="full">
        <h2>Capacity over the years</h2>
        <p class="lead">
          Dark: half of the draws. Light: nine in ten. Dashed: the dark band of {forecast.setups[0]?.name}.
          The line at 80 % is where a pack counts as worn out. No course is drawn as the best one, because no
          model is known to be right for this pack.
        </p>
        <DrawingView draw={draw} />
        <TableFold>
          <DataTable
            caption="Capacity left, in per cent of the new pack"
            columns={[
              { title: 'set-up' },
              { title: 'after', right: true },
              { title: 'half of the draws', right: true },
              { title: 'nine in ten', right: true },
            ]}
            rows={bandRows(forecast)}
          />
        </TableFold>
      </figure>
      {ratios.rows.length > 0 && (
        <figure>
          <h2>Life against {forecast.setups[0]?.name}</h2>
          <p class="lead">
            The firm part: every set-up meets the same packs. Thick: half of the draws. Thin: nine in ten.
            Ticks: single models.
          </p>
          <IntervalsView view={ratios} />
        </figure>
      )}
      <aside class="margin" aria-label="What this stands on">
        <section>
          <h3>Taken for granted</h3>
          <ul>
            {[...view.notes, ...made.assumed, ...made.leftOut.map(({ why }) => why)].map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </section>
      </aside>
    </div>
  );
}

function Year({ year, name }: { readonly year: YearView; readonly name: string }) {
  const chart = useMemo(() => presentYearChart(year), [year]);
  const draw = useCallback((width: number) => drawCourses(chart, width), [chart]);
  return (
    <section class="part">
      <h2>What the warmest cell goes through in {name}</h2>
      <p class="lead">{year.words}</p>
      <DrawingView draw={draw} />
      <TableFold>
        <DataTable
          caption="Month by month"
          columns={[
            { title: 'month' },
            { title: 'room °C', right: true },
            { title: 'cell °C, mean', right: true },
            { title: 'cell °C, warmest', right: true },
            { title: 'charge, mean', right: true },
          ]}
          rows={yearRows(year)}
        />
      </TableFold>
    </section>
  );
}

function Models({ made, view }: { readonly made: BuildForecast; readonly view: LifeView }) {
  return (
    <section class="part">
      <h2>Why do models differ?</h2>
      <p class="lead">{view.whyDiffer}</p>
      <p class="lead">{view.chemistry}</p>
      <DataTable
        class="models"
        caption={`Median years to 80 % in ${made.forecast.setups[0]?.name ?? 'the first set-up'}, model by model`}
        columns={[
          { title: 'model' },
          { title: 'years', right: true },
          { title: 'how firm its figures are' },
          { title: 'source' },
        ]}
        rows={view.models.map(({ title, figure, standing, cautions, source }) => ({
          key: title,
          cells: [
            title,
            figure,
            <>
              {standing.replace(/[[\]]/g, '')}
              {cautions.length > 0 && (
                <span class="small block">{cautions.join(' ').replace(/[[\]]/g, '')}</span>
              )}
            </>,
            source.replace(/[[\]]/g, ''),
          ],
        }))}
      />
      <p class="small">The sources are given in full in the dossier.</p>
      {view.flags.length > 0 && (
        <TableFold title={`Asked beyond where they were tested: ${view.flags.length} remarks`}>
          <ul>
            {view.flags.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </TableFold>
      )}
    </section>
  );
}
