import { formatNumber } from '@soakbench/core/measure';
import { presentBudget } from '@soakbench/core/probes';
import type { Build } from '@soakbench/core/records';
import type { ProbesResult } from '@soakbench/core/verdict';
import { heading, type Page, wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';
import { namesOf } from '../parts/words.js';

/** Where the doubt of each probe comes from: on one reading, on a difference it reads twice, against another probe. */
export function tellBudgets(page: Page, build: Build, { budget, drifts }: ProbesResult): string[] {
  const [first] = budget;
  if (first === undefined) return [];
  const names = namesOf(build);
  const tables = budget.flatMap((one) => {
    const probe = build.probes.find(({ id }) => id === one.probe);
    if (probe === undefined) return [];
    const view = presentBudget(one, probe, drifts);
    const other = one.other === null ? 'no other probe' : `against ${names.probe(one.other)}`;
    const table = layTable(
      page,
      [
        { title: names.probe(one.probe) },
        { title: 'one reading', right: true },
        { title: 'same probe', right: true },
        { title: other, right: true },
      ],
      [...view.rows, ...view.totals].map((row) => [row.what, row.reading, row.sameProbe, row.otherProbe]),
    );
    return [...table, ''];
  });
  return [
    ...heading(page, `Where the doubt comes from, u in K at ${formatNumber(first.at_C, 0)} °C`),
    ...tables,
    ...wrap(
      page,
      `same probe: two readings by it, ${formatNumber(first.apart_K, 0)} K apart, as a comparison of set-ups needs. against: the two probes at the same temperature, which is what swapping them would put in doubt.`,
      '  ',
    ),
  ];
}

/** How the probes moved between their checks. */
export function tellDrifts(page: Page, build: Build, { drifts }: ProbesResult): string[] {
  if (drifts.length === 0) return [];
  return [
    ...heading(page, 'Between two checks'),
    ...layTable(
      page,
      [
        { title: 'probe' },
        { title: 'from' },
        { title: 'to' },
        { title: 'moved K', right: true },
        { title: 'u K', right: true },
        { title: '' },
      ],
      drifts.map((drift) => [
        namesOf(build).probe(drift.probe),
        drift.from.check,
        drift.to.check,
        formatNumber(drift.change_K, 2),
        formatNumber(drift.change_u_K, 2),
        drift.isShown ? 'has moved' : 'within doubt',
      ]),
    ),
  ];
}
