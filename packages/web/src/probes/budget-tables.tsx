import { probeTitle } from '@soakbench/core/drawing';
import { formatNumber } from '@soakbench/core/measure';
import { type BudgetRow, type Drift, presentBudget } from '@soakbench/core/probes';
import type { Build } from '@soakbench/core/records';
import type { ProbesResult } from '@soakbench/core/verdict';
import { DataTable, TableFold } from '../parts/table.js';

interface BudgetTablesProps {
  readonly build: Build;
  readonly result: ProbesResult;
}

/** Where each probe's doubt comes from, and what of it is left in a comparison or a swap; one fold per probe. */
export function BudgetTables({ build, result }: BudgetTablesProps) {
  const nameOf = (id: string) => {
    const probe = build.probes.find((one) => one.id === id);
    return probe ? probeTitle(probe) : id;
  };
  return (
    <>
      <h2 class="gap">Where the doubt comes from</h2>
      <p class="lead">
        A comparison of set-ups reads the same probe twice: baths, drift and hold cancel there. They do not
        cancel between two probes, so keep each probe in its place and on its channel.
      </p>
      {result.budget.map((budget) => {
        const probe = build.probes.find(({ id }) => id === budget.probe);
        if (probe === undefined) return null;
        const view = presentBudget(budget, probe, result.drifts);
        const rowOf = (row: BudgetRow) => ({
          key: row.key,
          cells: [row.what, row.reading, row.sameProbe, row.otherProbe],
        });
        const other = budget.other === null ? 'no other probe' : `against ${nameOf(budget.other)}`;
        return (
          <TableFold
            key={budget.probe}
            title={`${nameOf(budget.probe)}: within ± ${formatNumber(budget.total.expanded_K, 2)} K at ${formatNumber(budget.at_C, 0)} °C, 95 %`}
          >
            <DataTable
              label={`Budget of ${nameOf(budget.probe)}`}
              caption={`Standard uncertainties in K at ${formatNumber(budget.at_C, 0)} °C. “Same probe”: two readings by it, ${formatNumber(budget.apart_K, 0)} K apart. “Against”: the two at the same temperature, which is what swapping them puts in doubt.`}
              columns={[
                { title: 'from' },
                { title: 'one reading', right: true },
                { title: 'same probe', right: true },
                { title: other, right: true },
              ]}
              rows={[...view.rows, ...view.totals].map(rowOf)}
            />
          </TableFold>
        );
      })}
      {result.drifts.length > 0 && (
        <DataTable
          label="Drift"
          caption="How each probe moved from one check to the next: later correction minus earlier one."
          columns={[
            { title: 'probe' },
            { title: 'check of' },
            { title: 'to that of' },
            { title: 'moved, K', right: true },
            { title: 'u, K', right: true },
            { title: 'what it says' },
          ]}
          rows={result.drifts.map((drift) => ({
            key: `${drift.probe} ${drift.to.check}`,
            cells: [
              nameOf(drift.probe),
              <span key="from" class="nb">
                {dayOf(drift, drift.from)}
              </span>,
              <span key="to" class="nb">
                {dayOf(drift, drift.to)}
              </span>,
              formatNumber(drift.change_K, 2),
              formatNumber(drift.change_u_K, 2),
              drift.isShown ? 'has moved' : 'within doubt',
            ],
          }))}
        />
      )}
    </>
  );
}

/** The day of a check, with the hour where both were made on one day; its id where nobody noted when. */
function dayOf({ from, to }: Drift, { at, check }: Drift['from']): string {
  if (at === undefined) return check;
  const isOneDay = from.at?.slice(0, 10) === to.at?.slice(0, 10);
  return isOneDay ? `${at.slice(0, 16).replace('T', ' ')} UTC` : at.slice(0, 10);
}
