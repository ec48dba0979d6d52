import type { LifeBracket } from '@soakbench/core/life';
import { formatNumber } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { heading, list, type Page, wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';
import { namesOf } from '../parts/words.js';

/** Lasting longest first, so that the first figure is the one at stake. */
function ranked(life: LifeBracket): LifeBracket['rows'] {
  return [...life.rows].sort((a, b) => b.factor[1] - a.factor[1]);
}

/** One sentence: the set-up that does most for the cells, as a range. */
export function answerBracket(build: Build, life: LifeBracket | null): string {
  if (life === null) {
    return build.duty === undefined
      ? 'No bracket yet: the duty of the device is not set, so nobody knows how long the cells are hot.'
      : 'No bracket yet: it takes a counted run of the baseline, idle and under load.';
  }
  const { setup } = namesOf(build);
  const best = ranked(life).find((row) => row.setup !== life.baseline);
  if (best === undefined)
    return `Only ${setup(life.baseline)} has been run; there is nothing to compare its life with.`;
  return `With ${setup(best.setup)} the cells last ${rangeText(best.factor)} times as long as with ${setup(life.baseline)}, over the published activation energies; with the doubt of the temperatures ${rangeText(best.factor95)} times.`;
}

/** The bracket as a person reads it. */
export function tellBracket(page: Page, build: Build, life: LifeBracket): string[] {
  const { setup } = namesOf(build);
  const models = life.rows[0]?.byModel ?? [];
  return [
    '',
    ...wrap(page, `${life.conditions}.`),
    ...heading(page, `Life as a multiple of that with ${setup(life.baseline)}`),
    ...layTable(
      page,
      [
        { title: 'set-up' },
        { title: 'models', right: true },
        { title: 'and doubt', right: true },
        { title: 'load °C', right: true },
        { title: 'idle °C', right: true },
      ],
      ranked(life).map((row) => [
        setup(row.setup),
        rangeText(row.factor),
        rangeText(row.factor95),
        formatNumber(row.load_C),
        formatNumber(row.idle_C),
      ]),
    ),
    ...wrap(
      page,
      'Models: lowest to highest over the models below. And doubt: with the 95 % interval of the temperatures. °C: the cell on an ordinary day.',
      '  ',
    ),
    ...heading(page, 'By model'),
    ...layTable(
      page,
      [
        { title: 'model' },
        { title: 'kJ/mol', right: true },
        ...ranked(life).map((row) => ({ title: setup(row.setup), right: true })),
      ],
      models.map(({ model, activation_kJ_per_mol }) => [
        model,
        formatNumber(activation_kJ_per_mol),
        ...ranked(life).map((row) =>
          formatNumber(row.byModel.find((each) => each.model === model)?.factor ?? Number.NaN, 2),
        ),
      ]),
    ),
    ...list(page, 'Missing, and not guessed', life.missing),
  ];
}

function rangeText([low, high]: readonly [number, number]): string {
  const [from, to] = [formatNumber(low, 2), formatNumber(high, 2)];
  return from === to ? from : `${from} to ${to}`;
}
