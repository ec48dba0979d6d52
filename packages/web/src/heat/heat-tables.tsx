import type { FittedRow, HeatView, PredictionTable } from '@soakbench/core/heat';
import { IntervalsView } from '../parts/intervals.js';
import { LevelWord } from '../parts/level.js';
import { DataTable, TableFold } from '../parts/table.js';

/** Of what the runs taught less than this, the table tells more than they do. */
const leastTaught = 0.1;

/** Measured beside predicted, place by place; how far to trust it; what was fitted; what would help. */
export function HeatTables({ view, picked }: { readonly view: HeatView; readonly picked: string | null }) {
  const byShare = [...view.fitted.rows].sort((one, other) => other.share - one.share);
  const taught = byShare.filter(({ share }) => share >= leastTaught);
  const untaught = byShare.filter(({ share }) => share < leastTaught);
  return (
    <div class="sheet">
      <section>
        <h2>How far to trust it</h2>
        {view.trust === null ? (
          <p class="lead">
            Nothing tells yet: it takes runs of a second set-up to predict one from the other. Until then its
            own error is taken as twice the usual.
          </p>
        ) : (
          <figure>
            <p class="lead">{view.trust.sentence}</p>
            <IntervalsView view={view.trust.view} />
            <TableFold>
              <DataTable
                caption="Rises in K, each set-up predicted from the others"
                columns={[
                  { title: 'set-up' },
                  { title: 'probe' },
                  { title: 'measured', right: true },
                  { title: 'predicted', right: true },
                  { title: 'off by', right: true },
                  { title: 'inside 95 %' },
                ]}
                rows={view.trust.rows.map(({ key, setup, probe, measured, predicted, off, isInside }) => ({
                  key,
                  cells: [setup, probe, measured, predicted, off, isInside ? 'yes' : 'no'],
                }))}
              />
            </TableFold>
          </figure>
        )}
      </section>
      <aside class="margin" aria-label="What would help, and what was taken for granted">
        <section>
          <h3>What would help most</h3>
          {view.advice.length === 0 ? (
            <p>Nothing that a further probe could tell.</p>
          ) : (
            <ul>
              {view.advice.map(({ id, words, gain }) => (
                <li key={id}>
                  {words}: <b>{gain}</b>
                </li>
              ))}
            </ul>
          )}
        </section>
        <Items title="Not predicted" items={view.unpredicted} />
        <Items title="Beyond what was checked" items={view.beyond} />
        <Items title="Taken for granted" items={view.notes} />
      </aside>
      <section class="full">
        <h2>Measured and predicted</h2>
        <p class="lead">
          Rises above the room in K, under load. A figure marked <i>measured</i> comes from runs alone;{' '}
          <i>predicted</i> from the model, for the same mounting and load.
        </p>
        <Predictions table={view.loaded} caption="Rises under load, K" picked={picked} />
        {view.charging && (
          <TableFold title="The same while it charges">
            <Predictions table={view.charging} caption="Rises under load while charging, K" picked={picked} />
          </TableFold>
        )}
      </section>
      <section class="full">
        <h2>Where the doubt comes from</h2>
        <p class="lead">The hottest place of any cell, one standard uncertainty in K, part by part.</p>
        <DataTable
          label="Where the doubt of each set-up’s hottest cell comes from"
          columns={[
            { title: 'set-up' },
            { title: 'place' },
            { title: 'rise, K', right: true },
            ...view.doubtColumns.map((title) => ({ title, right: true })),
          ]}
          rows={view.doubts.map(({ setup, name, place, rise, parts }) => ({
            key: setup,
            pick: setup === picked,
            cells: [name, place, rise, ...parts],
          }))}
        />
      </section>
      {view.paces && (
        <section class="full">
          <h2>How slowly it settles</h2>
          <p class="lead">{view.paces.sentence}</p>
          <DataTable
            label="Slowest time constant of each soaked set-up, measured and modelled"
            columns={[
              { title: 'set-up' },
              { title: 'measured', right: true },
              { title: 'modelled', right: true },
            ]}
            rows={view.paces.rows.map(({ key, setup, measured, modelled, words, differs }) => ({
              key,
              cells: [
                <span key="s">
                  {setup}
                  <br />
                  {differs ? <LevelWord level="look" word={words} /> : <small>{words}</small>}
                </span>,
                measured,
                modelled,
              ],
            }))}
          />
        </section>
      )}
      <section class="full">
        <h2>What was fitted</h2>
        <p class="lead">{view.fitted.sentence}</p>
        <Fitted label="What was fitted" rows={taught} />
        {untaught.length > 0 && (
          <TableFold title={`The other ${untaught.length}, of which the runs say next to nothing`}>
            <Fitted label="Unknowns of which the runs say next to nothing" rows={untaught} />
          </TableFold>
        )}
        {view.fitted.entangled.length > 0 && (
          <ul class="plainlist">
            {view.fitted.entangled.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        )}
      </section>
    </div>
  );
}

function Fitted({ label, rows }: { readonly label: string; readonly rows: readonly FittedRow[] }) {
  return (
    <DataTable
      label={label}
      columns={[
        { title: 'unknown' },
        { title: 'from the table', right: true },
        { title: 'factor', right: true },
        { title: 'learned from the runs', right: true },
        { title: 'source' },
      ]}
      rows={rows.map(({ id, name, nominal, factor, learned, source, share }) => ({
        key: id,
        pick: share >= 0.5,
        cells: [name, nominal, factor, learned, source.replace(/[[\]]/g, '')],
      }))}
    />
  );
}

function Items({ title, items }: { readonly title: string; readonly items: readonly string[] }) {
  if (items.length === 0) return null;
  return (
    <section>
      <h3>{title}</h3>
      <ul>
        {items.map((item) => (
          <li key={item}>{item}</li>
        ))}
      </ul>
    </section>
  );
}

interface PredictionsProps {
  readonly table: PredictionTable;
  readonly caption: string;
  readonly picked: string | null;
}

function Predictions({ table, caption }: PredictionsProps) {
  return (
    <DataTable
      class="predictions"
      label={caption}
      columns={[
        { title: 'place' },
        ...table.setups.map(({ name, isMeasured }) => ({
          title: (
            <>
              <b>{name}</b>
              <br />
              {isMeasured ? 'soaked' : 'untried'}
            </>
          ),
          right: true,
        })),
      ]}
      rows={table.rows.map(({ id, name, figures }) => ({
        key: id,
        cells: [
          name,
          ...figures.map((all, index) => (
            <span key={index}>
              {all.length === 0 ? '–' : null}
              {all.map(({ mark, words }) => (
                <span key={mark} class={mark}>
                  {words} <small>{mark}</small>
                </span>
              ))}
            </span>
          )),
        ],
      }))}
    />
  );
}
