import { factorWords, type HeatAssessment, tellModelError, useWords } from '@soakbench/core/heat';
import { formatDuration, formatKelvin, formatNumber, formatPercent } from '@soakbench/core/measure';
import type { Build } from '@soakbench/core/records';
import { heading, list, type Page, wrap } from '../parts/page.js';
import { layTable } from '../parts/table.js';
import { caution, closing, namesOf } from '../parts/words.js';
import { estimateText } from './tell-predictions.js';

/** Below this the runs have said next to nothing of an unknown. @assumed */
const learnedSomething = 0.1;

export function answerCalibration({ fitted, identification }: HeatAssessment): string {
  const off_K = Math.sqrt(
    fitted.reduce((sum, { measured_K, shown_K }) => sum + (shown_K - measured_K) ** 2, 0) / fitted.length,
  );
  return `The model follows ${fitted.length} measured rises to ${formatKelvin(off_K, off_K / 10)} (root mean square). They settle about ${formatNumber(identification.settledCombinations)} combinations of its ${identification.learned.length} unknowns; the others stay as far open as they were assumed to be.`;
}

export function tellCalibration(page: Page, build: Build, heat: HeatAssessment): string[] {
  const { setup: nameOf, probe } = namesOf(build);
  const { learned, entangled } = heat.identification;
  const byLearned = [...learned].sort((one, other) => other.learned - one.learned);
  const taught = byLearned.filter((each) => each.learned >= learnedSomething);
  const name = (id: string) => learned.find(({ unknown }) => unknown.id === id)?.unknown.name ?? id;
  return [
    ...wrap(page, answerCalibration(heat)),
    '',
    ...wrap(page, tellModelError(heat)),
    ...heading(page, 'Measured and modelled rises, K'),
    ...layTable(
      page,
      [
        { title: 'set-up' },
        { title: 'probe' },
        { title: 'measured', right: true },
        { title: 'modelled', right: true },
        { title: 'off by', right: true },
      ],
      heat.fitted.map((each) => [
        useWords(nameOf(each.setup), each.charging, each.phase),
        probe(each.probe),
        estimateText({ value: each.measured_K, u: each.measured_u_K }),
        formatNumber(each.shown_K),
        formatNumber(each.shown_K - each.measured_K, 2),
      ]),
    ),
    ...tellLeftOut(page, build, heat),
    ...heading(page, 'What the runs have taught'),
    ...layTable(
      page,
      [
        { title: 'unknown' },
        { title: 'factor', right: true },
        { title: 'assumed', right: true },
        { title: 'learned', right: true },
      ],
      taught.map(({ unknown, factor, spread, learned: share }) => [
        unknown.name,
        factorWords(unknown, factor, spread),
        unknown.adds === true
          ? `± ${formatNumber(unknown.spread, 2)} ${unknown.nominal?.unit ?? ''}`
          : `± ${formatPercent(unknown.spread)}`,
        formatPercent(share),
      ]),
    ),
    ...(taught.length < learned.length
      ? wrap(
          page,
          `Of ${learned.length - taught.length} more unknowns the runs say next to nothing; predictions carry their whole assumed spread.`,
          '  ',
        )
      : []),
    ...list(
      page,
      'Cannot be told apart by these runs',
      entangled.map(
        ({ one, other, correlation }) =>
          `${name(one)}, and ${name(other)} (correlation ${formatNumber(correlation, 2)})`,
      ),
    ),
    ...tellPaces(page, build, heat),
    ...list(
      page,
      'What would help most',
      heat.advice.map(
        ({ words, left }) => `${words}: leaves ${formatPercent(left)} of the doubt of a prediction.`,
      ),
    ),
    ...list(page, 'Taken for granted', heat.notes),
    ...closing(page, build),
    ...caution(page),
  ];
}

function tellLeftOut(page: Page, build: Build, { leaveOneOut }: HeatAssessment): string[] {
  if (leaveOneOut === null) return [];
  const { setup: nameOf, probe } = namesOf(build);
  return [
    ...heading(page, 'Each set-up predicted from the others, K'),
    ...layTable(
      page,
      [
        { title: 'left out' },
        { title: 'probe' },
        { title: 'measured', right: true },
        { title: 'predicted', right: true },
        { title: 'off by', right: true },
      ],
      leaveOneOut.rows.map((row) => [
        useWords(nameOf(row.setup), row.charging, row.phase),
        probe(row.probe),
        estimateText({ value: row.measured_K, u: row.measured_u_K }),
        estimateText({ value: row.predicted_K, u: row.predicted_u_K }),
        formatNumber(row.predicted_K - row.measured_K, 2),
      ]),
    ),
    ...wrap(
      page,
      leaveOneOut.widening > 1
        ? `The model’s own error is widened by ${formatNumber(leaveOneOut.widening, 2)}, so that its intervals cover these.`
        : 'The intervals cover these as they are.',
      '  ',
    ),
  ];
}

function tellPaces(page: Page, build: Build, { paces }: HeatAssessment): string[] {
  if (paces.length === 0) return [];
  return [
    ...heading(page, 'Slowest time constant, which the fit has not seen'),
    ...layTable(
      page,
      [
        { title: 'set-up' },
        { title: 'measured', right: true },
        { title: 'modelled', right: true },
        { title: '' },
      ],
      paces.map(({ setup, measured_s, model_s, differs }) => [
        namesOf(build).setup(setup),
        measured_s === null ? '' : formatDuration(measured_s),
        formatDuration(model_s),
        differs ? { text: '▲ differs', look: 'look' as const } : '',
      ]),
    ),
  ];
}
