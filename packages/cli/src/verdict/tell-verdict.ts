import { formatNumber, plainText } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import type { PredictedVerdict, Verdict } from '@soakbench/core/verdict';
import { heading, list, type Page, paint, wrap } from '../parts/page.js';
import { caution, closing, namesOf, opening } from '../parts/words.js';
import { layMargins } from './lay-margins.js';

/** The verdict as a person reads it: answer, margins, what it rests on, what is open, what to do next. */
export function tellVerdict(
  page: Page,
  build: Build,
  verdict: Verdict,
  predicted: PredictedVerdict | null = null,
  life: readonly string[] = [],
): string[] {
  return [
    ...opening(page, verdict.answer, verdict.condition),
    ...layMarginsSection(page, build, verdict.margins),
    ...tellPredicted(page, build, predicted),
    ...life,
    ...list(page, 'Rests on', verdict.restsOn),
    ...list(page, 'Unresolved', verdict.unresolved),
    ...list(page, 'Missing, and not guessed', verdict.missing),
    ...tellNext(page, verdict.next),
    ...closing(page, build),
    ...caution(page),
  ];
}

/** Untried set-ups, apart from everything that was measured. */
function tellPredicted(page: Page, build: Build, predicted: PredictedVerdict | null): string[] {
  if (predicted === null || predicted.words.length === 0) return [];
  const best = predicted.choices[0]?.setup;
  return [
    ...heading(page, 'Untried set-ups'),
    ...wrap(page, plainText(predicted.words), '  '),
    ...layMarginsSection(
      page,
      build,
      predicted.margins.filter(({ setup, level }) => setup === best && level !== 'unknown'),
      'Predicted margins',
    ),
  ];
}

function layMarginsSection(
  page: Page,
  build: Build,
  margins: Verdict['margins'],
  words = 'Margins',
): string[] {
  const setup = margins[0]?.setup;
  const ambient_C = build.designAmbient?.ambient_C;
  if (setup === undefined || ambient_C === undefined) return [];
  const title = `${words} with ${namesOf(build).setup(setup)} at the design ambient of ${formatNumber(ambient_C, Number.isInteger(ambient_C) ? 0 : 1)} °C`;
  return [
    ...heading(page, title),
    ...layMargins(page, build, margins),
    ...wrap(
      page,
      'At least: with 95 % coverage. Up to: the highest ambient at which the limit holds with that coverage.',
      '  ',
    ),
  ];
}

function tellNext(page: Page, next: Verdict['next']): string[] {
  if (next.length === 0) return [];
  return [
    ...heading(page, 'Next'),
    ...next.flatMap(({ title, detail, takes_h }, index) => [
      ...wrap(page, paint(page, 'strong', title) + takes(takes_h), `  ${index + 1} `),
      ...wrap(page, detail, '    '),
    ]),
  ];
}

function takes(takes_h: number | null): string {
  return takes_h === null ? '' : `, ${formatNumber(takes_h, 1)} h at the bench`;
}
