import { type LifeView, presentLife, presentWhatIfs, type WhatIfs } from '@soakbench/core/life';
import { formatPercent, plainText } from '@soakbench/core/measure';
import type { BuildForecast } from '@soakbench/core/verdict';
import { heading, list, type Page, wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';

/** The forecast as a person reads it, answer first. */
export function tellForecast(page: Page, { forecast, assumed, leftOut, untried }: BuildForecast): string[] {
  const view = presentLife(forecast);
  return [
    ...wrap(page, plainText(view.answer)),
    '',
    ...wrap(page, plainText(view.years)),
    ...tellSetups(page, view),
    ...tellCells(page, { forecast }),
    ...list(page, 'What cooling and space come to', [
      view.tenKelvin,
      ...view.gaps,
      ...(view.fade ? [view.fade] : []),
    ]),
    ...tellModels(page, view),
    ...list(page, 'Taken for granted', [...view.notes, ...assumed]),
    ...list(
      page,
      'Set-ups left out',
      leftOut.map(({ why }) => why),
    ),
    ...(untried.length > 0
      ? wrap(page, 'Never soaked: with --heat they are forecast at the rises the heat model predicts.', '  ')
      : []),
    ...list(page, 'Models asked beyond where they were tested', view.flags),
    ...list(page, 'Facts and cautions', view.cautions),
  ];
}

function tellSetups(page: Page, { rows }: LifeView): string[] {
  const base = rows[0]?.name ?? '';
  return [
    ...heading(page, 'By set-up'),
    ...layTable(
      page,
      [
        { title: 'set-up' },
        { title: 'to 80 %', right: true },
        { title: 'until then', right: true },
        { title: `life over ${base}’s`, right: true },
        { title: 'lasts longest', right: true },
      ],
      rows.map(({ name, years, delivered, ratio, chance }) => [
        name,
        years,
        delivered,
        ratio === '' ? '1, the baseline' : ratio,
        chance,
      ]),
    ),
    ...wrap(page, 'Ranges hold nine draws in ten; chances are shares of the draws.', '  '),
    ...rows.flatMap(({ name, runTime, costPerYear }) =>
      wrap(page, `${name}: runs ${runTime}${costPerYear === '' ? '' : `; ${costPerYear}`}`, '  '),
    ),
  ];
}

function tellCells(page: Page, { forecast }: Pick<BuildForecast, 'forecast'>): string[] {
  if (!forecast.setups.some(({ cells }) => cells.length > 1)) return [];
  return [
    ...heading(page, 'By cell'),
    ...layTable(
      page,
      [{ title: 'set-up' }, { title: 'cell' }, { title: 'gives out first', right: true }],
      forecast.setups.flatMap(({ name, cells }) =>
        cells.map(({ cell, weakest }) => [name, String(cell), formatPercent(weakest)]),
      ),
    ),
    ...wrap(page, 'The weakest cell in series limits the pack.', '  '),
  ];
}

function tellModels(page: Page, view: LifeView): string[] {
  return [
    ...heading(page, 'Why do models differ?'),
    ...wrap(page, view.whyDiffer, '  '),
    ...wrap(page, view.chemistry, '  '),
    ...layTable(
      page,
      [{ title: 'model' }, { title: 'to 80 %', right: true }, { title: 'source' }],
      view.models.map(({ title, figure, source }) => [title, figure, source.replace(/[[\]]/g, '')]),
    ),
    ...view.models.flatMap(({ title, standing, cautions }) =>
      wrap(page, [`${title}: ${standing}.`, ...cautions].join(' '), '  · '),
    ),
  ];
}

/** The same pack under other habits, side by side. */
export function tellWhatIfs(page: Page, whatIfs: WhatIfs, setup: string): string[] {
  const table = presentWhatIfs(whatIfs);
  const hasCost = table.rows.some(({ costPerYear }) => costPerYear !== '');
  return [
    ...heading(page, `What if, in ${setup}`),
    ...wrap(page, table.answer, '  '),
    ...layTable(
      page,
      [
        { title: 'change' },
        { title: 'to 80 %', right: true },
        { title: 'times as long', right: true },
        { title: 'until then', right: true },
        { title: 'on a charge' },
        ...(hasCost ? [{ title: 'cost', right: true }] : []),
      ],
      table.rows.map(({ title, years, ratio, delivered, runTime, costPerYear }) => [
        title,
        years,
        ratio.replace(/ times$/, ''),
        delivered,
        runTime,
        ...(hasCost ? [costPerYear] : []),
      ]),
    ),
    ...table.rows.flatMap(({ title, note }) => (note ? wrap(page, `${title}: ${note}`, '  · ') : [])),
    ...table.leftOut.flatMap((line) => wrap(page, `left out: ${line}`, '  · ')),
  ];
}
